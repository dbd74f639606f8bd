/* Finding a place of the guide by its words; the sections of all pages stand in found.js. */
(function () {
  "use strict";
  const most = 12;
  const around = 70;
  const byId = (id) => document.getElementById(id);
  const plain = (text) => text.normalize("NFKD").replace(/[\u0300-\u036f]/g, "").toLowerCase();
  const sections = window.guideSections.map((section) => ({
    section,
    title: plain(section.title),
    words: plain(section.page + " " + section.title + " " + section.words)
  }));

  // Every word must stand there; titles count most, then how often the words do.
  function weight(found, asked) {
    if (!asked.every((word) => found.words.indexOf(word) >= 0)) {
      return 0;
    }
    const often = (word) => Math.min(found.words.split(word).length - 1, 5);
    const titled = (word) => (found.title === word ? 40 : found.title.indexOf(word) >= 0 ? 20 : 0);
    return asked.reduce((sum, word) => sum + often(word) + titled(word), 0);
  }

  function excerpt(text, asked) {
    const at = Math.max(plain(text).indexOf(asked[0]), 0);
    const start = Math.max(at - around, 0);
    const shown = text.slice(start, at + around);
    return (start ? "…" : "") + shown + (at + around < text.length ? "…" : "");
  }

  function place(section, asked) {
    const item = document.createElement("li");
    const link = document.createElement("a");
    link.href = section.to;
    link.textContent = section.title === section.page
      ? section.title : section.page + ": " + section.title;
    const words = document.createElement("span");
    words.textContent = excerpt(section.words, asked);
    item.append(link, words);
    return item;
  }

  function find() {
    const asked = plain(byId("sought").value).split(/\s+/).filter(Boolean);
    const found = sections
      .map((each) => ({ each, counts: asked.length ? weight(each, asked) : 0 }))
      .filter((each) => each.counts)
      .sort((one, other) => other.counts - one.counts);
    byId("places").textContent = "";
    found.slice(0, most).forEach((each) => {
      byId("places").append(place(each.each.section, asked));
    });
    byId("found").hidden = !asked.length;
    byId("count").textContent = !found.length ? "Nothing has all of these words."
      : found.length > most ? "The first " + most + " of " + found.length + " places"
        : found.length === 1 ? "1 place" : found.length + " places";
  }

  byId("search").hidden = false;
  byId("search").addEventListener("submit", (event) => event.preventDefault());
  byId("sought").addEventListener("input", find);
}());
