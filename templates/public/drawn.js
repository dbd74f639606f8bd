/* The list on the drawing of the boat: what is on it is marked at its place, in its hull colour. */
(function () {
  "use strict";
  const drawing = document.getElementById("drawn");
  const every = (query) => Array.from(document.querySelectorAll(query));

  // How many of each option the boat has: chosen, in a package, or as standard still on it.
  function aboard(choice, items) {
    const counts = new Map(choice.standardLeft().map((item) => [item.id, 1]));
    items.forEach((item) => {
      const chosen = choice.count(item.id);
      (item.holds || [item.id]).forEach((id) => {
        if (chosen) { counts.set(id, (counts.get(id) || 0) + chosen); }
      });
    });
    return counts;
  }

  // The colour that an option of the boat gives the hull; its own where none does.
  function hull(counts) {
    const words = drawing.getAttribute("data-colours").split(" ");
    let found = drawing.getAttribute("data-hull");
    for (let at = 0; at + 1 < words.length; at += 2) {
      if (counts.get(words[at])) { found = words[at + 1]; }
    }
    return found;
  }

  function show(choice, items) {
    if (!drawing) { return; }
    const counts = aboard(choice, items);
    const has = (wanted) => {
      const parts = wanted.split("*");
      return (counts.get(parts[0]) || 0) >= Number(parts[1] || 1);
    };
    every("[data-mark]").forEach((mark) => {
      const there = has(mark.getAttribute("data-mark"));
      if (there) { mark.removeAttribute("display"); } else { mark.setAttribute("display", "none"); }
    });
    every("[data-marked]").forEach((words) => {
      words.hidden = !has(words.getAttribute("data-marked"));
    });
    const colour = hull(counts);
    drawing.querySelectorAll(".tops").forEach((path) => {
      if (colour) { path.setAttribute("fill", colour); } else { path.removeAttribute("fill"); }
    });
  }

  window.drawn = { show };
}());
