/* A list of options on one boat that always keeps the rules; no page is needed for it. The rules
   are those of the program itself: `list.check` was written from them. */
(function () {
  "use strict";

  function choice(list) {
    const items = new Map(list.items.map(function (item) { return [item.id, item]; }));
    let chosen = new Map();

    function checked(quantities) {
      return list.check.apply(null, list.items.map(function (item) {
        return quantities.get(item.id) || 0;
      }));
    }

    function letters(number) { return String(number).replace(/\d/g, (d) => "abcdefghij"[d]); }

    function broken(quantities) {
      const found = checked(quantities);
      return list.rules.filter((rule, number) => found["r_" + letters(number)] === 0);
    }

    function holders(option) {
      return list.items.filter((item) => (item.holds || []).indexOf(option) >= 0);
    }

    function isOn(option, quantities) {
      return (quantities.get(option) || 0) > 0 ||
        holders(option).some((item) => (quantities.get(item.id) || 0) > 0);
    }

    function put(quantities, id, count) {
      if (count > 0) { quantities.set(id, count); } else { quantities.delete(id); }
    }

    function leaveOff(quantities, option, wanted) {
      [option].concat(holders(option).map((item) => item.id)).forEach(function (id) {
        if (id !== wanted) { quantities.delete(id); }
      });
    }

    function within(id) { return [id].concat((items.get(id) || {}).holds || []); }

    // One step towards a list that keeps a rule, without touching what the reader asked for.
    function mend(rule, quantities, id, count) {
      const asked = within(id);
      if (rule.kind === "needs") {
        const needed = rule.others[0];
        if (count === 0 && asked.indexOf(needed) >= 0) {
          leaveOff(quantities, rule.option, id);
        } else if (items.has(needed)) {
          put(quantities, needed, 1);
        } else {
          list.items.filter((item) => (item.instead_of || []).indexOf(needed) >= 0)
            .forEach((item) => { if (item.id !== id) { quantities.delete(item.id); } });
        }
        return;
      }
      if (count === 0) { return; }
      [rule.option].concat(rule.others).forEach(function (option) {
        if (asked.indexOf(option) < 0) { leaveOff(quantities, option, id); }
      });
      if (rule.kind === "most" && asked.indexOf(rule.option) >= 0) {
        leaveOff(quantities, rule.option, id);
      }
    }

    // The nearest list that has what was asked for and keeps all rules; null if none was found.
    function mended(id, count) {
      const quantities = new Map(chosen);
      put(quantities, id, count);
      for (let round = 0; round < list.items.length; round += 1) {
        const rules = broken(quantities);
        if (!rules.length) { return quantities; }
        mend(rules[0], quantities, id, count);
        if ((quantities.get(id) || 0) !== count) { return null; }
      }
      return broken(quantities).length ? null : quantities;
    }

    function difference(from, to) {
      const ids = list.items.map((item) => item.id);
      return {
        added: ids.filter((id) => !from.get(id) && to.get(id)),
        removed: ids.filter((id) => from.get(id) && !to.get(id))
      };
    }

    // Put so many of an item on the list, or none. What a rule forbids changes nothing: the answer
    // then says which rules, and what else would have to change with it.
    function ask(id, count) {
      const item = items.get(id);
      const wanted = Math.max(0, Math.min(count, item.most));
      const quantities = new Map(chosen);
      put(quantities, id, wanted);
      const rules = broken(quantities);
      if (!rules.length) {
        chosen = quantities;
        return { done: true };
      }
      const instead = mended(id, wanted);
      return {
        done: false,
        rules: rules,
        held: wanted ? holders(id).filter((holder) => chosen.get(holder.id)) : [],
        holding: wanted ? within(id).slice(1).filter((held) => chosen.get(held)).map(
          (held) => items.get(held)
        ) : [],
        instead: instead,
        difference: instead && difference(chosen, instead)
      };
    }

    function take(quantities) { chosen = new Map(quantities); }

    function totals() {
      const digits = list.money.digits;
      let price = window.amounts.units(list.price, digits);
      let mass = window.amounts.units(list.mass, 6);
      if (list.delivery !== null) { price += window.amounts.units(list.delivery, digits); }
      chosen.forEach(function (count, id) {
        price += count * window.amounts.units(items.get(id).price, digits);
        mass += count * window.amounts.units(items.get(id).mass, 6);
      });
      return { price: price, mass: mass };
    }

    // The list as it stands in an address: side_door,seat*2.
    function written() {
      return list.items.filter((item) => chosen.has(item.id)).map(function (item) {
        const count = chosen.get(item.id);
        return count > 1 ? item.id + "*" + count : item.id;
      }).join(",");
    }

    function parsed(each) {
      const parts = each.split("*");
      const count = parts.length > 1 ? Number(parts[1]) : 1;
      const item = items.get(parts[0]);
      const sound = item && Number.isInteger(count) && count > 0 && count <= item.most;
      return { id: parts[0], count: count, name: item ? item.name : null, sound: Boolean(sound) };
    }

    // Takes over a list from an address; gives what could not be, by the rules or by its name.
    function read(text) {
      const all = text.split(",").filter(Boolean).map(parsed);
      const sound = all.filter((each) => each.sound);
      const whole = new Map(sound.map((each) => [each.id, each.count]));
      if (!broken(whole).length) {
        chosen = whole;
        return all.filter((each) => !each.sound);
      }
      // One by one, and again, since what an item needs may stand behind it.
      chosen = new Map();
      let waiting = all;
      let before = -1;
      while (waiting.length !== before) {
        before = waiting.length;
        waiting = waiting.filter((each) => !each.sound || !ask(each.id, each.count).done);
      }
      return waiting;
    }

    return {
      item: (id) => items.get(id),
      count: (id) => chosen.get(id) || 0,
      chosen: () => list.items.filter((item) => chosen.has(item.id)),
      isOn: (option) => isOn(option, chosen),
      standardLeft: () => list.standard.filter((item) => checked(chosen)["s_" + item.id] > 0),
      couldBeAdded: function (id) {
        const quantities = new Map(chosen);
        put(quantities, id, (chosen.get(id) || 0) + 1);
        return (chosen.get(id) || 0) < items.get(id).most && !broken(quantities).length;
      },
      ask: ask,
      take: take,
      totals: totals,
      written: written,
      read: read
    };
  }

  window.choice = choice;
}());
