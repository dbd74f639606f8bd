/* What a reader takes away from the list: its address, a request file, a draft of an e-mail. */
(function () {
  "use strict";
  const boat = window.boatOnPage;
  if (!boat) { return; }
  const byId = (id) => document.getElementById(id);
  const list = boat.list;
  const MOST_LINES = 40;
  const LONGEST_MAIL = 2000;  // of a link, which some mail programs cut off beyond

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
    lines.push("shown_total: " + plainAmount(boat.basis.inOwn(boat.choice.totals).price));
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

  // A text of no more letters than that, and a sign where something was cut off.
  function cut(text, most) {
    const letters = Array.from(text);
    return letters.length > most ? letters.slice(0, Math.max(most - 1, 0)).join("") + "…" : text;
  }

  // What is asked for in words: as many options as said, with their prices or without.
  function told(shown, prices) {
    const { choice, say, money } = boat;
    const priced = (name, price) => (prices ? name + ": " + money(price) : name);
    const worth = (price) => window.amounts.units(price, list.money.digits);
    const chosen = choice.chosen();
    const totals = choice.totals();
    const lines = chosen.slice(0, shown).map((item) => {
      const count = choice.count(item.id);
      return "- " + priced((count > 1 ? count + " × " : "") + item.name, count * worth(item.price));
    });
    if (shown < chosen.length) {
      lines.push("- " + say(list.words.mail_more, { count: chosen.length - shown }));
    }
    if (prices) {
      choice.surcharges().forEach((each) => {
        lines.push("- " + priced(each.name, each.count * worth(each.price)));
      });
      if (list.delivery !== null) {
        lines.push("- " + priced(list.delivery_words, worth(list.delivery)));
      }
    }
    return [priced(list.name, worth(list.price))].concat(
      lines, say(list.words.total_told, { total: money(totals.price) + ", " + basisWords() })
    );
  }

  function basisWords() { return byId("list-basis").textContent.trim(); }

  function mailText(given, shown, prices, long) {
    const { say } = boat;
    const web = boat.webAddress();
    const whose = ["name", "company", "address", "country", "email", "phone"]
      .slice(0, long ? 6 : 1).map((key) => cut(rowsOf(given[key] || "").join(", "), long ? 200 : 60));
    const lead = byId("list-lead").textContent;
    return [list.words.mail_ask, ""].concat(
      told(shown, prices), long && lead ? [lead] : [], say(list.words.mail_sheet, { version: list.version }),
      web ? ["", say(list.words.mail_list, { address: web })] : [],
      given.note && long ? ["", cut(noteOf(given.note), long)] : [], "", whose.filter(Boolean)
    ).join("\n").trim();
  }

  // A link to a draft by RFC 6068: lines end in CR LF, and all is bytes of UTF-8 behind per cents.
  function mailLink(given) {
    const count = boat.choice.chosen().length;
    const ways = [[count, true, 900], [count, true, 300], [count, false, 100], [count, false, 0]];
    for (let shown = count - 1; shown >= 0; shown -= 1) { ways.push([shown, false, 0]); }
    const subject = boat.say(list.words.mail_subject, { model: list.name });
    let link = "";
    ways.some((way) => {
      const body = mailText(given, ...way).replace(/\n/g, "\r\n");
      link = (byId("ask-mail").dataset.mail || "mailto:") + "?subject=" +
        encodeURIComponent(subject) + "&body=" + encodeURIComponent(body);
      return link.length < LONGEST_MAIL;
    });
    return link;
  }

  function draft() { byId("ask-mail").href = mailLink(asked()); }

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
  byId("list-copy").addEventListener("click", () => {
    const answer = (words) => { byId("list-copied").textContent = words; };
    const fault = () => answer(list.words.copy_by_hand);
    if (!navigator.clipboard) { fault(); return; }
    navigator.clipboard.writeText(location.href).then(() => answer(list.words.copied), fault);
  });
  byId("ask").addEventListener("input", draft);
  boat.onChange(draft);
  Object.assign(boat, { requestText, mailLink });
}());
