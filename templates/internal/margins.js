/* The margin review's sliders, filters and sorting. All numbers come from margins-data.js; the
   formulas from formulas.js, which are the program's own. Works from a file, without a server. */
(function () {
  "use strict";
  var data = window.quoterMargins;
  var formulas = window.quoterFormulas;
  var byId = function (id) { return document.getElementById(id); };
  var every = byId("every");
  var rows = Array.prototype.slice.call(every.tBodies[0].rows);
  var whole = new Intl.NumberFormat(data.lang, { maximumFractionDigits: 0 });
  var tenth = new Intl.NumberFormat(data.lang, { minimumFractionDigits: 1, maximumFractionDigits: 1 });
  var share = new Intl.NumberFormat(data.lang, {
    style: "percent", minimumFractionDigits: 1, maximumFractionDigits: 1
  });
  var NONE = "–";
  var sortedBy = null;
  var falling = false;

  // No number is minus nothing.
  function written(format, value) {
    var words = format.format(value);
    return /[1-9]/.test(words) ? words : format.format(0);
  }

  function signed(format, value) {
    var words = written(format, value);
    return value > 0 && /[1-9]/.test(words) ? "+" + words : words;
  }

  // What each factor is now: 1 where nothing is moved, 0 or 1 for an announced rise.
  function factorNow(factor) {
    var input = byId("factor-" + factor.id);
    if (factor.kind === "rise") { return input.checked ? 1 : 0; }
    return 1 + Number(input.value) / 100;
  }

  function todayOf(factor) { return factor.kind === "rise" ? 0 : 1; }

  // A cost is a sum of amounts, each in proportion to the factors it hangs on.
  function amountNow(made, factors) {
    return made.terms.reduce(function (sum, term) {
      return sum + term[0].reduce(function (product, at) { return product * factors[at]; }, term[1]);
    }, made.rest);
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
    var rates = {};
    Object.keys(data.markets).forEach(function (id) {
      var market = data.markets[id];
      rates[id] = market.moves === null ? market.rate : market.rate / factors[market.moves];
    });
    return {
      rates: rates,
      costs: data.things.map(function (thing) { return amountNow(thing.cost, factors); }),
      variable: data.things.map(function (thing) { return amountNow(thing.variable, factors); })
    };
  }

  // The list price as a market shows it, in that market's currency.
  function shownIn(market, number, state) {
    var price = data.prices[market][number], own = formulas.markets[market];
    if (price.rule === "shown") { return price.amount; }
    if (price.rule === "package") {
      var apart = price.of.reduce(function (sum, each) {
        return sum + shownIn(market, each, state);
      }, 0);
      return (price.as === "home" ? formulas : own).packaged(apart, price.saving).price;
    }
    var follows = price.rule === "recommended" || price.amount === null;
    var home = follows ? formulas.recommended(state.costs[number]).price : price.amount;
    return price.rule === "exchanged" ? own.exchanged(home, state.rates[market]).price : home;
  }

  function saleOf(price, discount, cost, variable) {
    return formulas.sale(price, discount, data.provisions, data.floor, cost, variable);
  }

  // Every line of a market as it is in this state, sold to one class of buyer.
  function linesOf(market, buyer, state) {
    var discount = data.buyers.filter(function (b) { return b.id === buyer; })[0].discount;
    return data.prices[market].map(function (line, number) {
      var thing = data.things[number];
      if (!line.sold) { return null; }
      var cost = state.costs[number], variable = state.variable[number];
      var shown = shownIn(market, number, state);
      var price = formulas.markets[market].home(shown, state.rates[market]).price;
      var sale = saleOf(price, discount, cost, variable);
      var last = line.last[buyer];
      var below = data.buyers.filter(function (b) {
        return saleOf(price, b.discount, cost, variable).breach !== 0;
      });
      return {
        number: number, model: thing.model, name: thing.name, basis: line.basis,
        list_price: price, cost: cost, moved: cost - thing.today,
        contribution: sale.contribution, contribution_fraction: sale.contribution_fraction,
        margin: sale.margin, margin_fraction: sale.margin_fraction,
        last: last === undefined ? null : last,
        gained: last === undefined ? null : (sale.margin_fraction - last) * 100,
        below: below.map(function (b) { return b.name; }), floor: below.length,
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
    var told = document.createElement(below.length ? "strong" : "span");
    told.className = below.length ? "breach" : "kept";
    if (below.length) {
      var mark = document.createElement("span");
      mark.setAttribute("aria-hidden", "true");
      mark.textContent = "▼";
      told.append(mark, " below at " + below.join(", "));
    } else {
      told.textContent = "holds";
    }
    cell.replaceChildren(told);
  }

  function write(row, line) {
    var words = wordsOf(line);
    Array.prototype.forEach.call(row.cells, function (cell) {
      var key = cell.dataset.key;
      if (key in words) { cell.textContent = words[key]; }
      if (key === "floor") { floorCell(cell, line.below); }
    });
    row.classList.toggle("breached", line.below.length > 0);
  }

  function compare(a, b) {
    var left = a[sortedBy], right = b[sortedBy];
    if (left === null || right === null) { return (left === null) - (right === null); }
    var order = typeof left === "string" ? left.localeCompare(right, data.lang) : left - right;
    return falling ? -order : order;
  }

  function ranked(lines, rank) {
    var kept = lines.filter(function (line) { return line !== null && rank(line) !== null; });
    kept.sort(function (a, b) { return rank(a) - rank(b) || a.number - b.number; });
    return kept.slice(0, data.most);
  }

  function fill(table, lines) {
    if (!table) { return; }
    table.tBodies[0].replaceChildren.apply(table.tBodies[0], lines.map(function (line) {
      var row = rows[line.number].cloneNode(true);
      row.hidden = false;
      return row;
    }));
  }

  function yearOf(lines, model) {
    return lines.reduce(function (sum, line) {
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
    var table = byId("year");
    if (!table) { return; }
    Array.prototype.forEach.call(table.tBodies[0].rows, function (row) {
      var year = yearOf(lines, row.dataset.model);
      year.fraction = year.net ? year.margin / year.net : 0;
      Array.prototype.forEach.call(row.cells, function (cell) {
        var key = cell.dataset.key;
        if (key) { cell.textContent = (key === "fraction" ? share : whole).format(year[key]); }
      });
    });
    Array.prototype.forEach.call(byId("where").tBodies[0].rows, function (row) {
      Array.prototype.forEach.call(row.cells, function (cell) {
        if (!cell.dataset.buyer) { return; }
        var year = yearOf(linesOf(row.dataset.market, cell.dataset.buyer, state), "");
        cell.textContent = year.net ? share.format(year.margin / year.net) : NONE;
      });
    });
  }

  function captions() {
    var market = byId("market"), buyer = byId("buyer");
    var sold = "; " + buyer.options[buyer.selectedIndex].text + ", " +
      market.options[market.selectedIndex].text;
    Array.prototype.forEach.call(document.querySelectorAll("caption .sold"), function (words) {
      words.textContent = sold;
    });
  }

  function outcome(lines, before) {
    var now = yearOf(lines, ""), was = yearOf(before, "");
    var below = function (found) {
      return found.filter(function (line) { return line !== null && line.floor > 0; }).length;
    };
    var year = now.net ? "The planned year leaves " + share.format(now.margin / now.net) +
      " (today " + share.format(was.margin / was.net) + "), " +
      signed(whole, now.margin - was.margin) + " " + data.currency + ". " : "";
    byId("year-outcome").textContent = year + "Below the floor: " + below(lines) + " of " +
      lines.filter(Boolean).length + " prices (today " + below(before) + ").";
  }

  // What is moved, in words.
  function movedNow() {
    return data.factors.filter(function (factor) { return factorNow(factor) !== todayOf(factor); })
      .map(function (factor) {
        if (factor.kind === "rise") { return factor.name; }
        return factor.name + " " + signed(tenth, Number(byId("factor-" + factor.id).value)) + " %";
      });
  }

  function ticked() {
    return data.factors.filter(function (factor) {
      return factor.kind === "rise" && byId("factor-" + factor.id).checked;
    });
  }

  function command() {
    var moved = movedNow();
    var told = window.quoterMarginCommand(data, function (factor) {
      return Number(byId("factor-" + factor.id).value);
    }, ticked());
    var code = byId("what-if-command"), none = byId("what-if-no-command");
    code.textContent = moved.length === 0 ? data.command.example : told.command;
    code.hidden = told.kept !== "";
    none.hidden = told.kept === "";
    none.textContent = told.kept === "" ? "" : "no command gives it, since the rise comes on top " +
      "of " + told.kept + ", which this page was built with.";
    var note = byId("what-if-note");
    note.hidden = moved.length === 0;
    note.textContent = "What if: " + moved.join("; ") + ". These are not today's numbers.";
  }

  function sliders() {
    data.factors.forEach(function (factor) {
      if (factor.kind === "rise") { return; }
      var input = byId("factor-" + factor.id);
      var words = signed(tenth, Number(input.value)) + " %";
      byId("factor-" + factor.id + "-is").textContent = words;
      input.setAttribute("aria-valuetext", words);
    });
  }

  function update() {
    var choice = chosen();
    var state = stateOf(data.factors.map(factorNow));
    var today = stateOf(data.factors.map(todayOf));
    var lines = linesOf(choice.market, choice.buyer, state);
    var shown = 0;
    rows.forEach(function (row, number) {
      var line = lines[number];
      if (line !== null) { write(row, line); }
      row.hidden = line === null || (choice.model && data.things[number].id !== choice.model) ||
        (choice.onlyBelow && line.below.length === 0) ||
        (line.model + " " + line.name).toLowerCase().indexOf(choice.words) < 0;
      if (!row.hidden) { shown += 1; }
    });
    if (sortedBy !== null) {
      var order = lines.filter(Boolean).sort(compare);
      order.forEach(function (line) { every.tBodies[0].append(rows[line.number]); });
    }
    byId("shown").textContent = shown + " of " + lines.filter(Boolean).length + " shown";
    fill(byId("worst"), ranked(lines, function (line) { return line.margin_fraction; }));
    fill(byId("eroded"), ranked(lines, function (line) {
      return line.gained !== null && line.gained < -1e-10 ? line.gained : null;
    }));
    writeYears(lines, state);
    captions();
    sliders();
    outcome(lines, linesOf(choice.market, choice.buyer, today));
    command();
  }

  function sortable(head) {
    var words = head.querySelector(".head");
    var button = document.createElement("button");
    button.type = "button";
    button.textContent = words.textContent;
    words.replaceWith(button);
    button.addEventListener("click", function () {
      falling = sortedBy === head.dataset.key ? !falling : false;
      sortedBy = head.dataset.key;
      Array.prototype.forEach.call(every.tHead.rows[0].cells, function (cell) {
        cell.removeAttribute("aria-sort");
      });
      head.setAttribute("aria-sort", falling ? "descending" : "ascending");
      update();
    });
  }

  Array.prototype.forEach.call(every.tHead.rows[0].cells, sortable);
  ["what-if-form", "filters"].forEach(function (id) {
    var form = byId(id);
    form.hidden = false;
    form.addEventListener("input", update);
    form.addEventListener("submit", function (event) { event.preventDefault(); });
    form.addEventListener("reset", function () { window.setTimeout(update, 0); });
  });
  update();
}());
