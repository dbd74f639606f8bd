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

    // Whether an option would be on a boat with such a list: chosen, in a package, or standard.
    function aboard(option, quantities) {
      return isOn(option, quantities) || checked(quantities)["s_" + option] > 0;
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
      if (rule.kind === "most") { makeRoom(quantities, rule.option, id); }
    }

    // Of what a package holds, one of those chosen singly goes into it; other packages go.
    function makeRoom(quantities, option, id) {
      const alone = quantities.get(option) || 0;
      if (id !== option && within(id).indexOf(option) >= 0 && alone) {
        put(quantities, option, alone - 1);
      } else {
        leaveOff(quantities, option, id);
      }
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

    // What comes and goes besides what is asked for; what goes into a package stays on the boat.
    function difference(from, to, asked) {
      const ids = list.items.map((item) => item.id).filter((id) => id !== asked);
      const less = ids.filter((id) => (from.get(id) || 0) > (to.get(id) || 0));
      const filled = to.get(asked) ? within(asked) : [];
      return {
        added: ids.filter((id) => !from.get(id) && to.get(id)),
        removed: less.filter((id) => filled.indexOf(id) < 0),
        into: less.filter((id) => filled.indexOf(id) >= 0)
      };
    }

    // A list with a package, and what is on the list singly that goes into it: one of each.
    function packed(item) {
      const quantities = new Map(chosen);
      const into = item.holds.filter((id) => quantities.get(id));
      into.forEach((id) => put(quantities, id, quantities.get(id) - 1));
      put(quantities, item.id, 1);
      return { id: item.id, into, quantities };
    }

    // The packages that would cost less than what is chosen, the largest saving first: the same as
    // `quoter.pricing.packaged` finds.
    function cheaper() {
      const now = totals(chosen).price;
      return list.items.filter((item) => item.holds && !chosen.get(item.id)).map(packed)
        .filter((offer) => offer.into.length && !broken(offer.quantities).length)
        .map((offer) => Object.assign(offer, {
          besides: items.get(offer.id).holds.filter((id) => offer.into.indexOf(id) < 0),
          saving: now - totals(offer.quantities).price
        }))
        .filter((offer) => offer.saving > 0)
        .sort((one, other) => other.saving - one.saving);
    }

    // Put so many of an item on the list, or none. What a package holds goes into it. What a rule
    // forbids changes nothing: the answer then says which rules, and what else would have to change.
    function ask(id, count, asWritten) {
      const item = items.get(id);
      const wanted = Math.max(0, Math.min(count, item.most));
      const quantities = new Map(chosen);
      put(quantities, id, wanted);
      const rules = broken(quantities);
      if (!rules.length) {
        chosen = quantities;
        return { done: true, into: [] };
      }
      const all = item.holds && wanted && !asWritten ? packed(item) : null;
      if (all && all.into.length && !broken(all.quantities).length) {
        chosen = all.quantities;
        return { done: true, into: all.into };
      }
      const instead = mended(id, wanted);
      return {
        done: false,
        rules: rules.map((rule) => Object.assign({}, rule, {
          sides: rule.others.filter((option) => aboard(option, quantities))
        })),
        instead,
        difference: instead && difference(chosen, instead, id)
      };
    }

    function take(quantities) { chosen = new Map(quantities); }

    // What is charged for options in another hull colour: how often each meets it on the boat,
    // chosen by itself or in a package; what one package holds of both is in its price.
    function surcharges(quantities) {
      const amount = (item) => quantities.get(item.id) || 0;
      const withIt = (id) => list.items.filter((item) => within(item.id).indexOf(id) >= 0);
      return list.surcharges.map((each) => {
        let count = 0;
        withIt(each.option).forEach((item) => withIt(each.colour).forEach((colour) => {
          if (item !== colour) { count += amount(item) * amount(colour); }
        }));
        return { name: each.name, price: each.price, count };
      }).filter((each) => each.count > 0);
    }

    function totals(quantities) {
      const digits = list.money.digits;
      let price = window.amounts.units(list.price, digits);
      let mass = window.amounts.units(list.mass, 6);
      if (list.delivery !== null) { price += window.amounts.units(list.delivery, digits); }
      quantities.forEach((count, id) => {
        price += count * window.amounts.units(items.get(id).price, digits);
        mass += count * window.amounts.units(items.get(id).mass, 6);
      });
      surcharges(quantities).forEach((each) => {
        price += each.count * window.amounts.units(each.price, digits);
      });
      return { price, mass };
    }

    // What takes longest of the boat and of what is chosen, packages being their options; and what
    // tells its time in words alone.
    function leads() {
      const ids = [].concat(...list.items.filter((item) => chosen.has(item.id))
        .map((item) => item.holds || [item.id]));
      const all = [list].concat(ids.filter((id, at) => ids.indexOf(id) === at).map(
        (id) => items.get(id)
      ));
      return {
        longest: all.filter((each) => each.weeks).reduce(
          (one, other) => (one && one.weeks >= other.weeks ? one : other), null
        ),
        told: all.filter((each) => each.lead && !each.weeks)
      };
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

    // Takes over a list from an address; gives what could not be, and the rules against it if there
    // are any.
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
        waiting = waiting.filter((each) => !each.sound || !ask(each.id, each.count, true).done);
      }
      waiting.filter((each) => each.sound).forEach((each) => {
        each.rules = ask(each.id, each.count, true).rules;
      });
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
      cheaper,
      leads,
      surcharges: () => surcharges(chosen),
      totals: (quantities) => totals(quantities || chosen),
      kept: () => new Map(chosen),
      written,
      read
    };
  }

  window.choice = choice;
}());
