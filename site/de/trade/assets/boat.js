/* Exact amounts in whole smallest units, and how this page's language writes them. */
(function () {
  "use strict";

  // "1234.50" with two decimals is 123450. Nothing is rounded: the text has that many.
  function units(text, digits) {
    const parts = text.replace("-", "").split(".");
    const decimals = ((parts[1] || "") + "0".repeat(digits)).slice(0, digits);
    const whole = Number(parts[0] + decimals);
    return text.startsWith("-") ? -whole : whole;
  }

  function grouped(whole, style) {
    if (whole.length < style.grouped_from) { return whole; }
    const groups = [whole.slice(-style.sizes[0])];
    let rest = whole.slice(0, -style.sizes[0]);
    while (rest) {
      groups.unshift(rest.slice(-style.sizes[1]));
      rest = rest.slice(0, -style.sizes[1]);
    }
    return groups.join(style.separator);
  }

  // Whole smallest units as the language writes them: no number is minus nothing.
  function written(count, style) {
    const figures = String(Math.abs(count)).padStart(style.digits + 1, "0");
    const at = figures.length - style.digits;
    const body = grouped(figures.slice(0, at), style) + style.decimal + figures.slice(at);
    return count < 0
      ? style.before_negative + body + style.after_negative
      : style.before + body + style.after;
  }

  // How many of a size, halves away from zero as everywhere in a price list. No fraction is formed
  // before, so that a half stays one.
  function nearest(count, size) {
    return Math.sign(count) * Math.floor((2 * Math.abs(count) + size) / (2 * size));
  }

  function measured(count, size, fine, whole, wholeDigits) {
    return Math.abs(count) >= 10 ** (wholeDigits - 1) * size
      ? written(nearest(count, size), whole)
      : written(nearest(count, size / 10), fine);
  }

  // A mass in millionths of a kilogram: in kilograms, pounds, or with pounds beside them, as the
  // market reads it.
  function mass(count, masses) {
    const metric = masses.fine
      ? measured(count, 1e6, masses.fine, masses.whole, masses.whole_digits) : "";
    if (!masses.pound) { return metric; }
    const pound = Number(masses.pound) * 1e6;
    const beside = measured(
      count, pound, masses.pounds_fine, masses.pounds_whole, masses.pounds_whole_digits
    );
    return metric ? metric + " (" + beside + ")" : beside;
  }

  window.amounts = { units, written, mass };
}());

/* A list of options on one boat that always keeps the rules; no page is needed for it. The rules
   are those of the program itself: `list.check` was written from them. */
