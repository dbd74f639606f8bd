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

/* A list of options on one boat that always keeps the rules; no page is needed for it. The rules
are those of the program itself: `list.check` was written from them. */
(function () {
"use strict";

function choice(list) {
const items = new Map(list.items.map((item) => [item.id, item]));
let chosen = new Map();

function checked(quantities) {
return list.check.apply(null, list.items.map((item) => quantities.get(item.id) || 0));
}

function letters(number) { return String(number).replace(/\d/g, (d) => "abcdefghij"[d]); }

function broken(quantities) {
const found = checked(quantities);
return list.rules.filter((rule, number) => found["r_" + letters(number)] === 0);
}

function holders(option) {
return list.items.filter((item) => (item.holds || []).indexOf(option) >= 0);
}

function isOn(option, quantities) {
return (quantities.get(option) || 0) > 0 ||
holders(option).some((item) => (quantities.get(item.id) || 0) > 0);
}

function put(quantities, id, count) {
if (count > 0) { quantities.set(id, count); } else { quantities.delete(id); }
}

function leaveOff(quantities, option, wanted) {
[option].concat(holders(option).map((item) => item.id)).forEach((id) => {
if (id !== wanted) { quantities.delete(id); }
});
}

function aboard(option, quantities) {
return isOn(option, quantities) || checked(quantities)["s_" + option] > 0;
}

function within(id) { return [id].concat((items.get(id) || {}).holds || []); }

function withNeeds(id) {
const found = new Set(within(id));
found.forEach((option) => {
list.rules.forEach((rule) => {
if (rule.kind === "needs" && rule.option === option) { found.add(rule.others[0]); }
});
});
return found;
}

function mend(rule, quantities, id, must) {
if (rule.kind === "needs" && must.has(rule.option)) {
const needed = rule.others[0];
if (items.has(needed)) { put(quantities, needed, 1); return; }
list.items.filter((item) => (item.instead_of || []).indexOf(needed) >= 0)
.forEach((item) => { leaveOff(quantities, item.id, id); });
return;
}
[rule.option].concat(rule.kind === "needs" ? [] : rule.others).forEach((option) => {
if (!must.has(option)) { leaveOff(quantities, option, id); }
});
if (rule.kind === "most") { makeRoom(quantities, rule.option, id); }
}

function makeRoom(quantities, option, id) {
const alone = quantities.get(option) || 0;
if (id !== option && within(id).indexOf(option) >= 0 && alone) {
put(quantities, option, alone - 1);
} else {
leaveOff(quantities, option, id);
}
}

function mended(id, count) {
const quantities = new Map(chosen);
const must = count ? withNeeds(id) : new Set();
put(quantities, id, count);
for (let round = 0; round <= list.rules.length; round += 1) {
const rules = broken(quantities);
if (!rules.length) { return quantities; }
const first = rules.filter((rule) => rule.kind === "needs").concat(rules)[0];
mend(first, quantities, id, must);
if ((quantities.get(id) || 0) !== count) { return null; }
}
return null;
}

function difference(from, to, asked) {
const ids = list.items.map((item) => item.id).filter((id) => id !== asked);
const less = ids.filter((id) => (from.get(id) || 0) > (to.get(id) || 0));
const filled = to.get(asked) ? within(asked) : [];
return {
added: ids.filter((id) => !from.get(id) && to.get(id)),
removed: less.filter((id) => filled.indexOf(id) < 0),
into: less.filter((id) => filled.indexOf(id) >= 0)
};
}

function packed(item) {
const quantities = new Map(chosen);
const into = item.holds.filter((id) => quantities.get(id));
into.forEach((id) => put(quantities, id, quantities.get(id) - 1));
put(quantities, item.id, 1);
return { id: item.id, into, quantities };
}

function cheaper() {
const now = totals(chosen).price;
return list.items.filter((item) => item.holds && !chosen.get(item.id)).map(packed)
.filter((offer) => offer.into.length && !broken(offer.quantities).length)
.map((offer) => Object.assign(offer, {
besides: items.get(offer.id).holds.filter((id) => offer.into.indexOf(id) < 0),
saving: now - totals(offer.quantities).price
}))
.filter((offer) => offer.saving > 0)
.sort((one, other) => other.saving - one.saving);
}

function ask(id, count, asWritten) {
const item = items.get(id);
const wanted = Math.max(0, Math.min(count, item.most));
const quantities = new Map(chosen);
put(quantities, id, wanted);
const rules = broken(quantities);
if (!rules.length) {
chosen = quantities;
return { done: true, into: [] };
}
const all = item.holds && wanted && !asWritten ? packed(item) : null;
if (all && all.into.length && !broken(all.quantities).length) {
chosen = all.quantities;
return { done: true, into: all.into };
}
const instead = mended(id, wanted);
return {
done: false,
rules: rules.map((rule) => Object.assign({}, rule, {
sides: rule.others.filter((option) => aboard(option, quantities))
})),
instead,
difference: instead && difference(chosen, instead, id)
};
}

function take(quantities) { chosen = new Map(quantities); }

function surcharges(quantities) {
const amount = (item) => quantities.get(item.id) || 0;
const withIt = (id) => list.items.filter((item) => within(item.id).indexOf(id) >= 0);
return list.surcharges.map((each) => {
let count = 0;
withIt(each.option).forEach((item) => withIt(each.colour).forEach((colour) => {
if (item !== colour) { count += amount(item) * amount(colour); }
}));
return { name: each.name, price: each.price, count };
}).filter((each) => each.count > 0);
}

function totals(quantities) {
const digits = list.money.digits;
let price = window.amounts.units(list.price, digits);
let mass = window.amounts.units(list.mass, 6);
if (list.delivery !== null) { price += window.amounts.units(list.delivery, digits); }
quantities.forEach((count, id) => {
price += count * window.amounts.units(items.get(id).price, digits);
mass += count * window.amounts.units(items.get(id).mass, 6);
});
surcharges(quantities).forEach((each) => {
price += each.count * window.amounts.units(each.price, digits);
});
return { price, mass };
}

function leads() {
const ids = [].concat(...list.items.filter((item) => chosen.has(item.id))
.map((item) => item.holds || [item.id]));
const all = [list].concat(ids.filter((id, at) => ids.indexOf(id) === at).map(
(id) => items.get(id)
));
return {
longest: all.filter((each) => each.weeks).reduce(
(one, other) => (one && one.weeks >= other.weeks ? one : other), null
),
told: all.filter((each) => each.lead && !each.weeks)
};
}

function written() {
return list.items.filter((item) => chosen.has(item.id)).map((item) => {
const count = chosen.get(item.id);
return count > 1 ? item.id + "*" + count : item.id;
}).join(",");
}

function parsed(each) {
const parts = each.split("*");
const item = items.get(parts[0]);
const count = parts.length === 1 ? 1 : Number(parts[1]);
const readable = parts.length === 1 || (parts.length === 2 && /^\d+$/.test(parts[1]));
const sound = Boolean(item) && readable && count > 0 && count <= item.most;
return { id: parts[0], count, name: item ? item.name : null, sound };
}

function read(text) {
const all = text.split(",").filter(Boolean).map(parsed);
const sound = all.filter((each) => each.sound);
const whole = new Map(sound.map((each) => [each.id, each.count]));
if (!broken(whole).length) {
chosen = whole;
return all.filter((each) => !each.sound);
}
chosen = new Map();
let waiting = all;
let before = -1;
while (waiting.length !== before) {
before = waiting.length;
waiting = waiting.filter((each) => !each.sound || !ask(each.id, each.count, true).done);
}
waiting.filter((each) => each.sound).forEach((each) => {
each.rules = ask(each.id, each.count, true).rules;
});
return waiting;
}

return {
item: (id) => items.get(id),
count: (id) => chosen.get(id) || 0,
chosen: () => list.items.filter((item) => chosen.has(item.id)),
isOn: (option) => isOn(option, chosen),
holders,
standardLeft: () => list.standard.filter((item) => checked(chosen)["s_" + item.id] > 0),
couldBeAdded (id) {
const quantities = new Map(chosen);
put(quantities, id, (chosen.get(id) || 0) + 1);
return (chosen.get(id) || 0) < items.get(id).most && !broken(quantities).length;
},
ask,
take,
cheaper,
leads,
surcharges: () => surcharges(chosen),
totals: (quantities) => totals(quantities || chosen),
kept: () => new Map(chosen),
written,
read
};
}

window.choice = choice;
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

/* Finding options on a model's page: by words, by group, or only what can still be added. */
window.finder = function (choice, words, say) {
"use strict";
const forms = window.forms(document.documentElement.lang);
const texts = new Map();
const byId = (id) => document.getElementById(id);
const every = (query) => Array.from(document.querySelectorAll(query));

function fits(article, asked, group) {
const id = article.getAttribute("data-item");
return forms.fits(texts.get(id), asked) &&
(!group || article.getAttribute("data-group") === group) &&
(!byId("still-open").checked || choice.count(id) > 0 || choice.couldBeAdded(id));
}

function filter() {
const asked = forms.asked(byId("find").value);
const group = byId("group").value;
const articles = every("[data-item]");
let shown = 0;
articles.forEach((article) => {
const fit = fits(article, asked, group);
shown += fit ? 1 : 0;
article.closest("li").hidden = !fit;
byId("row-" + article.getAttribute("data-item")).hidden = !fit;
});
every("#prices tbody").forEach((body) => {
body.hidden = !body.querySelector("tr[id]:not([hidden])");
});
every("[data-filtered]").forEach((section) => {
section.hidden = !section.querySelector("li:not([hidden]) [data-item]");
});
filterStandard(asked, group);
byId("found").textContent = shown
? say(words.shown, { count: shown, all: articles.length }) : words.nothing;
byId("find-everywhere").href = everywhere + (asked.length
? "#find=" + encodeURIComponent(byId("find").value.trim()) : "#search");
}

function filterStandard(asked, group) {
const section = byId("standard") && byId("standard").closest("section");
if (!section) { return; }
section.querySelectorAll("article").forEach((article) => {
article.closest("li").hidden = asked.length > 0 && !forms.fits(read(article), asked);
});
section.hidden = Boolean(group) || byId("still-open").checked ||
!section.querySelector("li:not([hidden]) article");
}

function sought() {
return [
["find", byId("find").value.trim()], ["group", byId("group").value],
["open", byId("still-open").checked ? "1" : ""]
];
}

function seek(state) {
byId("find").value = state.get("find") || "";
byId("group").value = state.get("group") || "";
if (byId("group").selectedIndex < 0) { byId("group").value = ""; }
byId("still-open").checked = state.get("open") === "1";
}

function reveal(target) {
if (target.closest("[hidden]")) {
seek(new Map());
filter();
}
target.scrollIntoView();
}

function read(article) {
const copy = article.cloneNode(true);
copy.querySelectorAll("button, .sign").forEach((button) => button.remove());
return forms.read(copy.textContent);
}

const everywhere = byId("find-everywhere").getAttribute("href").split("#")[0];
every("[data-item]").forEach((article) => {
texts.set(article.getAttribute("data-item"), read(article));
});
return { filter, reveal, seek, sought };
};

/* The list on the drawing of the boat: what is on it is marked at its place, in its hull colour. */
(function () {
"use strict";
const drawing = document.getElementById("drawn");
const every = (query) => Array.from(document.querySelectorAll(query));

function aboard(choice, items) {
const counts = new Map(choice.standardLeft().map((item) => [item.id, 1]));
items.forEach((item) => {
const chosen = choice.count(item.id);
(item.holds || [item.id]).forEach((id) => {
if (chosen) { counts.set(id, (counts.get(id) || 0) + chosen); }
});
});
return counts;
}

function hull(counts) {
const words = drawing.getAttribute("data-colours").split(" ");
let found = drawing.getAttribute("data-hull");
for (let at = 0; at + 1 < words.length; at += 2) {
if (counts.get(words[at])) { found = words[at + 1]; }
}
return found;
}

function show(choice, items) {
if (!drawing) { return; }
const counts = aboard(choice, items);
const has = (wanted) => {
const parts = wanted.split("*");
return (counts.get(parts[0]) || 0) >= Number(parts[1] || 1);
};
every("[data-mark]").forEach((mark) => {
const there = has(mark.getAttribute("data-mark"));
if (there) { mark.removeAttribute("display"); } else { mark.setAttribute("display", "none"); }
});
every("[data-marked]").forEach((words) => {
words.hidden = !has(words.getAttribute("data-marked"));
});
const colour = hull(counts);
drawing.querySelectorAll(".tops").forEach((path) => {
if (colour) { path.setAttribute("fill", colour); } else { path.removeAttribute("fill"); }
});
}

window.drawn = { show };
}());

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

function said() { return turned ? (buttons.find((each) => each.value !== first) || {}).value : ""; }

function seek(word) {
turn(Boolean(word) && word !== first && buttons.some((each) => each.value === word));
buttons.forEach((each) => { each.checked = each.value === (said() || first); });
}

function inOwn(count) {
const before = turned;
take(false);
const found = count();
take(before);
return found;
}

return { inOwn, said, seek, take, box, turned: () => turned };
};

/* What a reader is told where a list can't be had as asked: the rules in words, and a way out. */
window.refusals = function (page) {
"use strict";
const { choice, list, say, made, money, byId, every } = page;
const words = list.words;

function nameOf(id) {
const found = choice.item(id) || list.standard.filter((item) => item.id === id)[0];
return found ? found.name : "";
}

function named(ids) { return ids.map(nameOf).join(words.between); }

function holdersOf(rule, id) {
return choice.holders(rule.option).filter((each) => each.id !== id && choice.count(each.id));
}

function held(rule, id) {
return holdersOf(rule, id).map((each) => say(words.held, {
option: nameOf(rule.option), package: each.name
}));
}

function reasons(rule, id) {
const told = say(rule.words, { options: named(rule.sides || []) });
if (rule.kind !== "most") { return [told]; }
const packed = held(rule, id);
return packed.length && choice.item(rule.option).most === 1 ? packed : [told].concat(packed);
}

function all(rules, id) {
const found = [].concat(...rules.map((rule) => reasons(rule, id)));
return found.filter((reason, at) => found.indexOf(reason) === at);
}

function clear() {
every("tr.refused, article .refusal").forEach((old) => old.remove());
}

function refuse(answer, id, count, after) {
clear();
const rules = answer.rules;
const why = all(rules, id);
const there = choice.item(id).most === 1 && rules.every((rule) => rule.kind === "most" &&
rule.option === id && held(rule, id).length);
const told = there ? why.join(" ")
: say(count ? words.refused : words.kept, { name: nameOf(id) });
const box = made("div", { class: "refusal" }, [made("p", {}, [made("strong", {}, [told])])]);
if (!there) { box.append(made("ul", {}, why.map((each) => made("li", {}, [each])))); }
if (answer.instead) { box.append(...wayOut(answer, id, count, after)); }
if (after.tagName === "TR") {
const cell = made("td", { colspan: after.cells.length }, [box]);
after.after(made("tr", { class: "refused" }, [cell]));
} else {
after.querySelector(".amount").after(box);
}
box.scrollIntoView({ block: "nearest" });
page.announce([told].concat(there ? [] : why).join(" "));
}

function offered(answer, id, count) {
const { added, removed } = answer.difference;
const kind = added.length && removed.length ? "fix_both" : added.length ? "fix_add" : "fix_out";
return say(words[count ? kind : kind + "_too"], {
name: count > 1 ? count + " × " + nameOf(id) : nameOf(id),
added: named(added),
removed: named(removed)
});
}

function wayOut(answer, id, count, after) {
const { into } = answer.difference;
const total = say(words.then, { total: money(choice.totals(answer.instead).price) });
const packed = say(words.goes_in, { package: nameOf(id), names: named(into) });
const button = made("button", { type: "button" }, [offered(answer, id, count)]);
button.addEventListener("click", () => {
const before = choice.kept();
choice.take(answer.instead);
page.changed(id, count, into, before);
const back = after.isConnected ? after.querySelector("input, button, select") : null;
(back || byId("list-title")).focus();
});
return [
...(into.length ? [made("p", {}, [packed])] : []), button,
made("span", { class: "small" }, [" " + total])
];
}

return { refuse, clear, all, named };
};

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

function letScroll(box) {
if (box.scrollHeight > box.clientHeight) {
box.tabIndex = 0;
} else {
box.removeAttribute("tabindex");
}
}

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

function news() { return fresh; }


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

function tookIn(id, into, before) { taken = into.length ? { before, id, into } : null; }

function forget() { taken = null; }

return { show, wire, tookIn, forget, news };
};

