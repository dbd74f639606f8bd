/* A list that was brought along in the address: from another boat, another market, or a stranger.
   What of it has no place on this boat is told with the reason, by names. */
window.carried = function (list, choice, say, refusals) {
  "use strict";
  const words = list.words;
  const every = window.everyBoat || { boats: [], options: [] };
  const names = new Map(every.options.map((each) => [each.id, each.name]));
  const packages = new Map(every.options.map((each) => [each.id, each.holds || []]));
  const on = (boat, standard) => every.options.filter((option) => option.on.some((offer) =>
    offer.boat === boat.id && (offer.price === null) === standard)).map((option) => option.id);
  const models = every.boats.map((boat) => ({
    id: boat.id, name: boat.name, options: on(boat, false), standard: on(boat, true)
  }));
  const standard = new Map(list.standard.map((item) => [item.id, item.name]));
  const joined = (found) => found.filter((name, at) => found.indexOf(name) === at).join(words.between);

  // What of an address this boat can have, and what is said of the rest.
  function sorted(text) {
    const found = { taken: [], left: [], notes: [], strange: 0 };

    function missing(id) {
      const there = models.filter((each) => each.standard.indexOf(id) >= 0);
      return say(there.length ? words.standard_there : words.not_here, {
        name: names.get(id), boats: joined(there.map((each) => each.name))
      });
    }

    function place(id, count) {
      const item = choice.item(id);
      const holds = packages.get(id) || [];
      if (item) {
        const most = Math.min(count, item.most);
        if (most > 0) { found.taken.push(id + "*" + most); }
        if (most < count || !most) {
          found.left.push(say(words.too_many, { name: item.name, most: item.most }));
        }
      } else if (standard.has(id)) {
        found.left.push(say(words.standard_here, { name: standard.get(id) }));
      } else if (holds.some((each) => choice.item(each) || standard.has(each))) {
        found.notes.push(say(words.here_opened, { names: names.get(id) }));
        holds.forEach((each) => place(each, 1));
      } else if (names.has(id)) {
        found.left.push(missing(id));
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

  // What another boat has as standard and this one sells, and the list has not.
  function extras(from) {
    const model = models.find((each) => each.id === from && from !== list.model);
    const found = model ? model.standard.filter((id) => choice.item(id) && !choice.isOn(id)) : [];
    return found.length ? [say(words.here_extra, {
      model: model.name, names: joined(found.map((id) => choice.item(id).name))
    })] : [];
  }

  // Takes a list over as far as it goes; says what of it was left, and what else differs.
  function arrive(text, from) {
    const found = sorted(text);
    const broken = choice.read(found.taken.join(",")).map((each) => refusals.all(each.rules, each.id));
    const strangers = found.strange === 1 ? words.unknown_one : words.unknown_more;
    const told = found.left.concat(
      ...broken, found.strange ? say(strangers, { count: found.strange }) : []
    );
    return {
      left: told.filter((each, at) => told.indexOf(each) === at),
      notes: found.notes.concat(extras(from))
    };
  }

  // How much of the list another boat offers or has as standard.
  function fitting(model) {
    const chosen = choice.chosen();
    const has = (id) => model.options.concat(model.standard).indexOf(id) >= 0;
    const there = chosen.filter((item) => has(item.id) || (item.holds || []).some(has));
    return chosen.length ? say(words.some_there, { count: there.length, all: chosen.length }) : "";
  }

  return { arrive, fitting, models, aside: "" };
};