(function () {
  "use strict";

  function choice(list) {
    const items = new Map(list.items.map((item) => [item.id, item]));
    let chosen = new Map();

    function checked(quantities) {
      return list.check.apply(null, list.items.map((item) => quantities.get(item.id) || 0));
    }

    function letters(number) { return String(number).replace(/\d/g, (d) => "abcdefghij"[d]); }

    function broken(quantities) {
      const found = checked(quantities);
      return list.rules.filter((rule, number) => found["r_" + letters(number)] === 0);
    }

    function holders(option) {
      return list.items.filter((item) => (item.holds || []).indexOf(option) >= 0);
    }

    function isOn(option, quantities) {
      return (quantities.get(option) || 0) > 0 ||
        holders(option).some((item) => (quantities.get(item.id) || 0) > 0);
    }

    function put(quantities, id, count) {
      if (count > 0) { quantities.set(id, count); } else { quantities.delete(id); }
    }

    function leaveOff(quantities, option, wanted) {
      [option].concat(holders(option).map((item) => item.id)).forEach((id) => {
        if (id !== wanted) { quantities.delete(id); }
      });
    }

    function within(id) { return [id].concat((items.get(id) || {}).holds || []); }

    // What is asked for, what that holds, and all that these need.
    function withNeeds(id) {
      const found = new Set(within(id));
      found.forEach((option) => {
        list.rules.forEach((rule) => {
          if (rule.kind === "needs" && rule.option === option) { found.add(rule.others[0]); }
        });
      });
      return found;
    }

    // One step towards a list that keeps a rule. What must be there is added where it is missing;
    // whatever else stands against the rule goes.
    function mend(rule, quantities, id, must) {
      if (rule.kind === "needs" && must.has(rule.option)) {
        const needed = rule.others[0];
        if (items.has(needed)) { put(quantities, needed, 1); return; }
        list.items.filter((item) => (item.instead_of || []).indexOf(needed) >= 0)
          .forEach((item) => { leaveOff(quantities, item.id, id); });
        return;
      }
      [rule.option].concat(rule.kind === "needs" ? [] : rule.others).forEach((option) => {
        if (!must.has(option)) { leaveOff(quantities, option, id); }
      });
      if (rule.kind === "most") { leaveOff(quantities, rule.option, id); }
    }

    // The nearest list that has what was asked for and keeps all rules; null if none was found.
    function mended(id, count) {
      const quantities = new Map(chosen);
      const must = count ? withNeeds(id) : new Set();
      put(quantities, id, count);
      for (let round = 0; round <= list.rules.length; round += 1) {
        const rules = broken(quantities);
        if (!rules.length) { return quantities; }
        // What is needed comes first: it may take the place of something else that is in the way.
        const first = rules.filter((rule) => rule.kind === "needs").concat(rules)[0];
        mend(first, quantities, id, must);
        if ((quantities.get(id) || 0) !== count) { return null; }
      }
      return null;
    }

    function difference(from, to) {
      const ids = list.items.map((item) => item.id);
      return {
        added: ids.filter((id) => !from.get(id) && to.get(id)),
        removed: ids.filter((id) => from.get(id) && !to.get(id))
      };
    }

    // Put so many of an item on the list, or none. What a rule forbids changes nothing: the answer
    // then says which rules, and what else would have to change with it.
    function ask(id, count) {
      const item = items.get(id);
      const wanted = Math.max(0, Math.min(count, item.most));
      const quantities = new Map(chosen);
      put(quantities, id, wanted);
      const rules = broken(quantities);
      if (!rules.length) {
        chosen = quantities;
        return { done: true };
      }
      const instead = mended(id, wanted);
      return {
        done: false,
        rules,
        instead,
        difference: instead && difference(chosen, instead)
      };
    }

    function take(quantities) { chosen = new Map(quantities); }

    // What is charged for options in another hull colour: how often each meets it on the boat,
    // chosen by itself or in a package; what one package holds of both is in its price.
    function surcharges() {
      const amount = (item) => chosen.get(item.id) || 0;
      const withIt = (id) => list.items.filter((item) => within(item.id).indexOf(id) >= 0);
      return list.surcharges.map((each) => {
        let count = 0;
        withIt(each.option).forEach((item) => withIt(each.colour).forEach((colour) => {
          if (item !== colour) { count += amount(item) * amount(colour); }
        }));
        return { name: each.name, price: each.price, count };
      }).filter((each) => each.count > 0);
    }

    function totals() {
      const digits = list.money.digits;
      let price = window.amounts.units(list.price, digits);
      let mass = window.amounts.units(list.mass, 6);
      if (list.delivery !== null) { price += window.amounts.units(list.delivery, digits); }
      chosen.forEach((count, id) => {
        price += count * window.amounts.units(items.get(id).price, digits);
        mass += count * window.amounts.units(items.get(id).mass, 6);
      });
      surcharges().forEach((each) => {
        price += each.count * window.amounts.units(each.price, digits);
      });
      return { price, mass };
    }

    // The list as it stands in an address: side_door,seat*2.
    function written() {
      return list.items.filter((item) => chosen.has(item.id)).map((item) => {
        const count = chosen.get(item.id);
        return count > 1 ? item.id + "*" + count : item.id;
      }).join(",");
    }

    function parsed(each) {
      const parts = each.split("*");
      const item = items.get(parts[0]);
      const count = parts.length === 1 ? 1 : Number(parts[1]);
      const readable = parts.length === 1 || (parts.length === 2 && /^\d+$/.test(parts[1]));
      const sound = Boolean(item) && readable && count > 0 && count <= item.most;
      return { id: parts[0], count, name: item ? item.name : null, sound };
    }

    // Takes over a list from an address; gives what could not be, by the rules or by its name.
    function read(text) {
      const all = text.split(",").filter(Boolean).map(parsed);
      const sound = all.filter((each) => each.sound);
      const whole = new Map(sound.map((each) => [each.id, each.count]));
      if (!broken(whole).length) {
        chosen = whole;
        return all.filter((each) => !each.sound);
      }
      // One by one, and again, since what an item needs may stand behind it.
      chosen = new Map();
      let waiting = all;
      let before = -1;
      while (waiting.length !== before) {
        before = waiting.length;
        waiting = waiting.filter((each) => !each.sound || !ask(each.id, each.count).done);
      }
      return waiting;
    }

    return {
      item: (id) => items.get(id),
      count: (id) => chosen.get(id) || 0,
      chosen: () => list.items.filter((item) => chosen.has(item.id)),
      isOn: (option) => isOn(option, chosen),
      holders,
      standardLeft: () => list.standard.filter((item) => checked(chosen)["s_" + item.id] > 0),
      couldBeAdded (id) {
        const quantities = new Map(chosen);
        put(quantities, id, (chosen.get(id) || 0) + 1);
        return (chosen.get(id) || 0) < items.get(id).most && !broken(quantities).length;
      },
      ask,
      take,
      surcharges,
      totals,
      written,
      read
    };
  }

  window.choice = choice;
}());

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

