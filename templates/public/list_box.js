/* The box of a boat's list: its lines, what is said of it, and where it opens and closes. */
window.listBox = function (page) {
  "use strict";
  const { choice, list, say, made, money, mass, byId, refusals } = page;
  const words = list.words;
  const section = byId("list");
  const opener = byId("list-open");
  const later = new Set();
  let taken = null;
  let shown = new Set();
  let fresh = [];

  function priceOf(item) {
    return choice.count(item.id) * window.amounts.units(item.price, list.money.digits);
  }

  // ---- where it opens and closes: on small screens it is one line

  function isLine() { return opener.getClientRects().length > 0; }

  function isOpen() { return section.classList.contains("open"); }

  function open(wanted) {
    section.classList.toggle("open", wanted);
    opener.setAttribute("aria-expanded", wanted ? "true" : "false");
  }

  function goTo(target) {
    if (isLine()) { open(true); }
    target.focus();
    target.scrollIntoView({ block: "nearest" });
  }

  // What scrolls by itself can be scrolled with keys, too.
  function letScroll(box) {
    if (box.scrollHeight > box.clientHeight) {
      box.tabIndex = 0;
    } else {
      box.removeAttribute("tabindex");
    }
  }

  // The room that the line takes at the end of the page, whatever the size of the letters.
  function keepRoom() {
    letScroll(section.querySelector(".notices"));
    if (!isOpen()) {
      const room = isLine() ? section.getBoundingClientRect().height : 0;
      document.documentElement.style.setProperty("--line", Math.ceil(room) + "px");
    }
  }

  function wire() {
    opener.addEventListener("click", () => open(!isOpen()));
    document.addEventListener("keydown", (event) => {
      if (event.key === "Escape" && isOpen() && isLine()) {
        open(false);
        opener.focus();
      }
    });
    // What lies over the page must not hide where the keyboard has gone.
    section.addEventListener("focusout", (event) => {
      const to = event.relatedTarget;
      if (to && !section.contains(to) && isLine()) { open(false); }
    });
    byId("to-list").addEventListener("click", (event) => {
      event.preventDefault();
      goTo(byId("list-title"));
    });
    byId("list-ask").addEventListener("click", () => {
      byId("ask").closest("details").open = true;
      goTo(byId("ask").elements.name);
    });
    if (window.ResizeObserver) {
      new ResizeObserver(keepRoom).observe(section);
      window.addEventListener("resize", keepRoom);
    }
    keepRoom();
  }

  // ---- its lines

  function quantity(item) {
    const count = choice.count(item.id);
    if (item.most === 1) { return ""; }
    const select = made("select", { "aria-label": say(words.quantity, { name: item.name }) });
    for (let n = 1; n <= item.most; n += 1) { select.append(made("option", { value: n }, [n])); }
    select.value = count;
    select.addEventListener("change", () => {
      if (!page.put(item.id, Number(select.value), select.closest("tr"))) {
        select.value = choice.count(item.id);
      } else {
        byId("line-" + item.id).querySelector("select").focus();
      }
    });
    return made("span", { class: "times" }, [select, made("span", {}, [" × "])]);
  }

  function line(item) {
    const count = choice.count(item.id);
    const out = made("button", {
      type: "button", class: "out screen", "aria-label": words.take_out + " " + item.name
    }, [words.take_out]);
    const row = made("tr", { id: "line-" + item.id }, [
      made("th", { scope: "row" }, [
        quantity(item), item.name, " ",
        made("span", { class: "under" }, [
          made("span", { class: "mass" }, [mass(count * window.amounts.units(item.mass, 6))]),
          " ", out
        ])
      ]),
      made("td", { class: "figure" }, [money(priceOf(item))])
    ]);
    out.addEventListener("click", () => {
      if (page.put(item.id, 0, row)) { byId("list-title").focus(); }
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

  function countWords(count) {
    if (!count) { return words.count_none; }
    return count === 1 ? words.count_one : say(words.count_more, { count });
  }

  function leadWords() {
    const { longest, told } = choice.leads();
    const times = told.map((each) => each.name + words.colon + each.lead);
    return [
      ...(longest ? [say(words.lead, { time: longest.lead, name: longest.name })] : []),
      ...(times.length ? [say(words.leads, { times: times.join(words.between) })] : [])
    ].join(" · ");
  }

  // ---- packages that would cost less

  function button(text, press, more) {
    const found = made("button", Object.assign({ type: "button" }, more), [text]);
    found.addEventListener("click", press);
    return found;
  }

  function swapIn(offer) {
    const before = choice.kept();
    choice.take(offer.quantities);
    page.changed(offer.id, 1, offer.into, before);
    byId("list-undo").focus();
  }

  function undo() {
    const { before, id } = taken;
    taken = null;
    choice.take(before);
    page.show();
    page.announce(say(words.restored, { total: money(choice.totals().price) }));
    (byId("offer-" + id) || byId("list-title")).focus();
  }

  function offerWords(offer) {
    return say(offer.besides.length ? words.cheaper_besides : words.cheaper, {
      package: choice.item(offer.id).name,
      saving: money(offer.saving),
      names: refusals.named(offer.into),
      besides: refusals.named(offer.besides)
    });
  }

  function offerBox(offer) {
    const { name } = choice.item(offer.id);
    const leave = button(words.not_now, () => {
      later.add(offer.id);
      showOffers();
      (isLine() ? opener : byId("list-title")).focus();
    }, { "aria-label": words.not_now + ": " + name });
    return made("div", { class: "offer" }, [
      made("p", {}, [offerWords(offer)]),
      button(say(words.swap, { package: name }), () => swapIn(offer), { id: "offer-" + offer.id }),
      " ", leave
    ]);
  }

  function undoBox() {
    const told = say(words.goes_in, {
      package: choice.item(taken.id).name, names: refusals.named(taken.into)
    });
    return made("div", { class: "offer" }, [
      made("p", {}, [told]), button(words.undo, undo, { id: "list-undo" })
    ]);
  }

  function showOffers() {
    const offers = choice.cheaper().filter((offer) => !later.has(offer.id));
    fresh = offers.filter((offer) => !shown.has(offer.id)).map(offerWords);
    shown = new Set(offers.map((offer) => offer.id));
    byId("list-offers").replaceChildren(...(taken ? [undoBox()] : []), ...offers.map(offerBox));
  }

  // What is offered since the list changed last, in words for those who don't see it appear.
  function news() { return fresh; }

  // ---- all of it

  function show() {
    const chosen = choice.chosen();
    const totals = choice.totals();
    byId("list-lines").replaceChildren(
      ...chosen.map(line), ...choice.surcharges().map(surchargeLine)
    );
    byId("list-mass").textContent = mass(totals.mass);
    ["list-total", "list-sum", "bar-total"].forEach((id) => {
      byId(id).textContent = money(totals.price);
    });
    byId("bar-count").textContent = countWords(chosen.length);
    byId("list-lead").textContent = leadWords();
    if (byId("list-standard")) {
      byId("list-standard").textContent = choice.standardLeft().map((item) => item.name).join(words.between);
    }
    byId("list-opening").hidden = !choice.standardLeft().concat(
      list.items.filter((item) => choice.isOn(item.id))
    ).some((item) => item.kind === "opening");
    document.body.classList.toggle("has-list", chosen.length > 0);
    showOffers();
  }

  // What went into a package can be taken back until the list changes again.
  function tookIn(id, into, before) { taken = into.length ? { before, id, into } : null; }

  function forget() { taken = null; }

  return { show, wire, tookIn, forget, news };
};
