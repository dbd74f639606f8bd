/* What a reader takes away from the list: a printed summary, the address, a request file. */
(function () {
  "use strict";
  const boat = window.boatOnPage;
  if (!boat) { return; }
  const byId = (id) => document.getElementById(id);
  const list = boat.list;

  function today() {
    const now = new Date();
    const two = (number) => String(number).padStart(2, "0");
    return now.getFullYear() + "-" + two(now.getMonth() + 1) + "-" + two(now.getDate());
  }

  // Between double quotes a text of JSON is one of YAML too, with what YAML reads apart escaped.
  function quoted(text) {
    return JSON.stringify(text).replace(
      /[\u007f-\u009f\u2028\u2029\ufeff\ufffe\uffff\ud800-\udfff]/g,
      function (letter, at, whole) {
        const code = letter.charCodeAt(0);
        const pair = code >= 0xd800 && code <= 0xdfff;
        if (pair && /[\ud800-\udbff][\udc00-\udfff]/.test(whole.slice(Math.max(0, at - 1), at + 2))) {
          return letter;
        }
        return pair ? "\\ufffd" : "\\u" + code.toString(16).padStart(4, "0");
      }
    );
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
    const options = boat.choice.chosen().filter((item) => item.kind !== "colour");
    const colours = boat.choice.chosen().filter((item) => item.kind === "colour");
    const lines = options.length ? ["options:"] : [];
    options.forEach(function (item) {
      const count = boat.choice.count(item.id);
      lines.push("  - {option: " + item.id + (count > 1 ? ", quantity: " + count : "") + "}");
    });
    if (colours.length === 1) { return lines.concat("colour: " + colours[0].id); }
    return (lines.length || !colours.length ? lines : ["options:"]).concat(
      colours.map((item) => "  - {option: " + item.id + "}")
    );
  }

  // A request as `quoter quote` reads it.
  function requestText(asked) {
    const lines = [
      "date: " + (asked.date || today()), "price_sheet: " + quoted(list.version),
      "market: " + list.market, "language: " + list.language, "model: " + list.model
    ].concat(optionLines());
    lines.push("shown_total: " + plainAmount(boat.choice.totals().price), "customer:");
    ["name", "company", "country", "email", "phone"].forEach(function (key) {
      if (asked[key]) { lines.push("  " + key + ": " + quoted(asked[key])); }
    });
    const rows = (asked.address || "").split("\n").map((row) => row.trim()).filter(Boolean);
    if (rows.length) { lines.push("  address: [" + rows.map(quoted).join(", ") + "]"); }
    if (asked.note) { lines.push("note: " + quoted(asked.note)); }
    return lines.join("\n") + "\n";
  }

  function asked() {
    const found = {};
    Array.from(byId("ask").elements).forEach(function (field) {
      if (field.name) { found[field.name] = field.value.trim(); }
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
  byId("ask").addEventListener("submit", function (event) {
    event.preventDefault();
    download("request-" + list.model + ".yaml", requestText(asked()));
    byId("ask-done").hidden = false;
  });
  byId("list-print").addEventListener("click", function () {
    document.body.classList.add("only-list");
    window.print();
  });
  window.addEventListener("afterprint", () => document.body.classList.remove("only-list"));
  byId("list-copy").addEventListener("click", function () {
    const told = (words) => { byId("list-copied").textContent = words; };
    const fault = () => told(list.words.copy_by_hand);
    if (!navigator.clipboard) { fault(); return; }
    navigator.clipboard.writeText(location.href).then(() => told(list.words.copied), fault);
  });
  window.boatOnPage.requestText = requestText;
}());