/* A model's page as a reader uses it: a list of options for one boat that stands in the address.
   Without this script the page is a complete price list. */
(function () {
  "use strict";
  const STATE = ["list", "find", "group", "open"];
  const IN_ANY_LANGUAGE = ["list", "open"];
  const list = window.priceList;
  const words = list.words;
  const choice = window.choice(list);
  const finder = window.finder(choice, words, say);
  const byId = (id) => document.getElementById(id);
  const every = (query) => Array.from(document.querySelectorAll(query));
  const money = (count) => window.amounts.written(count, list.money);
  const mass = (count) => window.amounts.mass(count, list.masses);
  let reading = (history.state && history.state.reading) || 0;

  function say(text, values) {
    return text.replace(/\{(\w+)\}/g, (all, name) => values[name]);
  }

  function made(tag, attributes, children) {
    const element = document.createElement(tag);
    Object.keys(attributes || {}).forEach((name) => element.setAttribute(name, attributes[name]));
    element.append(...(children || []));
    return element;
  }

  function announce(text) { byId("list-status").textContent = text; }

  // What the address says: #list=side_door,seat*2&find=door&group=Openings&open=1
  function address(names) {
    const parts = [["list", choice.written()]].concat(finder.sought());
    const said = parts.filter((part) => part[1] && names.indexOf(part[0]) >= 0);
    return said.map((part) => part[0] + "=" + encodeURIComponent(part[1])
      .replace(/%2C/g, ",").replace(/%20/g, "+")).join("&");
  }

  // Each entry of the browser's history tells which list it belongs to, so that going back from a
  // jump within the page undoes nothing.
  function keepAddress() {
    const state = address(STATE);
    const shared = address(IN_ANY_LANGUAGE);
    const here = state ? "#" + state : location.pathname + location.search;
    history.replaceState({ reading }, "", here);
    every("[data-keeps]").forEach((link) => {
      link.href = link.getAttribute("data-keeps") + (shared ? "#" + shared : "");
    });
  }

  function stateIn(hash) {
    const found = new Map();
    hash.replace(/^#/, "").split("&").forEach((part) => {
      const at = part.indexOf("=");
      if (STATE.indexOf(part.slice(0, Math.max(at, 0))) < 0) { return; }
      try {
        found.set(part.slice(0, at), decodeURIComponent(part.slice(at + 1).replace(/\+/g, " ")));
      } catch { /* what can't be read says nothing */ }
    });
    return found;
  }

  function countWords(count) {
    if (!count) { return words.count_none; }
    return count === 1 ? words.count_one : say(words.count_more, { count });
  }

  function clearRefusal() {
    every("tr.refused, article .refusal").forEach((old) => old.remove());
  }

  // A rule in words. Where there are too many of an option, the package that holds some is named.
  function reasons(rule, id) {
    if (rule.kind !== "most") { return [rule.words]; }
    const item = choice.item(rule.option);
    const around = choice.holders(item.id).filter((each) => each.id !== id && choice.count(each.id));
    const packed = around.map((each) => say(
      words.held, { option: item.name, package: each.name }
    ));
    if (item.id !== id && choice.count(item.id)) {
      packed.push(say(words.holding, { option: item.name, package: choice.item(id).name }));
    }
    return packed.length && item.most === 1 ? packed : [rule.words].concat(packed);
  }

  // A box with the rules in words, right after what was pressed, and a way out.
  function refuse(answer, id, count, after) {
    clearRefusal();
    const told = say(count ? words.refused : words.kept, { name: choice.item(id).name });
    const rules = [].concat(...answer.rules.map((rule) => reasons(rule, id)));
    const why = rules.filter((rule, at) => rules.indexOf(rule) === at);
    const box = made("div", { class: "refusal" }, [
      made("p", {}, [made("strong", {}, [told])]), made("ul", {}, why.map((w) => made("li", {}, [w])))
    ]);
    if (answer.instead) { box.append(wayOut(answer, id, count, after)); }
    if (after.tagName === "TR") {
      const cell = made("td", { colspan: after.cells.length }, [box]);
      after.after(made("tr", { class: "refused" }, [cell]));
    } else {
      after.querySelector(".amount").after(box);
    }
    box.scrollIntoView({ block: "nearest" });
    announce([told].concat(why).join(" "));
  }

  function wayOut(answer, id, count, after) {
    const named = (ids) => ids.filter((each) => each !== id)
      .map((each) => choice.item(each).name).join("; ");
    const added = named(answer.difference.added);
    const removed = named(answer.difference.removed);
    const text = added && removed
      ? say(words.fix_both, { added, removed })
      : say(added ? words.fix_add : words[count ? "fix_out" : "fix_out_too"], {
        names: added || removed
      });
    const button = made("button", { type: "button" }, [text]);
    button.addEventListener("click", () => {
      choice.take(answer.instead);
      changed(id, count);
      const back = after.isConnected ? after.querySelector("input, button, select") : null;
      (back || byId("list-title")).focus();
    });
    return button;
  }

  function put(id, count, after) {
    const answer = choice.ask(id, count);
    if (answer.done) { changed(id, count); } else { refuse(answer, id, count, after); }
    return answer.done;
  }

  function changed(id, count) {
    clearRefusal();
    show();
    announce(say(count ? words.added : words.taken_out, {
      name: choice.item(id).name, total: money(choice.totals().price)
    }));
  }

  function quantity(item) {
    const count = choice.count(item.id);
    if (item.most === 1) { return ""; }
    const select = made("select", { "aria-label": say(words.quantity, { name: item.name }) });
    for (let n = 1; n <= item.most; n += 1) { select.append(made("option", { value: n }, [n])); }
    select.value = count;
    select.addEventListener("change", () => {
      if (!put(item.id, Number(select.value), select.closest("tr"))) {
        select.value = choice.count(item.id);
      } else {
        byId("line-" + item.id).querySelector("select").focus();
      }
    });
    return made("span", { class: "times" }, [select, made("span", {}, [" × "])]);
  }

  function line(item) {
    const count = choice.count(item.id);
    const price = count * window.amounts.units(item.price, list.money.digits);
    const out = made("button", {
      type: "button", class: "out screen", "aria-label": words.take_out + " " + item.name
    }, [words.take_out]);
    const row = made("tr", { id: "line-" + item.id }, [
      made("th", { scope: "row" }, [
        quantity(item), item.name, " ",
        made("span", { class: "mass" }, [mass(count * window.amounts.units(item.mass, 6))]),
        " ", out
      ]),
      made("td", { class: "figure" }, [money(price)])
    ]);
    out.addEventListener("click", () => {
      if (put(item.id, 0, row)) { byId("list-title").focus(); }
    });
    return row;
  }

  function surchargeLine(each) {
    const price = each.count * window.amounts.units(each.price, list.money.digits);
    const times = each.count > 1 ? each.count + " × " : "";
    return made("tr", {}, [
      made("th", { scope: "row" }, [times + each.name]),
      made("td", { class: "figure" }, [money(price)])
    ]);
  }

  function showList() {
    const chosen = choice.chosen();
    const totals = choice.totals();
    byId("list-lines").replaceChildren(
      ...chosen.map(line), ...choice.surcharges().map(surchargeLine)
    );
    byId("list-mass").textContent = mass(totals.mass);
    byId("list-total").textContent = money(totals.price);
    byId("list-standard").textContent = choice.standardLeft().map((item) => item.name).join("; ");
    byId("bar-total").textContent = money(totals.price);
    byId("bar-count").textContent = countWords(chosen.length);
    byId("list-opening").hidden = !choice.standardLeft().concat(
      list.items.filter((item) => choice.isOn(item.id))
    ).some((item) => item.kind === "opening");
    document.body.classList.toggle("has-list", chosen.length > 0);
  }

  function showPicks() {
    every("[data-pick]").forEach((box) => {
      box.checked = choice.count(box.getAttribute("data-pick")) > 0;
    });
    every("[data-toggle]").forEach((button) => {
      const item = choice.item(button.getAttribute("data-toggle"));
      const on = choice.count(item.id) > 0;
      button.textContent = on ? words.take_out : words.add;
      button.setAttribute("aria-label", (on ? words.take_out : words.add) + " " + item.name);
      button.closest("article").classList.toggle("chosen", on);
    });
  }

  function show() {
    showList();
    showPicks();
    finder.filter();
    keepAddress();
  }

  function readAddress() {
    const state = stateIn(location.hash);
    if (location.hash && !state.size) { return false; }
    finder.seek(state);
    const left = choice.read(state.get("list") || "").map(
      (each) => each.name || say(words.unknown, { name: each.id })
    );
    byId("list-left-out").hidden = !left.length;
    byId("list-left-out").textContent = left.length
      ? say(words.left_out, { names: left.join("; ") }) : "";
    return true;
  }

  function wire() {
    every("[data-pick]").forEach((box) => {
      box.addEventListener("change", () => {
        if (!put(box.getAttribute("data-pick"), box.checked ? 1 : 0, box.closest("tr"))) {
          box.checked = !box.checked;
        }
      });
    });
    every("[data-toggle]").forEach((button) => {
      button.addEventListener("click", () => {
        const id = button.getAttribute("data-toggle");
        put(id, choice.count(id) ? 0 : 1, button.closest("article"));
      });
    });
    ["find", "group", "still-open"].forEach((id) => {
      byId(id).addEventListener("input", () => {
        clearRefusal();
        finder.filter();
        keepAddress();
      });
    });
    byId("tools").addEventListener("submit", (event) => event.preventDefault());
    byId("list-clear").addEventListener("click", () => {
      choice.take(new Map());
      clearRefusal();
      byId("list-left-out").hidden = true;
      show();
      byId("list-title").focus();
    });
    window.addEventListener("hashchange", arrive);
  }

  // A new address brings a new list. A jump within the page takes the list out of the address for
  // a moment, and going back from it must bring no older one.
  function arrive() {
    const before = history.state ? history.state.reading : null;
    const target = byId(location.hash.slice(1));
    if (before !== reading && readAddress()) {
      reading = before === null ? reading + 1 : before;
      clearRefusal();
      show();
      return;
    }
    if (target && target.closest("[hidden]")) { finder.reveal(target); }
    keepAddress();
  }

  // Old browsers lack replaceChildren; they keep the static price list.
  if (!byId("list") || !Element.prototype.replaceChildren) { return; }
  every("[data-keeps]").forEach((link) => link.setAttribute("data-keeps", link.getAttribute("href")));
  every(".scripted").forEach((element) => { element.hidden = false; });
  document.body.classList.add("with-script");
  const jumped = !readAddress();
  wire();
  if (jumped) { showList(); showPicks(); finder.filter(); } else { show(); }
  window.boatOnPage = { choice, say, money, list };
}());

