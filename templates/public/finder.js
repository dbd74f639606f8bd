/* Finding options on a model's page: by words, by group, or only what can still be added. */
window.finder = function (choice, words, say) {
  "use strict";
  const texts = new Map();
  const byId = (id) => document.getElementById(id);
  const every = (query) => Array.from(document.querySelectorAll(query));

  function plain(text) {
    return text.normalize("NFKD").replace(/[\u0300-\u036f]/g, "").toLowerCase()
      .replace(/[ßæœø]/g, (letter) => ({ "ß": "ss", "æ": "ae", "œ": "oe", "ø": "o" }[letter]));
  }

  function fits(article, asked, group) {
    const id = article.getAttribute("data-item");
    return asked.every((word) => texts.get(id).indexOf(word) >= 0) &&
      (!group || article.getAttribute("data-group") === group) &&
      (!byId("still-open").checked || choice.count(id) > 0 || choice.couldBeAdded(id));
  }

  function filter() {
    const asked = plain(byId("find").value).split(/\s+/).filter(Boolean);
    const group = byId("group").value;
    const articles = every("[data-item]");
    let shown = 0;
    articles.forEach((article) => {
      const fit = fits(article, asked, group);
      shown += fit ? 1 : 0;
      article.closest("li").hidden = !fit;
      byId("row-" + article.getAttribute("data-item")).hidden = !fit;
    });
    every("#prices tbody").forEach((body) => {
      body.hidden = !body.querySelector("tr[id]:not([hidden])");
    });
    every("[data-filtered]").forEach((section) => {
      section.hidden = !section.querySelector("li:not([hidden]) [data-item]");
    });
    byId("found").textContent = shown
      ? say(words.shown, { count: shown, all: articles.length }) : words.nothing;
  }

  // What is sought, as the address has it.
  function sought() {
    return [
      ["find", byId("find").value.trim()], ["group", byId("group").value],
      ["open", byId("still-open").checked ? "1" : ""]
    ];
  }

  // Takes over what an address says; a group that the page lacks is none.
  function seek(state) {
    byId("find").value = state.get("find") || "";
    byId("group").value = state.get("group") || "";
    if (byId("group").selectedIndex < 0) { byId("group").value = ""; }
    byId("still-open").checked = state.get("open") === "1";
  }

  // What the filters hide can still be jumped to.
  function reveal(target) {
    seek(new Map());
    filter();
    target.scrollIntoView();
  }

  every("[data-item]").forEach((article) => {
    texts.set(article.getAttribute("data-item"), plain(article.textContent));
  });
  return { filter, reveal, seek, sought };
};
