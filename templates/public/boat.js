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
  const listeners = [];
  const page = {
    choice, list, say, made, money, mass, byId, every, announce, put, changed, show
  };
  const refusals = window.refusals(page);
  const box = window.listBox(Object.assign(page, { refusals }));
  let telling = null;
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

  // What of an address is not taken over, in words: names and reasons, never what stood there.
  function leftOut(left, names) {
    const strangers = names ? left.filter((each) => !each.name && !names.has(each.id) &&
      !list.standard.some((item) => item.id === each.id)).length : 0;
    return [].concat(...left.map((each) => {
      const { name, id } = each;
      const known = names && names.get(id);
      if (each.rules) { return refusals.all(each.rules, id); }
      if (name) { return say(words.too_many, { name, most: choice.item(id).most }); }
      if (list.standard.some((item) => item.id === id)) {
        return say(words.standard_here, { name: refusals.named([id]) });
      }
      if (!known) { return []; }
      return known.boats
        ? say(words.standard_there, { name: known.name, boats: known.boats.join("; ") })
        : say(words.not_here, { name: known.name });
    }), strangers === 1 ? words.unknown_one : [],
    strangers > 1 ? say(words.unknown_more, { count: strangers }) : []);
  }

  function showLeftOut(left, names) {
    const told = leftOut(left, names).filter((each, at, all) => all.indexOf(each) === at);
    byId("list-left-out").hidden = !told.length;
    byId("list-left-out").replaceChildren(...(told.length ? [
      made("p", {}, [made("strong", {}, [words.left_out])]),
      made("ul", {}, told.map((each) => made("li", {}, [each])))
    ] : []));
  }

  // What this boat has not got may be another's: their names are asked for only then.
  function tellLeftOut(left) {
    telling = left;
    const all = () => new Map(Object.entries(window.sheetOptions || {}));
    const tell = () => { if (telling === left) { showLeftOut(left, all()); } };
    if (window.sheetOptions || left.every((each) => each.name)) { tell(); return; }
    showLeftOut(left, null);
    const script = made("script", { src: "../options.js" });
    ["load", "error"].forEach((end) => script.addEventListener(end, tell));
    document.head.append(script);
  }

  function put(id, count, after) {
    const before = choice.kept();
    const answer = choice.ask(id, count);
    if (answer.done) {
      changed(id, count, answer.into, before);
    } else {
      refusals.refuse(answer, id, count, after);
    }
    return answer.done;
  }

  // Shows and says what was done, what went into a package by it, and what would cost less now.
  function changed(id, count, into, before) {
    const total = money(choice.totals().price);
    const { name } = choice.item(id);
    const told = say(count ? words.added : words.taken_out, { name, total });
    const packed = say(words.goes_in, { package: name, names: refusals.named(into) });
    refusals.clear();
    box.tookIn(id, into, before);
    show();
    announce((into.length ? [packed] : []).concat(told, box.news()).join(" "));
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
    box.show();
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
    if (location.hash && !state.size) { return false; }
    finder.seek(state);
    box.forget();
    tellLeftOut(choice.read(state.get("list") || ""));
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
        refusals.clear();
        finder.filter();
        keepAddress();
      });
    });
    byId("tools").addEventListener("submit", (event) => event.preventDefault());
    byId("list-clear").addEventListener("click", () => {
      choice.take(new Map());
      box.forget();
      refusals.clear();
      tellLeftOut([]);
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
      refusals.clear();
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
  box.wire();
  if (jumped) { box.show(); showPicks(); finder.filter(); } else { show(); }
  window.boatOnPage = { choice, say, money, list, onChange };
}());
