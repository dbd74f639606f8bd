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
  let place = ""; // the option or heading that the address leads to
  const listeners = [];
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

  // What the address says: #option-hatch&list=side_door,seat*2&find=door&group=Openings&open=1
  function address(names) {
    return [place].concat(stated(names)).filter(Boolean).join("&");
  }

  function stated(names) {
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

  // Where an address leads to: an option, a package or a heading of the page.
  function placeIn(hash) {
    const id = hash.replace(/^#/, "").split("&")[0];
    const found = id.indexOf("=") < 0 && byId(id);
    return found && found.matches("article, h2, h3") ? id : "";
  }

  // Marks the option that the address leads to, whatever hides it.
  function mark(jump) {
    every(".sought").forEach((old) => old.classList.remove("sought"));
    const target = place && byId(place);
    if (!target) { return; }
    target.classList.add("sought");
    if (!jump && !target.closest("[hidden]")) { return; }
    finder.reveal(target);
    keepAddress();
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

  // Who goes on to something else is no longer where the address led to.
  function leavePlace() {
    place = "";
    mark(false);
  }

  function put(id, count, after) {
    const answer = choice.ask(id, count);
    if (answer.done) { changed(id, count); } else { refuse(answer, id, count, after); }
    return answer.done;
  }

  function changed(id, count) {
    clearRefusal();
    leavePlace();
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
    window.drawn.show(choice, list.items);
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

  // The one place where a change of the list is told: to the page itself, then to whoever asked.
  function show() {
    showList();
    showPicks();
    finder.filter();
    keepAddress();
    listeners.forEach((listener) => listener());
  }

  // Calls a function now and after every change of the list.
  function onChange(listener) {
    listeners.push(listener);
    listener();
  }

  function readAddress() {
    const state = stateIn(location.hash);
    place = placeIn(location.hash);
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
        leavePlace();
        finder.filter();
        keepAddress();
      });
    });
    byId("tools").addEventListener("submit", (event) => event.preventDefault());
    byId("list-clear").addEventListener("click", () => {
      choice.take(new Map());
      clearRefusal();
      byId("list-left-out").hidden = true;
      leavePlace();
      show();
      byId("list-title").focus();
    });
    window.addEventListener("hashchange", arrive);
  }

  // A new address brings a new list. A jump within the page takes the list out of the address for
  // a moment, and going back from it must bring no older one.
  function arrive() {
    const before = history.state ? history.state.reading : null;
    if (before !== reading && readAddress()) {
      reading = before === null ? reading + 1 : before;
      clearRefusal();
      show();
      mark(true);
      return;
    }
    place = placeIn(location.hash);
    mark(false);
    keepAddress();
  }

  // Old browsers lack replaceChildren; they keep the static price list.
  if (!byId("list") || !Element.prototype.replaceChildren) { return; }
  every("[data-keeps]").forEach((link) => link.setAttribute("data-keeps", link.getAttribute("href")));
  every(".scripted").forEach((element) => { element.hidden = false; });
  document.body.classList.add("with-script");
  const jumped = !readAddress();
  wire();
  if (jumped && !place) { showList(); showPicks(); finder.filter(); } else { show(); }
  mark(!jumped);
  window.boatOnPage = { choice, say, money, list, onChange };
}());
