/* One list kept aside in the address, as MODEL:side_door,seat*2, and the list on the page beside it.
   Another boat's data are fetched as a script from the same folder, only then. */
(function () {
  "use strict";
  const boat = window.boatOnPage;
  if (!boat) { return; }
  const byId = (id) => document.getElementById(id);
  const every = (query) => Array.from(document.querySelectorAll(query));
  const { list, carried, made, say } = boat;
  const words = list.words;
  const fetched = new Map([[list.model, list]]);
  let shown = null;

  function parted() {
    const at = carried.aside.indexOf(":");
    const model = carried.aside.slice(0, Math.max(at, 0));
    const known = model === list.model || carried.models.some((each) => each.id === model);
    return known ? { model, list: carried.aside.slice(at + 1) } : null;
  }

  // Hands over a boat's data, at once or once its script is there; null where there is none.
  function fetchBoat(model, done) {
    if (fetched.has(model)) { done(fetched.get(model)); return; }
    const script = made("script", { src: model + ".js" });
    const own = window.priceList;
    script.addEventListener("load", () => {
      fetched.set(model, window.priceList);
      window.priceList = own;
      done(fetched.get(model));
    });
    script.addEventListener("error", () => done(null));
    document.head.append(script);
  }

  // All that is aboard with a list: chosen, in a package, or standard and left where it is.
  function aboard(theirs, choice) {
    const found = new Map();
    function put(id, name, count, each) {
      const before = found.get(id) || { name, count: 0, told: [] };
      const told = (count > 1 ? count + " × " : "") + each;
      found.set(id, { name, count: before.count + count, told: before.told.concat(told) });
    }
    choice.chosen().forEach((item) => {
      const count = choice.count(item.id);
      const price = boat.money(window.amounts.units(item.price, theirs.money.digits));
      if (!item.holds) { put(item.id, item.name, count, price); return; }
      item.holds.forEach((id) => put(
        id, choice.item(id).name, count, say(words.in_package, { package: item.name })
      ));
    });
    choice.standardLeft().forEach((item) => put(item.id, item.name, 1, words.is_standard));
    return found;
  }

  function fill(sides) {
    const put = (name, texts) => texts.forEach((text, at) => {
      document.querySelector("[data-" + name + "=\"" + at + "\"]").textContent = text;
    });
    const sums = sides.map((side) => side.choice.totals());
    const has = sides.map((side) => aboard(side.list, side.choice));
    put("boat", sides.map((side) => side.list.name));
    put("total", sums.map((sum) => boat.money(sum.price)));
    const leads = sides.map((side) => side.choice.leads().longest);
    put("lead", leads.map((longest) => (longest ? longest.lead : "–")));
    byId("beside-lead").hidden = !leads.some(Boolean);
    put("mass", sums.map((sum) => boat.mass(sum.mass)));
    document.querySelector("[data-difference]").textContent = boat.money(
      sums[1].price - sums[0].price
    );
    const ids = Array.from(new Set([...has[0].keys(), ...has[1].keys()]));
    const count = (id, side) => (has[side].get(id) || { count: 0 }).count;
    const both = ids.filter((id) => count(id, 0) === count(id, 1));
    const apart = ids.filter((id) => count(id, 0) !== count(id, 1));
    const name = (id) => (has[0].get(id) || has[1].get(id)).name;
    byId("beside-only").hidden = !apart.length;
    byId("beside-rows").replaceChildren(...apart.map((id) => made("tr", {}, [
      made("th", { scope: "row" }, [name(id)]),
      ...has.map((side) => made("td", {}, [(side.get(id) || { told: ["–"] }).told.join(", ")]))
    ])));
    byId("beside-same").textContent = [
      apart.length ? "" : words.all_same,
      both.length ? say(words.on_both, { names: both.map(name).join(words.between) }) : ""
    ].filter(Boolean).join(" ");
  }

  function hide(text) {
    byId("beside").hidden = true;
    byId("aside-told").textContent = text;
  }

  function link(kept) {
    const own = list.model + ":" + boat.choice.written();
    const state = [["list", kept.list], ["tax", boat.basis.said()], ["aside", own]]
      .filter((part) => part[1]).map((part) => part[0] + "=" + part[1]).join("&");
    byId("beside-swap").href = (kept.model === list.model ? "" : kept.model + ".html") + "#" + state;
  }

  function show() {
    const kept = parted();
    shown = kept;
    if (!kept) { hide(carried.aside ? words.no_aside : ""); return; }
    fetchBoat(kept.model, (theirs) => {
      if (shown !== kept) { return; }  // another one was asked for meanwhile
      if (!theirs) { hide(words.no_aside); return; }
      const choice = window.choice(theirs);
      if (theirs !== list) { turned(theirs); }
      choice.read(kept.list);
      fill([{ list, choice: boat.choice }, { list: theirs, choice }]);
      byId("aside-told").textContent = say(words.kept_aside, {
        model: theirs.name, total: boat.money(choice.totals().price)
      });
      link(kept);
      byId("beside").hidden = false;
    });
  }

  // The other boat's prices in the way that this page shows its own.
  function turned(theirs) {
    theirs.basis = theirs.basis || window.basis(theirs);
    theirs.basis.take(boat.basis.turned());
  }

  function go() {
    const state = "#" + [boat.stated(["list", "tax", "aside"]), "from=" + list.model].filter(Boolean)
      .join("&");
    const others = carried.models.filter((model) => model.id !== list.model);
    if (byId("carry-list")) {
      byId("carry-list").replaceChildren(...others.map((model) => made("li", {}, [
        made("a", { href: model.id + ".html" + state }, [model.name]),
        made("span", {}, [carried.fitting(model)])
      ])));
    }
    const aside = boat.stated(["tax", "aside"]);
    every(".masthead nav a[href*=\"models/\"]:not([data-keeps])").forEach((model) => {
      model.hash = aside;
    });
  }

  function keep(text, focus) {
    carried.aside = text;
    boat.show();
    byId(focus).focus();
  }

  byId("aside-keep").addEventListener("click", () => {
    keep(list.model + ":" + boat.choice.written(), "beside-title");
  });
  byId("beside-clear").addEventListener("click", () => keep("", "list-title"));
  boat.onChange(() => { show(); go(); });
}());
