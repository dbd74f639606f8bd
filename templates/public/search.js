/* Finding an option, a package or standard equipment on any boat, from the first page. Every word
   must stand in what is told of it, or in the name of a boat that has it. */
(function () {
  "use strict";
  const MOST = 12; // results shown, and boats shown with each
  const sheet = window.everyBoat;
  const forms = window.forms(document.documentElement.lang);
  const byId = (id) => document.getElementById(id);
  const box = byId("searching");
  const said = (name, values) => box.getAttribute("data-" + name)
    .replace(/\{(\w+)\}/g, (all, key) => values[key]);
  const money = (price) => window.amounts.written(
    window.amounts.units(price, sheet.money.digits), sheet.money
  );
  const boats = new Map(sheet.boats.map((boat) => [boat.id, boat]));
  sheet.boats.forEach((boat) => {
    boat.named = forms.read(boat.name);
    boat.told = forms.read(boat.name + " " + boat.text);
  });
  sheet.options.forEach((option) => {
    option.named = forms.read(option.name);
    option.told = forms.read(option.name + " " + option.text);
  });

  function made(tag, attributes, children) {
    const element = document.createElement(tag);
    Object.keys(attributes).forEach((name) => element.setAttribute(name, attributes[name]));
    element.append(...children);
    return element;
  }

  // On which boats an option answers: words that are none of its own must be of the boat's name.
  function offers(option, words) {
    const left = words.filter((word) => !forms.fits(option.told, [word]));
    if (left.length === words.length) { return []; }
    return option.on.filter((offer) => forms.fits(boats.get(offer.boat).named, left));
  }

  function offered(option, offer) {
    const place = "models/" + offer.boat + ".html#" + option.kind + "-" + option.id;
    return made("li", {}, [
      made("a", { href: place }, [boats.get(offer.boat).name]), " ",
      made("span", {}, [offer.price === null ? said("standard", {}) : money(offer.price)])
    ]);
  }

  function optionFound(option, on) {
    const shown = on.slice(0, MOST).map((offer) => offered(option, offer));
    if (on.length > MOST) {
      shown.push(made("li", {}, [made("a", { href: "list.html#option-" + option.id }, [
        said("more", { count: on.length - MOST })
      ])]));
    }
    return made("li", {}, [made("strong", {}, [option.name]), made("ul", {}, shown)]);
  }

  function boatFound(boat) {
    return made("li", {}, [made("strong", {}, [
      made("a", { href: "models/" + boat.id + ".html" }, [boat.name])
    ]), " ", made("span", {}, [money(boat.price)])]);
  }

  function results(words) {
    const found = sheet.boats.filter((boat) => forms.fits(boat.told, words))
      .map((boat) => ({ named: forms.fits(boat.named, words), show: () => boatFound(boat) }));
    sheet.options.forEach((option) => {
      const on = offers(option, words);
      if (on.length) {
        const named = words.some((word) => forms.fits(option.named, [word]));
        found.push({ named, show: () => optionFound(option, on) });
      }
    });
    return found.filter((each) => each.named).concat(found.filter((each) => !each.named));
  }

  function find() {
    const words = forms.asked(byId("find").value);
    const found = words.length ? results(words) : [];
    byId("places").replaceChildren(...found.slice(0, MOST).map((each) => each.show()));
    byId("found").textContent = !words.length ? "" : !found.length ? said("nothing", {})
      : found.length > MOST ? said("first", { count: MOST, all: found.length })
        : said("found", { count: found.length });
  }

  // The words stand in the address: #find=door
  function keepAddress() {
    const words = byId("find").value.trim();
    const hash = words ? "#find=" + encodeURIComponent(words).replace(/%20/g, "+") : "";
    history.replaceState(null, "", location.pathname + location.search + hash);
  }

  function arrive() {
    const asked = /^#find=(.*)$/.exec(location.hash);
    if (!asked) { return; }
    try {
      byId("find").value = decodeURIComponent(asked[1].replace(/\+/g, " "));
    } catch { return; } // what can't be read asks for nothing
    find();
    byId("search").scrollIntoView();
  }

  box.hidden = false;
  box.addEventListener("submit", (event) => event.preventDefault());
  byId("find").addEventListener("input", () => { find(); keepAddress(); });
  window.addEventListener("hashchange", arrive);
  arrive();
}());
