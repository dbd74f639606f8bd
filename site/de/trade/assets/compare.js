/* Models side by side: the reader picks models and rows. What is picked stands behind the # of the
   address as #models=one,other&rows=differing, so that it can be sent. Works from a file. */
(function () {
  "use strict";
  var byId = function (id) { return document.getElementById(id); };
  var list = function (found) { return Array.prototype.slice.call(found); };
  var choice = byId("choice"), table = byId("models"), region = table.parentNode;
  var boxes = list(choice.querySelectorAll("input[name=models]"));
  var differing = byId("differing");
  var cells = list(table.querySelectorAll("[data-model]"));
  var groups = list(table.tBodies).map(function (body) {
    return {
      body: body,
      headings: list(body.querySelectorAll("th[scope=rowgroup]")),
      rows: list(body.rows).filter(function (row) { return row.querySelector("td"); })
    };
  });

  function picked() {
    return boxes.filter(function (box) { return box.checked; })
      .map(function (box) { return box.value; });
  }

  // Words with values in the places of names in braces.
  function filled(words, values) {
    return words.replace(/\{(\w+)\}/g, function (all, name) { return values[name]; });
  }

  function decoded(text) {
    try { return decodeURIComponent(text); } catch (fault) { return text; }
  }

  // What the address says by name; null where it leads to a place on the page.
  function said() {
    var found = {};
    location.hash.slice(1).split("&").forEach(function (part) {
      var at = part.indexOf("=");
      if (at > 0) { found[part.slice(0, at)] = decoded(part.slice(at + 1)); }
    });
    var known = "models" in found || "rows" in found;
    return known || location.hash.length < 2 ? found : null;
  }

  function written() {
    var models = picked(), parts = [];
    if (models.length && models.length < boxes.length) {
      parts.push("models=" + models.map(encodeURIComponent).join(","));
    }
    if (differing.checked) { parts.push("rows=differing"); }
    return parts.length ? "#" + parts.join("&") : "";
  }

  // The address, and those of the same page in other languages, say what is shown.
  function keep() {
    var state = written();
    history.replaceState(null, "", location.href.split("#")[0] + state);
    list(document.querySelectorAll(".languages a")).forEach(function (link) { link.hash = state; });
  }

  function sameIn(row, models) {
    var words = list(row.cells).filter(function (cell) {
      return models.indexOf(cell.getAttribute("data-model")) >= 0;
    }).map(function (cell) { return cell.textContent.replace(/\s+/g, " ").trim(); });
    return words.length > 1 && words.every(function (each) { return each === words[0]; });
  }

  // The names stay in sight below the top of the window where the table need not scroll sideways.
  function measure() {
    region.classList.toggle("fits", table.offsetWidth <= region.clientWidth);
  }

  function show(unknown) {
    var models = picked(), rows = 0, every = 0;
    cells.forEach(function (cell) {
      cell.hidden = models.indexOf(cell.getAttribute("data-model")) < 0;
    });
    groups.forEach(function (group) {
      var left = group.rows.filter(function (row) {
        row.hidden = differing.checked && sameIn(row, models);
        return !row.hidden;
      }).length;
      group.body.hidden = left === 0;
      group.headings.forEach(function (heading) { heading.colSpan = models.length + 1; });
      rows += left;
      every += group.rows.length;
    });
    region.hidden = models.length === 0;
    var words = [];
    if (unknown && unknown.length) {
      words.push(filled(choice.dataset.unknown, { names: unknown.join(", ") }));
    }
    words.push(models.length === 0 ? choice.dataset.none : filled(choice.dataset.counted, {
      models: models.length, all: boxes.length, rows: rows, every: every
    }));
    byId("shown").textContent = words.join(" ");
    measure();
  }

  // Takes over what the address says; what it does not name is shown whole.
  function take() {
    var state = said();
    if (state === null) {
      show();
      if (written()) { keep(); }
      return;
    }
    var names = (state.models || "").split(",").filter(Boolean);
    var known = boxes.map(function (box) { return box.value; });
    var wanted = names.filter(function (name) { return known.indexOf(name) >= 0; });
    boxes.forEach(function (box) {
      box.checked = wanted.length === 0 || wanted.indexOf(box.value) >= 0;
    });
    differing.checked = state.rows === "differing";
    show(names.filter(function (name) { return known.indexOf(name) < 0; }));
    keep();
  }

  choice.addEventListener("change", function () { show(); keep(); });
  byId("everything").addEventListener("click", function () {
    boxes.forEach(function (box) { box.checked = true; });
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
