/* A model's page as a reader uses it: a list of options for one boat that stands in the address.
   Without this script the page is a complete price list. */
(function () {
  "use strict";
  const STATE = ["list", "find", "group", "open", "tax", "aside", "from"];
  const IN_ANY_LANGUAGE = ["list", "open", "tax", "aside"];
  const list = window.priceList;
  const words = list.words;
  const choice = window.choice(list);
  const finder = window.finder(choice, words, say);
  const basis = window.basis(list);
  const byId = (id) => document.getElementById(id);
  const every = (query) => Array.from(document.querySelectorAll(query));
  const money = (count) => window.amounts.written(count, list.money);
  const mass = (count) => window.amounts.mass(count, list.masses);
  let place = ""; // the option or heading that the address leads to
  const listeners = [];
  const page = {
    choice, list, say, made, money, mass, byId, every, announce, put, changed, show
  };
  const refusals = window.refusals(page);
  const box = window.listBox(Object.assign(page, { refusals }));
  const carried = window.carried(list, choice, say, refusals);
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
    const parts = [["list", choice.written()]].concat(
      finder.sought(), [["tax", basis.said()], ["aside", carried.aside]]
    );
    const said = parts.filter((part) => part[1] && names.indexOf(part[0]) >= 0);
    return said.map((part) => part[0] + "=" + encodeURIComponent(part[1])
      .replace(/%2C/g, ",").replace(/%3A/g, ":").replace(/%20/g, "+")).join("&");
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

  // What of an address is not as it was, in words: names and reasons, never what stood there.
  function tellArrived(told) {
    byId("list-left-out").hidden = !told.left.concat(told.notes).length;
    byId("list-left-out").replaceChildren(...(told.left.length ? [
      made("p", {}, [made("strong", {}, [words.left_out])]),
      made("ul", {}, told.left.map((each) => made("li", {}, [each])))
    ] : []), ...told.notes.map((each) => made("p", {}, [each])));
  }

  // Who goes on to something else is no longer where the address led to.
  function leavePlace() {
    place = "";
    mark(false);
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
    leavePlace();
    box.tookIn(id, into, before);
    show();
    announce((into.length ? [packed] : []).concat(told, box.news()).join(" "));
  }

  function showPicks() {
    every("[data-pick]").forEach((tick) => {
      tick.checked = choice.count(tick.getAttribute("data-pick")) > 0;
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
    place = placeIn(location.hash);
    if (location.hash && !state.size) { return false; }
    finder.seek(state);
    basis.seek(state.get("tax"));
    carried.aside = state.get("aside") || "";
    box.forget();
    tellArrived(carried.arrive(state.get("list") || "", state.get("from")));
    return true;
  }

  function wire() {
    every("[data-pick]").forEach((tick) => {
      tick.addEventListener("change", () => {
        if (!put(tick.getAttribute("data-pick"), tick.checked ? 1 : 0, tick.closest("tr"))) {
          tick.checked = !tick.checked;
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
        leavePlace();
        finder.filter();
        keepAddress();
      });
    });
    byId("tools").addEventListener("submit", (event) => event.preventDefault());
    byId("list-clear").addEventListener("click", () => {
      choice.take(new Map());
      box.forget();
      refusals.clear();
      leavePlace();
      tellArrived({ left: [], notes: [] });
      show();
      byId("list-title").focus();
    });
    if (basis.box) {
      basis.box.addEventListener("change", (event) => {
        basis.seek(event.target.value);
        refusals.clear();
        show();
      });
    }
    window.addEventListener("hashchange", arrive);
  }

  // A new address brings a new list. A jump within the page takes the list out of the address for
  // a moment, and going back from it must bring no older one.
  function arrive() {
    const before = history.state ? history.state.reading : null;
    if (before !== reading && readAddress()) {
      reading = before === null ? reading + 1 : before;
      refusals.clear();
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
  box.wire();
  if (jumped && !place) { box.show(); showPicks(); finder.filter(); } else { show(); }
  mark(!jumped);
  window.boatOnPage = {
    choice, say, money, mass, list, made, basis, carried, stated, show, onChange
  };
  onChange(() => window.drawn.show(choice, list.items));
}());
