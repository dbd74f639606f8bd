/* The list on one sheet of paper: its lines, the day by the browser's clock, and its address as a
   text and as a symbol, where the price sheet has one on the web. */
(function () {
  "use strict";
  const boat = window.boatOnPage;
  if (!boat) { return; }
  const SVG = "http://www.w3.org/2000/svg";
  const QUIET = 4;  // modules of light around a symbol
  const MODULE = 0.42;  // mm, which a phone's camera reads from paper
  const byId = (id) => document.getElementById(id);
  const list = boat.list;
  const summary = byId("summary");
  const without = byId("summary-address").textContent;
  const made = boat.made;
  const units = (price) => window.amounts.units(price, list.money.digits);

  // Where the list is on the web: where the yard says its sheets stand, else where this page does.
  function address() {
    const served = location.protocol === "file:" ? "" : location.href.split("#")[0];
    const page = summary.dataset.address || served;
    const state = boat.stated(["list", "tax"]);
    return page && state ? page + "#" + state : page;
  }

  function line(name, lead, mass, price) {
    return made("tr", {}, [
      made("th", { scope: "row" }, [name]), made("td", {}, [lead || ""]),
      made("td", { class: "figure" }, [mass]), made("td", { class: "figure" }, [boat.money(price)])
    ]);
  }

  function lines() {
    const times = (count, name) => (count > 1 ? count + " × " + name : name);
    const weight = (text, count) => boat.mass(count * window.amounts.units(text, 6));
    const found = [line(list.name, list.lead, weight(list.mass, 1), units(list.price))];
    boat.choice.chosen().forEach((item) => {
      const count = boat.choice.count(item.id);
      found.push(line(
        times(count, item.name), item.lead, weight(item.mass, count), count * units(item.price)
      ));
    });
    boat.choice.surcharges().forEach((each) => {
      found.push(line(times(each.count, each.name), "", "", each.count * units(each.price)));
    });
    if (list.delivery !== null) {
      found.push(line(list.delivery_words, "", "", units(list.delivery)));
    }
    return found;
  }

  function drawn(rows) {
    const size = rows.length + 2 * QUIET;
    const path = rows.map((row, y) => row.map((dark, x) => (
      dark ? "M" + (x + QUIET) + " " + (y + QUIET) + "h1v1h-1z" : ""
    )).join("")).join("");
    const svg = document.createElementNS(SVG, "svg");
    const put = (element, values) => Object.keys(values).forEach((name) => {
      element.setAttribute(name, values[name]);
    });
    const paper = document.createElementNS(SVG, "path");
    const ink = document.createElementNS(SVG, "path");
    put(svg, {
      viewBox: "0 0 " + size + " " + size, width: size * MODULE + "mm", height: size * MODULE + "mm",
      role: "img", "aria-label": byId("summary-symbol").dataset.label,
      "shape-rendering": "crispEdges"
    });
    put(paper, { d: "M0 0h" + size + "v" + size + "h-" + size + "z", fill: "#fff" });
    put(ink, { d: path, fill: "#000" });
    svg.append(paper, ink);
    return svg;
  }

  function today() {
    const tag = list.language === "en" ? "en-GB" : list.language;  // as the sheet writes days
    return new Intl.DateTimeFormat(tag, {
      day: "numeric", month: "long", year: "numeric"
    }).format(new Date());
  }

  function fill() {
    const totals = boat.choice.totals();
    const web = address();
    const rows = web ? window.qr(web) : null;
    byId("summary-day").textContent = today();
    byId("summary-lines").replaceChildren(...lines());
    byId("summary-mass").textContent = boat.mass(totals.mass);
    byId("summary-total").textContent = boat.money(totals.price);
    if (byId("summary-standard")) {
      byId("summary-standard").textContent = byId("list-standard").textContent;
    }
    byId("summary-lead").textContent = byId("list-lead").textContent;
    byId("summary-opening").hidden = byId("list-opening").hidden;
    byId("summary-symbol").replaceChildren(...(rows ? [drawn(rows)] : []));
    byId("summary-address").textContent = web
      ? byId("summary-address").dataset.with + " " + web : without;
  }

  byId("list-print").addEventListener("click", () => {
    fill();
    document.body.classList.add("only-list");
    window.print();
  });
  window.addEventListener("afterprint", () => document.body.classList.remove("only-list"));
  Object.assign(boat, { webAddress: address, fillSummary: fill });
}());
