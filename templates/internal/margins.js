/* The margin review's sliders, filters and sorting. All numbers come from margins-data.js; the
   formulas from formulas.js, which are the program's own. Works from a file, without a server. */
(function () {
  "use strict";
  const data = window.quoterMargins;
  const formulas = window.quoterFormulas;

  // A phrase of the page's language with its values in their places.
  function filled(text, values) {
    return text.replace(/\{(\w+)\}/g, (place, name) => String(values[name]));
  }
  const byId = (id) => document.getElementById(id);
  const every = byId("every");
  const rows = Array.from(every.tBodies[0].rows);
  const whole = new Intl.NumberFormat(data.lang, { maximumFractionDigits: 0 });
  const tenth = new Intl.NumberFormat(data.lang, {
    minimumFractionDigits: 1, maximumFractionDigits: 1
  });
  const share = new Intl.NumberFormat(data.lang, {
    style: "percent", minimumFractionDigits: 1, maximumFractionDigits: 1
  });
  const NONE = "–";
  let sortedBy = null;
  let falling = false;

  // No number is minus nothing.
  function written(format, value) {
    const words = format.format(value);
    return /[1-9]/.test(words) ? words : format.format(0);
  }

  function signed(format, value) {
    const words = written(format, value);
    return value > 0 && /[1-9]/.test(words) ? "+" + words : words;
  }

  // What each factor is now: 1 where nothing is moved, 0 or 1 for an announced rise.
  function factorNow(factor) {
    const input = byId("factor-" + factor.id);
    if (factor.kind === "rise") { return input.checked ? 1 : 0; }
    return 1 + Number(input.value) / 100;
  }

  function todayOf(factor) { return factor.kind === "rise" ? 0 : 1; }

  // A cost is a sum of amounts, each in proportion to the factors it hangs on.
  function amountNow(made, factors) {
    return made.terms.reduce((sum, term) => (
      sum + term[0].reduce((product, at) => product * factors[at], term[1])
    ), made.rest);
  }

  function chosen() {
    return {
      market: byId("market").value,
      buyer: byId("buyer").value,
      model: byId("model").value,
      words: byId("search").value.trim().toLowerCase(),
      onlyBelow: byId("only-below").checked
    };
  }

  // Every cost with these factors, and the rate of each market's currency.
  function stateOf(factors) {
    const rates = {};
    Object.keys(data.markets).forEach((id) => {
      const market = data.markets[id];
      rates[id] = market.moves === null ? market.rate : market.rate / factors[market.moves];
    });
    return {
      rates,
      costs: data.things.map((thing) => amountNow(thing.cost, factors)),
      variable: data.things.map((thing) => amountNow(thing.variable, factors))
    };
  }

  // The list price as a market shows it, in that market's currency.
  function shownIn(market, number, state) {
    const price = data.prices[market][number]; const own = formulas.markets[market];
    if (price.rule === "shown") { return price.amount; }
    if (price.rule === "package") {
      const apart = price.of.reduce((sum, each) => sum + shownIn(market, each, state), 0);
      return (price.as === "home" ? formulas : own).packaged(apart, price.saving).price;
    }
    const follows = price.rule === "recommended" || price.amount === null;
    const home = follows ? formulas.recommended(state.costs[number]).price : price.amount;
    return price.rule === "exchanged" ? own.exchanged(home, state.rates[market]).price : home;
  }

  function saleOf(price, discount, cost, variable) {
    return formulas.sale(price, discount, data.provisions, data.floor, cost, variable);
  }

  // Every line of a market as it is in this state, sold to one class of buyer.
  function linesOf(market, buyer, state) {
    const discount = data.buyers.filter((b) => b.id === buyer)[0].discount;
    return data.prices[market].map((line, number) => {
      const thing = data.things[number];
      if (!line.sold) { return null; }
      const cost = state.costs[number]; const variable = state.variable[number];
      const shown = shownIn(market, number, state);
      const price = formulas.markets[market].home(shown, state.rates[market]).price;
      const sale = saleOf(price, discount, cost, variable);
      const last = line.last[buyer];
      const below = data.buyers.filter((b) => saleOf(price, b.discount, cost, variable).breach !== 0);
      return {
        number, model: thing.model, name: thing.name, basis: line.basis,
        list_price: price, cost, moved: cost - thing.today,
        contribution: sale.contribution, contribution_fraction: sale.contribution_fraction,
        margin: sale.margin, margin_fraction: sale.margin_fraction,
        last: last === undefined ? null : last,
        gained: last === undefined ? null : (sale.margin_fraction - last) * 100,
        below: below.map((b) => b.name), floor: below.length,
        units: thing.units, net: sale.net,
        yearly: thing.units === null ? null : sale.margin * thing.units
      };
    });
  }

  function optional(format, value) { return value === null ? NONE : written(format, value); }

  function wordsOf(line) {
    return {
      basis: line.basis, list_price: whole.format(line.list_price), cost: whole.format(line.cost),
      moved: signed(tenth, line.moved), contribution: written(whole, line.contribution),
      contribution_fraction: written(share, line.contribution_fraction),
      margin: written(whole, line.margin), margin_fraction: written(share, line.margin_fraction),
      last: optional(share, line.last), gained: optional(tenth, line.gained),
      units: optional(tenth, line.units), yearly: optional(whole, line.yearly)
    };
  }

  function floorCell(cell, below) {
    const told = document.createElement(below.length ? "strong" : "span");
    told.className = below.length ? "breach" : "kept";
    if (below.length) {
      const mark = document.createElement("span");
      mark.setAttribute("aria-hidden", "true");
      mark.textContent = "▼";
      told.append(mark, " " + filled(data.words.floor, { buyers: below.join(", ") }));
    } else {
      told.textContent = data.words.holds;
    }
    cell.replaceChildren(told);
  }

  function write(row, line) {
    const words = wordsOf(line);
    Array.from(row.cells).forEach((cell) => {
      const key = cell.dataset.key;
      if (key in words) { cell.textContent = words[key]; }
      if (key === "floor") { floorCell(cell, line.below); }
    });
    row.classList.toggle("breached", line.below.length > 0);
  }

  function compare(a, b) {
    const left = a[sortedBy]; const right = b[sortedBy];
    if (left === null || right === null) { return (left === null) - (right === null); }
    const order = typeof left === "string" ? left.localeCompare(right, data.lang) : left - right;
    return falling ? -order : order;
  }

  function ranked(lines, rank) {
    const kept = lines.filter((line) => line !== null && rank(line) !== null);
    kept.sort((a, b) => rank(a) - rank(b) || a.number - b.number);
    return kept.slice(0, data.most);
  }

  function fill(table, lines) {
    if (!table) { return; }
    table.tBodies[0].replaceChildren(...lines.map((line) => {
      const row = rows[line.number].cloneNode(true);
      row.hidden = false;
      return row;
    }));
  }

  function yearOf(lines, model) {
    return lines.reduce((sum, line) => {
      if (line === null || line.units === null || (model && data.things[line.number].id !== model)) {
        return sum;
      }
      return {
        net: sum.net + line.net * line.units,
        contribution: sum.contribution + line.contribution * line.units,
        margin: sum.margin + line.margin * line.units
      };
    }, { net: 0, contribution: 0, margin: 0 });
  }

  function writeYears(lines, state) {
    const table = byId("year");
    if (!table) { return; }
    Array.from(table.tBodies[0].rows).forEach((row) => {
      const year = yearOf(lines, row.dataset.model);
      year.fraction = year.net ? year.margin / year.net : 0;
      Array.from(row.cells).forEach((cell) => {
        const key = cell.dataset.key;
        if (key) { cell.textContent = (key === "fraction" ? share : whole).format(year[key]); }
      });
    });
    Array.from(byId("where").tBodies[0].rows).forEach((row) => {
      Array.from(row.cells).forEach((cell) => {
        if (!cell.dataset.buyer) { return; }
        const year = yearOf(linesOf(row.dataset.market, cell.dataset.buyer, state), "");
        cell.textContent = year.net ? share.format(year.margin / year.net) : NONE;
      });
    });
  }

  function captions() {
    const market = byId("market"); const buyer = byId("buyer");
    const sold = "; " + buyer.options[buyer.selectedIndex].text + ", " +
      market.options[market.selectedIndex].text;
    Array.from(document.querySelectorAll("caption .sold")).forEach((words) => {
      words.textContent = sold;
    });
  }

  function outcome(lines, before) {
    const now = yearOf(lines, ""); const was = yearOf(before, "");
    const below = function (found) {
      return found.filter((line) => line !== null && line.floor > 0).length;
    };
    const year = now.net ? filled(data.words.year, {
      now: share.format(now.margin / now.net),
      today: share.format(was.margin / was.net),
      change: signed(whole, now.margin - was.margin) + " " + data.currency
    }) + " " : "";
    byId("year-outcome").textContent = year + filled(data.words.below, {
      now: below(lines), all: lines.filter(Boolean).length, today: below(before)
    });
  }

  // What is moved, in words.
  function movedNow() {
    return data.factors.filter((factor) => factorNow(factor) !== todayOf(factor))
      .map((factor) => {
        if (factor.kind === "rise") { return factor.name; }
        return factor.name + " " + signed(tenth, Number(byId("factor-" + factor.id).value)) + " %";
      });
  }

  function ticked() {
    return data.factors.filter((factor) => (
      factor.kind === "rise" && byId("factor-" + factor.id).checked
    ));
  }

  function command() {
    const moved = movedNow();
    const level = (factor) => Number(byId("factor-" + factor.id).value);
    const told = window.quoterMarginCommand(data, level, ticked());
    const code = byId("what-if-command"); const none = byId("what-if-no-command");
    code.textContent = moved.length === 0 ? data.command.example : told.command;
    code.hidden = told.kept !== "";
    none.hidden = told.kept === "";
    none.textContent = told.kept === "" ? "" : filled(data.words.kept, { kept: told.kept });
    const note = byId("what-if-note");
    note.hidden = moved.length === 0;
    note.textContent = filled(data.words.moved, { moved: moved.join("; ") });
  }

  function sliders() {
    data.factors.forEach((factor) => {
      if (factor.kind === "rise") { return; }
      const input = byId("factor-" + factor.id);
      const words = signed(tenth, Number(input.value)) + " %";
      byId("factor-" + factor.id + "-is").textContent = words;
      input.setAttribute("aria-valuetext", words);
    });
  }

  function update() {
    const choice = chosen();
    const state = stateOf(data.factors.map(factorNow));
    const today = stateOf(data.factors.map(todayOf));
    const lines = linesOf(choice.market, choice.buyer, state);
    let shown = 0;
    rows.forEach((row, number) => {
      const line = lines[number];
      if (line !== null) { write(row, line); }
      row.hidden = line === null || (choice.model && data.things[number].id !== choice.model) ||
        (choice.onlyBelow && line.below.length === 0) ||
        (line.model + " " + line.name).toLowerCase().indexOf(choice.words) < 0;
      if (!row.hidden) { shown += 1; }
    });
    if (sortedBy !== null) {
      const order = lines.filter(Boolean).sort(compare);
      order.forEach((line) => { every.tBodies[0].append(rows[line.number]); });
    }
    byId("shown").textContent = filled(data.words.shown, {
      shown, all: lines.filter(Boolean).length
    });
    fill(byId("worst"), ranked(lines, (line) => line.margin_fraction));
    fill(byId("eroded"), ranked(lines, (line) => (
      line.gained !== null && line.gained < -1e-10 ? line.gained : null
    )));
    writeYears(lines, state);
    captions();
    sliders();
    outcome(lines, linesOf(choice.market, choice.buyer, today));
    command();
  }

  function sortable(head) {
    const words = head.querySelector(".head");
    if (words === null) { return; }
    const button = document.createElement("button");
    button.type = "button";
    button.textContent = words.textContent;
    words.replaceWith(button);
    button.addEventListener("click", () => {
      falling = sortedBy === head.dataset.key ? !falling : false;
      sortedBy = head.dataset.key;
      Array.from(every.tHead.rows[0].cells).forEach((cell) => {
        cell.removeAttribute("aria-sort");
      });
      head.setAttribute("aria-sort", falling ? "descending" : "ascending");
      update();
    });
  }

  Array.from(every.tHead.rows[0].cells).forEach(sortable);
  ["what-if-form", "filters"].forEach((id) => {
    const form = byId(id);
    form.hidden = false;
    form.addEventListener("input", update);
    form.addEventListener("submit", (event) => { event.preventDefault(); });
    form.addEventListener("reset", () => { window.setTimeout(update, 0); });
  });
  update();
}());
