/* A list that was brought along in the address: from another boat, another market, or a stranger.
   What of it has no place on this boat is told with the reason, by names. */
window.carried = function (list, choice, say, reasons) {
  "use strict";
  const words = list.words;
  const boats = window.otherBoats || { names: [], packages: [], models: [] };
  const names = new Map(boats.names.map((each) => [each.id, each.name]));
  const packages = new Map(boats.packages.map((each) => [each.id, each.holds]));
  const standard = new Map(list.standard.map((item) => [item.id, item.name]));
  const joined = (found) => found.filter((name, at) => found.indexOf(name) === at).join("; ");

  function sorted(text) {
    const found = { taken: [], standard: [], missing: [], opened: [], fewer: [], odd: [], strange: 0 };

    function place(id, count) {
      const item = choice.item(id);
      const holds = packages.get(id) || [];
      if (item && !(count > 0)) {
        found.odd.push(item.name);
      } else if (item) {
        const most = Math.min(count, item.most);
        if (most < count) { found.fewer.push(most + " × " + item.name); }
        found.taken.push(id + "*" + most);
      } else if (standard.has(id)) {
        found.standard.push(standard.get(id));
      } else if (holds.some((each) => choice.item(each) || standard.has(each))) {
        found.opened.push(names.get(id));
        holds.forEach((each) => place(each, 1));
      } else if (names.has(id)) {
        found.missing.push(names.get(id));
      } else {
        found.strange += 1;
      }
    }

    text.split(",").filter(Boolean).forEach((part) => {
      const pieces = part.split("*");
      const sound = pieces.length === 1 || (pieces.length === 2 && /^\d+$/.test(pieces[1]));
      place(pieces[0], pieces.length === 1 ? 1 : sound ? Number(pieces[1]) : 0);
    });
    return found;
  }

  // Why the rules left something out: what they say of it beside what was taken over.
  function broken(left) {
    const answer = choice.ask(left.id, left.count);
    const why = answer.done ? [] : [].concat(...answer.rules.map((rule) => reasons(rule, left.id)));
    return say(words.here_broken, {
      name: left.name, why: why.filter((each, at) => why.indexOf(each) === at).join(" ")
    });
  }

  // What another boat has as standard and this one sells, and the list has not.
  function extras(from) {
    const model = boats.models.find((each) => each.id === from && from !== list.model);
    const found = model ? model.standard.filter((id) => choice.item(id) && !choice.isOn(id)) : [];
    return found.length ? [say(words.here_extra, {
      model: model.name, names: joined(found.map((id) => choice.item(id).name))
    })] : [];
  }

  // Takes a list over as far as it goes; gives sentences on what is not as it was.
  function arrive(text, from) {
    const found = sorted(text);
    const left = choice.read(found.taken.join(","));
    const told = [
      ["here_missing", found.missing], ["here_standard", found.standard],
      ["here_opened", found.opened], ["here_fewer", found.fewer], ["left_out", found.odd]
    ].filter((each) => each[1].length)
      .map((each) => say(words[each[0]], { names: joined(each[1]) }));
    const strange = found.strange === 1 ? words.here_strange : words.here_stranger;
    return told.concat(
      left.map(broken), found.strange ? say(strange, { count: found.strange }) : [], extras(from)
    );
  }

  // How much of the list another boat offers or has as standard.
  function fitting(model) {
    const chosen = choice.chosen();
    const has = (id) => model.options.concat(model.standard).indexOf(id) >= 0;
    const there = chosen.filter((item) => has(item.id) || (item.holds || []).some(has));
    return chosen.length ? say(words.some_there, { count: there.length, all: chosen.length }) : "";
  }

  return { arrive, fitting, boats, aside: "" };
};
