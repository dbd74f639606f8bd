/* Exact amounts in whole smallest units, and how this page's language writes them. */
(function () {
"use strict";

function units(text, digits) {
const parts = text.replace("-", "").split(".");
const decimals = ((parts[1] || "") + "0".repeat(digits)).slice(0, digits);
const whole = Number(parts[0] + decimals);
return text.startsWith("-") ? -whole : whole;
}

function grouped(whole, style) {
if (whole.length < style.grouped_from) { return whole; }
const groups = [whole.slice(-style.sizes[0])];
let rest = whole.slice(0, -style.sizes[0]);
while (rest) {
groups.unshift(rest.slice(-style.sizes[1]));
rest = rest.slice(0, -style.sizes[1]);
}
return groups.join(style.separator);
}

function written(count, style) {
const figures = String(Math.abs(count)).padStart(style.digits + 1, "0");
const at = figures.length - style.digits;
const decimals = figures.slice(at);
const shown = style.whole && !Number(decimals) ? "" : style.decimal + decimals;
const body = grouped(figures.slice(0, at), style) + shown;
return count < 0
? style.before_negative + body + style.after_negative
: style.before + body + style.after;
}

function nearest(count, size) {
return Math.sign(count) * Math.floor((2 * Math.abs(count) + size) / (2 * size));
}

function measured(count, size, fine, whole, wholeDigits) {
return Math.abs(count) >= 10 ** (wholeDigits - 1) * size
? written(nearest(count, size), whole)
: written(nearest(count, size / 10), fine);
}

function mass(count, masses) {
const metric = masses.fine
? measured(count, 1e6, masses.fine, masses.whole, masses.whole_digits) : "";
if (!masses.pound) { return metric; }
const pound = Number(masses.pound) * 1e6;
const beside = measured(
count, pound, masses.pounds_fine, masses.pounds_whole, masses.pounds_whole_digits
);
return metric ? metric + " (" + beside + ")" : beside;
}

window.amounts = { units, written, mass };
}());

/* Words as a reader types them, held against words as a page has them: without accents, capitals
and the endings of plurals and other forms. A word is found within a longer one, too. */
(function () {
"use strict";
const FOLDED = { "ß": "ss", "æ": "ae", "œ": "oe", "ø": "o", "ł": "l", "đ": "d", "’": "'" };
const LEFT = 3; // letters that a word keeps at least
const WITHIN = 5; // letters of a stem that is looked for in the middle of a word as well

const SPELT = { de: [/([aou])e/, "$1"], nb: [/(a)a|(o)e/, "$1$2"] };

const STEPS = {
en: [
[[/ies$|ied$/, "y"], [/(ss|sh|ch|x|z)es$/, "$1"], [/'s$/, ""], [/([^su])s$/, "$1"]],
[[/(?:ing|ed)$/, ""]], [[/e$/, ""]], [[/([bdfgmnprt])\1$/, "$1"]], [[/y$/, "i"]]
],
de: [
[[/(?:ern|em|er|en|es|e)$/, ""], [/([bdfghklmnrt])s$/, "$1"], [/([lr])n$/, "$1"]],
[[/(?:er|en|est|st|e)$/, ""]]
],
fr: [
[[/eaux$/, "eau"], [/aux$/, "al"], [/[sx]$/, ""]],
[[/eu(?:x|se)$/, "eu"], [/i(?:f|ve)$/, "i"], [/er$/, ""], [/e+$/, ""]],
[[/e$/, ""]], [[/([lnrt])\1$/, "$1"]]
],
es: [[[/ces$/, "z"], [/([^aeiou])es$/, "$1"], [/s$/, ""]], [[/[aeo]$/, ""]]],
nb: [
[[/het(?:enes|ene|ens|en|er)$/, "het"], [/(?:endes|ende|ande|edes|ede)$/, ""],
[/(?:enes|ene|ane|ens|ers|ets|ast)$/, ""], [/(?:en|ar|er|as|es|et)$/, ""], [/[ae]$/, ""],
[/([bcdfghjklmnoprtvyz])s$/, "$1"]],
[[/([bdfgklmnprst])\1$/, "$1"]]
]
};

function plain(text) {
return text.normalize("NFKD").replace(/[\u0300-\u036f]/g, "").toLowerCase()
.replace(/[ßæœøłđ’]/g, (letter) => FOLDED[letter]);
}

function stripped(word, endings) {
const fitting = endings.map((each) => (each[0].test(word) ? word.replace(each[0], each[1]) : ""));
return fitting.filter((each) => each.length >= LEFT)[0] || word;
}

function forms(tag) {
const language = tag.toLowerCase().split("-")[0];
const steps = STEPS[language] || [];
const spelt = SPELT[language];
const stem = (word) => steps.reduce(stripped, word);
const wordsIn = (text) => text.split(language === "en" ? /[^\p{L}\p{N}']+/u : /[^\p{L}\p{N}]+/u)
.filter(Boolean);

function read(text) {
const letters = plain(text);
const words = wordsIn(letters);
return { letters, words: " " + words.concat(words.map(stem)).join(" ") + " " };
}

function asked(text) {
return plain(text).split(/\s+/).filter(Boolean).map((written) => {
const word = language === "fr" ? written.replace(/^(?:[cdjlmnst]|qu)'(?=.)/, "") : written;
const ways = spelt && spelt[0].test(word) ? [word, word.replace(spelt[0], spelt[1])] : [word];
return { ways, stems: ways.map(stem) };
});
}

function stands(stemmed, words) {
if (stemmed.length < LEFT) { return words.indexOf(" " + stemmed + " ") >= 0; }
return words.indexOf(" " + stemmed) >= 0 || words.indexOf(stemmed + " ") >= 0 ||
(stemmed.length >= WITHIN && words.indexOf(stemmed) >= 0);
}

function has(text, word) {
return word.ways.some((way) => text.letters.indexOf(way) >= 0) ||
word.stems.some((each) => stands(each, text.words));
}

return { asked, read, stem, fits: (text, words) => words.every((word) => has(text, word)) };
}

window.forms = forms;
}());

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
