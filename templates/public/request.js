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
    lines.push("shown_total: " + plainAmount(boat.choice.totals().price));
    const { longest } = boat.choice.leads();
    if (longest) { lines.push("shown_lead_weeks: " + longest.weeks); }
    lines.push("customer:");
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
