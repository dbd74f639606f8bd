/* Finding options on a model's page: by words, by group, or only what can still be added. */
window.finder = function (choice, words, say) {
  "use strict";
  const forms = window.forms(document.documentElement.lang);
  const texts = new Map();
  const byId = (id) => document.getElementById(id);
  const every = (query) => Array.from(document.querySelectorAll(query));

  function fits(article, asked, group) {
    const id = article.getAttribute("data-item");
    return forms.fits(texts.get(id), asked) &&
      (!group || article.getAttribute("data-group") === group) &&
      (!byId("still-open").checked || choice.count(id) > 0 || choice.couldBeAdded(id));
  }

  function filter() {
    const asked = forms.asked(byId("find").value);
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
    filterStandard(asked, group);
    byId("found").textContent = shown
      ? say(words.shown, { count: shown, all: articles.length }) : words.nothing;
    byId("find-everywhere").href = everywhere + (asked.length
      ? "#find=" + encodeURIComponent(byId("find").value.trim()) : "#search");
  }

  // Standard equipment can't be added and is in no group, so only words find it.
  function filterStandard(asked, group) {
    const section = byId("standard") && byId("standard").closest("section");
    if (!section) { return; }
    section.querySelectorAll("article").forEach((article) => {
      article.closest("li").hidden = asked.length > 0 && !forms.fits(read(article), asked);
    });
    section.hidden = Boolean(group) || byId("still-open").checked ||
      !section.querySelector("li:not([hidden]) article");
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
    if (target.closest("[hidden]")) {
      seek(new Map());
      filter();
    }
    target.scrollIntoView();
  }

  // The words of an option, without those of its buttons.
  function read(article) {
    const copy = article.cloneNode(true);
    copy.querySelectorAll("button, .sign").forEach((button) => button.remove());
    return forms.read(copy.textContent);
  }

  const everywhere = byId("find-everywhere").getAttribute("href").split("#")[0];
  every("[data-item]").forEach((article) => {
    texts.set(article.getAttribute("data-item"), read(article));
  });
  return { filter, reveal, seek, sought };
};
