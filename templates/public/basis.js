/* Prices with tax or without, where a market shows both: each was rounded by the program itself, and
   a list only takes the one or the other. */
window.basis = function (list) {
  "use strict";
  const own = {
    price: list.price,
    delivery: list.delivery,
    items: list.items.map((item) => ({ id: item.id, price: item.price })),
    surcharges: list.surcharges.map((each) => ({ price: each.price })),
    savings: list.savings
  };
  const box = document.getElementById("basis");
  const buttons = box ? Array.from(box.querySelectorAll("input")) : [];
  const every = (query) => Array.from(document.querySelectorAll(query));
  const first = (buttons.find((each) => each.defaultChecked) || {}).value;
  let turned = false;

  function take(on) {
    turned = Boolean(on && list.other);
    const now = turned ? list.other : own;
    const prices = new Map(now.items.map((item) => [item.id, item.price]));
    list.price = now.price;
    list.delivery = now.delivery;
    list.items.forEach((item) => { item.price = prices.get(item.id); });
    list.surcharges.forEach((each, at) => { each.price = now.surcharges[at].price; });
    return now;
  }

  function write(name, prices) {
    every("[data-" + name + "]").forEach((element) => {
      const price = prices.get(element.getAttribute("data-" + name));
      element.textContent = window.amounts.written(
        window.amounts.units(price, list.money.digits), list.money
      );
    });
  }

  // The other way for what the page shows; once there, what it shows again is its own.
  function turn(on) {
    if (!list.other || on === turned) { return; }
    const now = take(on);
    write("price", new Map([["", list.price]].concat(now.items.map((e) => [e.id, e.price]))));
    write("delivery", new Map([["", list.delivery]]));
    write("saving", new Map(now.savings.map((each) => [each.id, each.saving])));
    write("surcharge", new Map(list.surcharges.map((e) => [e.option + "+" + e.colour, e.price])));
    every("[data-basis]").forEach((element) => {
      const words = element.textContent;
      element.textContent = element.getAttribute("data-basis");
      element.setAttribute("data-basis", words);
    });
    every("[data-own]").forEach((element) => { element.hidden = turned; });
    every("[data-turned]").forEach((element) => { element.hidden = !turned; });
  }

  // How prices are shown, as an address says it: nothing where that is the sheet's own way.
  function said() { return turned ? (buttons.find((each) => each.value !== first) || {}).value : ""; }

  function seek(word) {
    turn(Boolean(word) && word !== first && buttons.some((each) => each.value === word));
    buttons.forEach((each) => { each.checked = each.value === (said() || first); });
  }

  // What something comes to in the sheet's own way, whatever is shown.
  function inOwn(count) {
    const before = turned;
    take(false);
    const found = count();
    take(before);
    return found;
  }

  return { inOwn, said, seek, take, box, turned: () => turned };
};