/* A list that was brought along in the address: from another boat, another market, or a stranger.
What of it has no place on this boat is told with the reason, by names. */
window.carried = function (list, choice, say, refusals) {
"use strict";
const words = list.words;
const every = window.everyBoat || { boats: [], options: [] };
const names = new Map(every.options.map((each) => [each.id, each.name]));
const packages = new Map(every.options.map((each) => [each.id, each.holds || []]));
const on = (boat, standard) => every.options.filter((option) => option.on.some((offer) =>
offer.boat === boat.id && (offer.price === null) === standard)).map((option) => option.id);
const models = every.boats.map((boat) => ({
id: boat.id, name: boat.name, options: on(boat, false), standard: on(boat, true)
}));
const standard = new Map(list.standard.map((item) => [item.id, item.name]));
const joined = (found) => found.filter((name, at) => found.indexOf(name) === at).join(words.between);

function sorted(text) {
const found = { taken: [], left: [], notes: [], strange: 0 };

function missing(id) {
const there = models.filter((each) => each.standard.indexOf(id) >= 0);
return say(there.length ? words.standard_there : words.not_here, {
name: names.get(id), boats: joined(there.map((each) => each.name))
});
}

function place(id, count) {
const item = choice.item(id);
const holds = packages.get(id) || [];
if (item) {
const most = Math.min(count, item.most);
if (most > 0) { found.taken.push(id + "*" + most); }
if (most < count || !most) {
found.left.push(say(words.too_many, { name: item.name, most: item.most }));
}
} else if (standard.has(id)) {
found.left.push(say(words.standard_here, { name: standard.get(id) }));
} else if (holds.some((each) => choice.item(each) || standard.has(each))) {
found.notes.push(say(words.here_opened, { names: names.get(id) }));
holds.forEach((each) => place(each, 1));
} else if (names.has(id)) {
found.left.push(missing(id));
} else {
found.strange += 1;
}
}

text.split(",").filter(Boolean).forEach((part) => {
const pieces = part.split("*");
const sound = pieces.length === 1 || (pieces.length === 2 && /^\d+$/.test(pieces[1]));
place(pieces[0], pieces.length === 1 ? 1 : sound ? Number(pieces[1]) : 0);
});
return found;
}

function extras(from) {
const model = models.find((each) => each.id === from && from !== list.model);
const found = model ? model.standard.filter((id) => choice.item(id) && !choice.isOn(id)) : [];
return found.length ? [say(words.here_extra, {
model: model.name, names: joined(found.map((id) => choice.item(id).name))
})] : [];
}

function arrive(text, from) {
const found = sorted(text);
const broken = choice.read(found.taken.join(",")).map((each) => refusals.all(each.rules, each.id));
const strangers = found.strange === 1 ? words.unknown_one : words.unknown_more;
const told = found.left.concat(
...broken, found.strange ? say(strangers, { count: found.strange }) : []
);
return {
left: told.filter((each, at) => told.indexOf(each) === at),
notes: found.notes.concat(extras(from))
};
}

function fitting(model) {
const chosen = choice.chosen();
const has = (id) => model.options.concat(model.standard).indexOf(id) >= 0;
const there = chosen.filter((item) => has(item.id) || (item.holds || []).some(has));
return chosen.length ? say(words.some_there, { count: there.length, all: chosen.length }) : "";
}

return { arrive, fitting, models, aside: "" };
};

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

