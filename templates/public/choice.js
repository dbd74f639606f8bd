/* A list of options on one boat that always keeps the rules; no page is needed for it. The rules
   are those of the program itself: `list.check` was written from them. */
(function () {
  "use strict";

  function choice(list) {
    const items = new Map(list.items.map((item) => [item.id, item]));
    let chosen = new Map();

    function checked(quantities) {
      return list.check.apply(null, list.items.map((item) => quantities.get(item.id) || 0));
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
      [option].concat(holders(option).map((item) => item.id)).forEach((id) => {
        if (id !== wanted) { quantities.delete(id); }
      });
    }

    function within(id) { return [id].concat((items.get(id) || {}).holds || []); }

    // What is asked for, what that holds, and all that these need.
    function withNeeds(id) {
      const found = new Set(within(id));
      found.forEach((option) => {
        list.rules.forEach((rule) => {
          if (rule.kind === "needs" && rule.option === option) { found.add(rule.others[0]); }
        });
      });
      return found;
    }

    // One step towards a list that keeps a rule. What must be there is added where it is missing;
    // whatever else stands against the rule goes.
    function mend(rule, quantities, id, must) {
      if (rule.kind === "needs" && must.has(rule.option)) {
        const needed = rule.others[0];
        if (items.has(needed)) { put(quantities, needed, 1); return; }
        list.items.filter((item) => (item.instead_of || []).indexOf(needed) >= 0)
          .forEach((item) => { leaveOff(quantities, item.id, id); });
        return;
      }
      [rule.option].concat(rule.kind === "needs" ? [] : rule.others).forEach((option) => {
        if (!must.has(option)) { leaveOff(quantities, option, id); }
      });
      if (rule.kind === "most") { leaveOff(quantities, rule.option, id); }
    }

    // The nearest list that has what was asked for and keeps all rules; null if none was found.
    function mended(id, count) {
      const quantities = new Map(chosen);
      const must = count ? withNeeds(id) : new Set();
      put(quantities, id, count);
      for (let round = 0; round <= list.rules.length; round += 1) {
        const rules = broken(quantities);
        if (!rules.length) { return quantities; }
        // What is needed comes first: it may take the place of something else that is in the way.
        const first = rules.filter((rule) => rule.kind === "needs").concat(rules)[0];
        mend(first, quantities, id, must);
        if ((quantities.get(id) || 0) !== count) { return null; }
      }
      return null;
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
        rules,
        instead,
        difference: instead && difference(chosen, instead)
      };
    }

    function take(quantities) { chosen = new Map(quantities); }

    // What is charged for options in another hull colour: how often each meets it on the boat,
    // chosen by itself or in a package; what one package holds of both is in its price.
    function surcharges() {
      const amount = (item) => chosen.get(item.id) || 0;
      const withIt = (id) => list.items.filter((item) => within(item.id).indexOf(id) >= 0);
      return list.surcharges.map((each) => {
        let count = 0;
        withIt(each.option).forEach((item) => withIt(each.colour).forEach((colour) => {
          if (item !== colour) { count += amount(item) * amount(colour); }
        }));
        return { name: each.name, price: each.price, count };
      }).filter((each) => each.count > 0);
    }

    function totals() {
      const digits = list.money.digits;
      let price = window.amounts.units(list.price, digits);
      let mass = window.amounts.units(list.mass, 6);
      if (list.delivery !== null) { price += window.amounts.units(list.delivery, digits); }
      chosen.forEach((count, id) => {
        price += count * window.amounts.units(items.get(id).price, digits);
        mass += count * window.amounts.units(items.get(id).mass, 6);
      });
      surcharges().forEach((each) => {
        price += each.count * window.amounts.units(each.price, digits);
      });
      return { price, mass };
    }

    // The list as it stands in an address: side_door,seat*2.
    function written() {
      return list.items.filter((item) => chosen.has(item.id)).map((item) => {
        const count = chosen.get(item.id);
        return count > 1 ? item.id + "*" + count : item.id;
      }).join(",");
    }

    function parsed(each) {
      const parts = each.split("*");
      const item = items.get(parts[0]);
      const count = parts.length === 1 ? 1 : Number(parts[1]);
      const readable = parts.length === 1 || (parts.length === 2 && /^\d+$/.test(parts[1]));
      const sound = Boolean(item) && readable && count > 0 && count <= item.most;
      return { id: parts[0], count, name: item ? item.name : null, sound };
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
      holders,
      standardLeft: () => list.standard.filter((item) => checked(chosen)["s_" + item.id] > 0),
      couldBeAdded (id) {
        const quantities = new Map(chosen);
        put(quantities, id, (chosen.get(id) || 0) + 1);
        return (chosen.get(id) || 0) < items.get(id).most && !broken(quantities).length;
      },
      ask,
      take,
      surcharges,
      totals,
      written,
      read
    };
  }

  window.choice = choice;
}());