/* What a reader takes away from the list: a printed summary, the address, a request file. */
(function () {
  "use strict";
  const boat = window.boatOnPage;
  if (!boat) { return; }
  const byId = (id) => document.getElementById(id);
  const list = boat.list;
  const MOST_LINES = 40;

  function today() {
    const now = new Date();
    const two = (number) => String(number).padStart(2, "0");
    return now.getFullYear() + "-" + two(now.getMonth() + 1) + "-" + two(now.getDate());
  }

  // What comes along with pasted words and has no print, or turns the writing around, would have
  // the whole request refused.
  function printable(text) {
    return text.replace(/[\ud800-\udfff\ufffe\uffff]/gu, "\ufffd")
      .replace(/\r\n?|[\u2028\u2029]/g, "\n")
      .replace(/[\u202a-\u202e\u2066-\u2069\ufeff]/g, "")
      .replace(/[\u0000-\u0008\u000b-\u001f\u007f-\u009f]/g, " ").trim();
  }

  // Between double quotes a text of JSON is one of YAML too.
  function quoted(text) { return JSON.stringify(printable(text)); }

  function rowsOf(text) {
    return printable(text).split("\n").map((row) => row.trim()).filter(Boolean);
  }

  // An address in rows that fit on an envelope, parted between words where that can be done.
  function addressOf(text) {
    const pieces = rowsOf(text).map((row) => row.match(/.{1,200}(?=\s|$)|.{1,200}/gu));
    return [].concat(...pieces).map((row) => row.trim()).filter(Boolean);
  }

  // A note on as many lines as a page bears; what is left follows on the last of them.
  function noteOf(text) {
    const lines = printable(text).split("\n");
    const rows = lines.length > MOST_LINES ? rowsOf(text) : lines;
    return rows.slice(0, MOST_LINES - 1).concat(rows.slice(MOST_LINES - 1).join(" "))
      .join("\n").trim();
  }

  // An amount as a plain number with its currency: 57123.40 EUR
  function plainAmount(count) {
    const digits = list.money.digits;
    const figures = String(Math.abs(count)).padStart(digits + 1, "0");
    const at = figures.length - digits;
    const decimals = digits ? "." + figures.slice(at) : "";
    return (count < 0 ? "-" : "") + figures.slice(0, at) + decimals + " " + list.currency;
  }

  function optionLines() {
    const chosen = boat.choice.chosen();
    const colours = chosen.filter((item) => item.kind === "colour");
    // One colour of one is the boat's; any others are options like the rest.
    const colour = colours.length === 1 && boat.choice.count(colours[0].id) === 1 ? colours[0] : null;
    const lines = chosen.filter((item) => item !== colour).map((item) => {
      const count = boat.choice.count(item.id);
      return "  - {option: " + item.id + (count > 1 ? ", quantity: " + count : "") + "}";
    });
    return (lines.length ? ["options:"] : []).concat(lines, colour ? "colour: " + colour.id : []);
  }

  // A request as `quoter quote` reads it.
  function requestText(given) {
    const lines = [
      "# yaml-language-server: $schema=request.schema.json",
      "format: " + list.request, "date: " + (given.date || today()),
      "price_sheet: " + quoted(list.version), "market: " + list.market,
      "language: " + list.language, "model: " + list.model
    ].concat(optionLines());
    lines.push("shown_total: " + plainAmount(boat.choice.totals().price), "customer:");
    ["name", "company", "country", "email", "phone"].forEach((key) => {
      const words = rowsOf(given[key] || "").join(" ");
      if (words) { lines.push("  " + key + ": " + quoted(words)); }
    });
    const rows = addressOf(given.address || "");
    if (rows.length) { lines.push("  address: [" + rows.map(quoted).join(", ") + "]"); }
    const note = noteOf(given.note || "");
    if (note) { lines.push("note: " + quoted(note)); }
    return lines.join("\n") + "\n";
  }

  function asked() {
    const found = {};
    Array.from(byId("ask").elements).forEach((field) => {
      if (field.name) { found[field.name] = printable(field.value); }
    });
    return found;
  }

  function download(name, text) {
    const link = document.createElement("a");
    link.href = URL.createObjectURL(new Blob([text], { type: "application/yaml" }));
    link.download = name;
    document.body.append(link);
    link.click();
    link.remove();
    setTimeout(() => URL.revokeObjectURL(link.href), 60000);
  }

  byId("ask").elements.date.value = today();
  byId("ask").elements.date.max = "9999-12-31";
  byId("ask").addEventListener("submit", (event) => {
    event.preventDefault();
    const name = byId("ask").elements.name;
    if (!asked().name) {
      name.value = "";  // blanks are no name, which the browser then tells by itself
      name.reportValidity();
      return;
    }
    download("request-" + list.model + ".yaml", requestText(asked()));
    byId("ask-done").hidden = false;
  });
  byId("list-print").addEventListener("click", () => {
    document.body.classList.add("only-list");
    window.print();
  });
  window.addEventListener("afterprint", () => document.body.classList.remove("only-list"));
  byId("list-copy").addEventListener("click", () => {
    const told = (words) => { byId("list-copied").textContent = words; };
    const fault = () => told(list.words.copy_by_hand);
    if (!navigator.clipboard) { fault(); return; }
    navigator.clipboard.writeText(location.href).then(() => told(list.words.copied), fault);
  });
  window.boatOnPage.requestText = requestText;
}());
