/* Models side by side: the reader picks models and rows. What is picked stands behind the # of the
   address as #models=one,other&rows=differing, so that it can be sent. Works from a file. */
(function () {
  "use strict";
  const byId = (id) => document.getElementById(id);
  const list = (found) => Array.from(found);
  const choice = byId("choice");
  const table = byId("models");
  const region = table.parentNode;
  const boxes = list(choice.querySelectorAll("input[name=models]"));
  const differing = byId("differing");
  const cells = list(table.querySelectorAll("[data-model]"));
  const groups = list(table.tBodies).map((body) => ({
    body,
    headings: list(body.querySelectorAll("th[scope=rowgroup]")),
    rows: list(body.rows).filter((row) => row.querySelector("td"))
  }));

  function picked() {
    return boxes.filter((box) => box.checked).map((box) => box.value);
  }

  // Words with values in the places of names in braces.
  function filled(words, values) {
    return words.replace(/\{(\w+)\}/g, (all, name) => values[name]);
  }

  function decoded(text) {
    try { return decodeURIComponent(text); } catch { return text; }
  }

  // What the address says by name; null where it leads to a place on the page.
  function said() {
    const found = {};
    location.hash.slice(1).split("&").forEach((part) => {
      const at = part.indexOf("=");
      if (at > 0) { found[part.slice(0, at)] = decoded(part.slice(at + 1)); }
    });
    const known = "models" in found || "rows" in found;
    return known || location.hash.length < 2 ? found : null;
  }

  function written() {
    const models = picked();
    const parts = [];
    if (models.length && models.length < boxes.length) {
      parts.push("models=" + models.map(encodeURIComponent).join(","));
    }
    if (differing.checked) { parts.push("rows=differing"); }
    return parts.length ? "#" + parts.join("&") : "";
  }

  // The address, and those of the same page in other languages, say what is shown.
  function keep() {
    const state = written();
    history.replaceState(null, "", location.href.split("#")[0] + state);
    list(document.querySelectorAll(".languages a")).forEach((link) => { link.hash = state; });
  }

  function sameIn(row, models) {
    const words = list(row.cells)
      .filter((cell) => models.indexOf(cell.getAttribute("data-model")) >= 0)
      .map((cell) => cell.textContent.replace(/\s+/g, " ").trim());
    return words.length > 1 && words.every((each) => each === words[0]);
  }

  // The names stay in sight below the top of the window where the table need not scroll sideways.
  function measure() {
    region.classList.toggle("fits", table.offsetWidth <= region.clientWidth);
  }

  function show(unknown) {
    const models = picked();
    let rows = 0;
    let every = 0;
    cells.forEach((cell) => {
      cell.hidden = models.indexOf(cell.getAttribute("data-model")) < 0;
    });
    groups.forEach((group) => {
      const left = group.rows.filter((row) => {
        row.hidden = differing.checked && sameIn(row, models);
        return !row.hidden;
      }).length;
      group.body.hidden = left === 0;
      group.headings.forEach((heading) => { heading.colSpan = models.length + 1; });
      rows += left;
      every += group.rows.length;
    });
    region.hidden = models.length === 0;
    const words = [];
    if (unknown && unknown.length) {
      words.push(filled(choice.dataset.unknown, { names: unknown.join(", ") }));
    }
    words.push(models.length === 0 ? choice.dataset.none : filled(choice.dataset.counted, {
      models: models.length, all: boxes.length, rows, every
    }));
    byId("shown").textContent = words.join(" ");
    measure();
  }

  // Takes over what the address says; what it does not name is shown whole.
  function take() {
    const state = said();
    if (state === null) {
      show();
      if (written()) { keep(); }
      return;
    }
    const names = (state.models || "").split(",").filter(Boolean);
    const known = boxes.map((box) => box.value);
    const wanted = names.filter((name) => known.indexOf(name) >= 0);
    boxes.forEach((box) => {
      box.checked = wanted.length === 0 || wanted.indexOf(box.value) >= 0;
    });
    differing.checked = state.rows === "differing";
    show(names.filter((name) => known.indexOf(name) < 0));
    keep();
  }

  choice.addEventListener("change", () => { show(); keep(); });
  byId("everything").addEventListener("click", () => {
    boxes.forEach((box) => { box.checked = true; });
    differing.checked = false;
    show();
    keep();
  });
  window.addEventListener("hashchange", take);
  new ResizeObserver(measure).observe(table);
  new ResizeObserver(measure).observe(region);
  choice.hidden = false;
  take();
}());