function placeIn(hash) {
const id = hash.replace(/^#/, "").split("&")[0];
const found = id.indexOf("=") < 0 && byId(id);
return found && found.matches("article, h2, h3") ? id : "";
}

function mark(jump) {
every(".sought").forEach((old) => old.classList.remove("sought"));
const target = place && byId(place);
if (!target) { return; }
target.classList.add("sought");
if (!jump && !target.closest("[hidden]")) { return; }
finder.reveal(target);
keepAddress();
}

function tellArrived(told) {
byId("list-left-out").hidden = !told.left.concat(told.notes).length;
byId("list-left-out").replaceChildren(...(told.left.length ? [
made("p", {}, [made("strong", {}, [words.left_out])]),
made("ul", {}, told.left.map((each) => made("li", {}, [each])))
] : []), ...told.notes.map((each) => made("p", {}, [each])));
}

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

function show() {
box.show();
showPicks();
finder.filter();
keepAddress();
listeners.forEach((listener) => listener());
}

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

/* A QR symbol of a text: bytes at level M in the smallest version that holds them, by ISO/IEC 18004.
What comes back are rows of modules, 1 for dark; the quiet zone is left to whoever draws it. */
(function () {
"use strict";
const CORRECTION = [10, 16, 26, 18, 24, 16, 18, 22, 22, 26, 30, 22, 22, 24, 24, 28, 28, 26, 26, 26]
.concat([26], new Array(19).fill(28));
const BLOCKS = [
1, 1, 1, 2, 2, 4, 4, 4, 5, 5, 5, 8, 9, 9, 10, 10, 11, 13, 14, 16,
17, 17, 18, 20, 21, 23, 25, 26, 28, 29, 31, 33, 35, 37, 38, 40, 43, 45, 47, 49
];
const MASKS = [
(y, x) => (y + x) % 2, (y) => y % 2, (y, x) => x % 3, (y, x) => (y + x) % 3,
(y, x) => (Math.floor(y / 2) + Math.floor(x / 3)) % 2, (y, x) => (y * x) % 2 + (y * x) % 3,
(y, x) => ((y * x) % 2 + (y * x) % 3) % 2, (y, x) => ((y + x) % 2 + (y * x) % 3) % 2
];
const range = (count) => Array.from({ length: count }, (each, at) => at);
const bits = (value, count) => range(count).map((at) => (value >> (count - 1 - at)) & 1);

function capacity(version) {
const lines = version < 2 ? 0 : Math.floor(version / 7) + 2;
const taken = lines ? (25 * lines - 10) * lines - 55 : 0;
const modules = (16 * version + 128) * version + 64 - taken - (version < 7 ? 0 : 36);
return Math.floor(modules / 8);
}

function times(a, b) {
return bits(b, 8).reduce(
(product, bit) => (product << 1) ^ ((product >> 7) * 285) ^ (bit * a), 0
);
}

function generator(degree) {
let root = 1;
const found = new Array(degree - 1).fill(0).concat(1);
range(degree).forEach(() => {
range(degree).forEach((at) => {
found[at] = times(found[at], root) ^ (at + 1 < degree ? found[at + 1] : 0);
});
root = times(root, 2);
});
return found;
}

function correction(data, divisor) {
const rest = divisor.map(() => 0);
data.forEach((byte) => {
const factor = byte ^ rest.shift();
rest.push(0);
divisor.forEach((each, at) => { rest[at] ^= times(each, factor); });
});
return rest;
}

function versionFor(bytes) {
return range(40).map((at) => at + 1).find((version) => {
const room = capacity(version) - CORRECTION[version - 1] * BLOCKS[version - 1];
return 4 + (version < 10 ? 8 : 16) + 8 * bytes.length <= 8 * room;
});
}

function codewords(bytes, version) {
const blocks = BLOCKS[version - 1];
const extra = CORRECTION[version - 1];
const room = capacity(version) - extra * blocks;
const said = [].concat(
bits(4, 4), bits(bytes.length, version < 10 ? 8 : 16), ...bytes.map((byte) => bits(byte, 8))
);
const data = range(Math.min(room, Math.ceil((said.length + 4) / 8))).map((at) => range(8).reduce(
(value, bit) => value * 2 + (said[at * 8 + bit] || 0), 0
));
for (let pad = 236; data.length < room; pad = pad === 236 ? 17 : 236) { data.push(pad); }
const divisor = generator(extra);
const parts = range(blocks).map((block) => data.splice(
0, Math.floor(room / blocks) + (block < blocks - room % blocks ? 0 : 1)
));
const checks = parts.map((part) => correction(part, divisor));
const woven = (lists) => [].concat(...range(Math.max(...lists.map((list) => list.length)))
.map((place) => lists.filter((list) => place < list.length).map((list) => list[place])));
return woven(parts).concat(woven(checks));
}

function aligned(version) {
const count = Math.floor(version / 7) + 2;
const step = version === 32 ? 26 : Math.ceil((4 * version + 4) / (2 * count - 2)) * 2;
const places = range(count - 1).map((at) => 4 * version + 10 - (count - 2 - at) * step);
return version < 2 ? [] : [6].concat(places);
}

function labelled(rows, format, version) {
const size = rows.length;
bits(format, 15).reverse().forEach((bit, at) => {
rows[at < 6 ? at : at < 8 ? at + 1 : size - 15 + at][8] = bit;
rows[8][at < 8 ? size - 1 - at : at < 9 ? 7 : 14 - at] = bit;
});
rows[size - 8][8] = format ? 1 : 0;
bits(version, size < 45 ? 0 : 18).reverse().forEach((bit, at) => {
const far = size - 11 + at % 3;
rows[Math.floor(at / 3)][far] = rows[far][Math.floor(at / 3)] = bit;
});
return rows;
}

function frame(version) {
const size = 17 + 4 * version;
const rows = range(size).map(() => new Array(size).fill(undefined));
const square = (y, x, reach, dark) => range(2 * reach + 1).forEach((down) => {
range(2 * reach + 1).forEach((along) => {
const row = rows[y - reach + down];
if (row && x - reach + along >= 0 && x - reach + along < size) {
row[x - reach + along] = dark(Math.max(Math.abs(down - reach), Math.abs(along - reach)));
}
});
});
range(size).forEach((at) => { rows[6][at] = rows[at][6] = 1 - at % 2; });
[[3, 3], [3, size - 4], [size - 4, 3]].forEach((place) => {
square(place[0], place[1], 4, (far) => (far === 2 || far === 4 ? 0 : 1));
});
const places = aligned(version);
places.forEach((y, down) => places.forEach((x, along) => {
const corners = [down, along].filter((at) => at === 0 || at === places.length - 1).length;
if (corners < 2 || (down && along)) { square(y, x, 2, (far) => (far === 1 ? 0 : 1)); }
}));
return labelled(rows, 0, 0);
}

function filled(empty, data, mask) {
const rows = empty.map((row) => row.slice());
let at = 0;
for (let right = rows.length - 1; right > 0; right -= right === 8 ? 3 : 2) {
rows.forEach((row, step) => [right, right - 1].forEach((x) => {
const y = (right + 1) & 2 ? step : rows.length - 1 - step;
if (empty[y][x] === undefined) {
rows[y][x] = (data[at] || 0) ^ (MASKS[mask](y, x) === 0 ? 1 : 0);
at += 1;
}
}));
}
return rows;
}

function finders(line) {
let found = 0;
for (let at = line.indexOf("1011101"); at >= 0;) {
const beside = ["0000" + line, (line + "0000").slice(7)];
const alone = beside.some((each) => each.slice(at, at + 4) === "0000");
found += alone ? 40 : 0;
at = line.indexOf("1011101", at + (alone ? 7 : 4));
}
return found;
}

function penalty(rows) {
const lines = rows.map((row) => row.join(""))
.concat(rows.map((each, x) => rows.map((row) => row[x]).join("")));
const runs = [].concat(...lines.map((line) => line.match(/0{5,}|1{5,}/g) || []));
let sum = runs.reduce((all, run) => all + run.length - 2, 0)
+ lines.reduce((all, line) => all + finders(line), 0);
let dark = 0;
rows.forEach((row, y) => row.forEach((module, x) => {
dark += module;
const four = y && x ? module + row[x - 1] + rows[y - 1][x] + rows[y - 1][x - 1] : 2;
sum += four % 4 ? 0 : 3;
}));
return sum + 10 * Math.floor(Math.abs(dark * 100 / rows.length ** 2 - 50) / 5);
}

function coded(value, count, polynomial) {
let rest = value;
range(count).forEach(() => { rest = (rest << 1) ^ ((rest >> (count - 1)) * polynomial); });
return (value << count) | rest;
}

window.qr = function (text) {
const bytes = Array.from(new TextEncoder().encode(text));
const version = versionFor(bytes);
if (!version) { return null; }
const data = [].concat(...codewords(bytes, version).map((byte) => bits(byte, 8)));
const empty = frame(version);
const masked = MASKS.map((each, mask) => filled(empty, data, mask));
const worth = masked.map(penalty);
const best = worth.indexOf(Math.min(...worth));
return labelled(masked[best], coded(best, 10, 1335) ^ 21522, coded(version, 12, 7973));
};
}());

/* The list on one sheet of paper: its lines, the day by the browser's clock, and its address as a
text and as a symbol, where the price sheet has one on the web. */
(function () {
"use strict";
const boat = window.boatOnPage;
if (!boat) { return; }
const SVG = "http://www.w3.org/2000/svg";
const QUIET = 4;  // modules of light around a symbol
const MODULE = 0.42;  // mm, which a phone's camera reads from paper
const byId = (id) => document.getElementById(id);
const list = boat.list;
const summary = byId("summary");
const without = byId("summary-address").textContent;
const made = boat.made;
const units = (price) => window.amounts.units(price, list.money.digits);

function address() {
const served = location.protocol === "file:" ? "" : location.href.split("#")[0];
const page = summary.dataset.address || served;
const state = boat.stated(["list", "tax"]);
return page && state ? page + "#" + state : page;
}

function line(name, lead, mass, price) {
return made("tr", {}, [
made("th", { scope: "row" }, [name]), made("td", {}, [lead || ""]),
made("td", { class: "figure" }, [mass]), made("td", { class: "figure" }, [boat.money(price)])
]);
}

function lines() {
const times = (count, name) => (count > 1 ? count + " × " + name : name);
const weight = (text, count) => boat.mass(count * window.amounts.units(text, 6));
const found = [line(list.name, list.lead, weight(list.mass, 1), units(list.price))];
boat.choice.chosen().forEach((item) => {
const count = boat.choice.count(item.id);
found.push(line(
times(count, item.name), item.lead, weight(item.mass, count), count * units(item.price)
));
});
boat.choice.surcharges().forEach((each) => {
found.push(line(times(each.count, each.name), "", "", each.count * units(each.price)));
});
if (list.delivery !== null) {
found.push(line(list.delivery_words, "", "", units(list.delivery)));
}
return found;
}

function drawn(rows) {
const size = rows.length + 2 * QUIET;
const path = rows.map((row, y) => row.map((dark, x) => (
dark ? "M" + (x + QUIET) + " " + (y + QUIET) + "h1v1h-1z" : ""
)).join("")).join("");
const svg = document.createElementNS(SVG, "svg");
const put = (element, values) => Object.keys(values).forEach((name) => {
element.setAttribute(name, values[name]);
});
const paper = document.createElementNS(SVG, "path");
const ink = document.createElementNS(SVG, "path");
put(svg, {
viewBox: "0 0 " + size + " " + size, width: size * MODULE + "mm", height: size * MODULE + "mm",
role: "img", "aria-label": byId("summary-symbol").dataset.label,
"shape-rendering": "crispEdges"
});
put(paper, { d: "M0 0h" + size + "v" + size + "h-" + size + "z", fill: "#fff" });
put(ink, { d: path, fill: "#000" });
svg.append(paper, ink);
return svg;
}

function today() {
const tag = list.language === "en" ? "en-GB" : list.language;  // as the sheet writes days
return new Intl.DateTimeFormat(tag, {
day: "numeric", month: "long", year: "numeric"
}).format(new Date());
}

function fill() {
const totals = boat.choice.totals();
const web = address();
const rows = web ? window.qr(web) : null;
byId("summary-day").textContent = today();
byId("summary-lines").replaceChildren(...lines());
byId("summary-mass").textContent = boat.mass(totals.mass);
byId("summary-total").textContent = boat.money(totals.price);
if (byId("summary-standard")) {
byId("summary-standard").textContent = byId("list-standard").textContent;
}
byId("summary-lead").textContent = byId("list-lead").textContent;
byId("summary-opening").hidden = byId("list-opening").hidden;
byId("summary-symbol").replaceChildren(...(rows ? [drawn(rows)] : []));
byId("summary-address").textContent = web
? byId("summary-address").dataset.with + " " + web : without;
}

byId("list-print").addEventListener("click", () => {
fill();
document.body.classList.add("only-list");
window.print();
});
window.addEventListener("afterprint", () => document.body.classList.remove("only-list"));
Object.assign(boat, { webAddress: address, fillSummary: fill });
}());

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

function printable(text) {
return text.replace(/[\ud800-\udfff\ufffe\uffff]/gu, "\ufffd")
.replace(/\r\n?|[\u2028\u2029]/g, "\n")
.replace(/[\u202a-\u202e\u2066-\u2069\ufeff]/g, "")
.replace(/[\u0000-\u0008\u000b-\u001f\u007f-\u009f]/g, " ").trim();
}

function quoted(text) { return JSON.stringify(printable(text)); }

function rowsOf(text) {
return printable(text).split("\n").map((row) => row.trim()).filter(Boolean);
}

function addressOf(text) {
const pieces = rowsOf(text).map((row) => row.match(/.{1,200}(?=\s|$)|.{1,200}/gu));
return [].concat(...pieces).map((row) => row.trim()).filter(Boolean);
}

function noteOf(text) {
const lines = printable(text).split("\n");
const rows = lines.length > MOST_LINES ? rowsOf(text) : lines;
return rows.slice(0, MOST_LINES - 1).concat(rows.slice(MOST_LINES - 1).join(" "))
.join("\n").trim();
}

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
const colour = colours.length === 1 && boat.choice.count(colours[0].id) === 1 ? colours[0] : null;
const lines = chosen.filter((item) => item !== colour).map((item) => {
const count = boat.choice.count(item.id);
return "  - {option: " + item.id + (count > 1 ? ", quantity: " + count : "") + "}";
});
return (lines.length ? ["options:"] : []).concat(lines, colour ? "colour: " + colour.id : []);
}

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

function cut(text, most) {
const letters = Array.from(text);
return letters.length > most ? letters.slice(0, Math.max(most - 1, 0)).join("") + "…" : text;
}

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
