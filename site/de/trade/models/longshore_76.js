(function () {
"use strict";
function larger(a, b) { return a >= b ? a : b; }
function smaller(a, b) { return a <= b ? a : b; }
function same(a, b) { return Math.abs(a - b) <= 3.552713678800501e-15 * larger(Math.abs(a), Math.abs(b)); }
function rounded(value, whole, shift) {
  const tidy = Number(value.toFixed(9));
  return (tidy < 0 ? -1 : 1) * whole(Math.abs(tidy) + shift) + 0;
}
function nearest(value) { return rounded(value, Math.floor, 0.5); }
function up(value) { return rounded(value, Math.ceil, 0); }
function down(value) { return rounded(value, Math.floor, 0); }
function powers(first, last, exponent) {
  let sum = 0;
  for (let n = Math.round(first); n <= Math.round(last); n += 1) { sum += Math.pow(n, exponent); }
  return sum;
}
function check(q_deck_hatch, q_anchor_lid, q_fish_lid, q_seat_base, q_sole_panels, q_roof_panel, q_hull_blue, q_hull_grey, q_day_fishing) {
  const _a = 1.0 <= 1.0 || same(1.0, 1.0) ? 1 : 0;
  const _b = q_deck_hatch <= 2.0 || same(q_deck_hatch, 2.0) ? 1 : 0;
  const _c = q_anchor_lid <= 1.0 || same(q_anchor_lid, 1.0) ? 1 : 0;
  const _d = q_fish_lid + q_day_fishing;
  const _e = _d <= 2.0 || same(_d, 2.0) ? 1 : 0;
  const _f = q_seat_base + q_day_fishing;
  const _g = _f <= 4.0 || same(_f, 4.0) ? 1 : 0;
  const _h = q_sole_panels <= 1.0 || same(q_sole_panels, 1.0) ? 1 : 0;
  const _i = q_roof_panel <= 1.0 || same(q_roof_panel, 1.0) ? 1 : 0;
  const _j = 1.0 <= 1.0 || same(1.0, 1.0) ? 1 : 0;
  const _k = smaller(q_hull_blue, 1.0);
  const _l = smaller(q_hull_blue, 1.0);
  const _m = smaller(q_hull_grey, 1.0);
  const _n = _l + _m;
  const _o = _n <= 1.0 || same(_n, 1.0) ? 1 : 0;
  const _p = _k <= _o || same(_k, _o) ? 1 : 0;
  const _q = q_hull_blue <= 1.0 || same(q_hull_blue, 1.0) ? 1 : 0;
  const _r = smaller(q_hull_grey, 1.0);
  const _s = smaller(q_hull_blue, 1.0);
  const _t = smaller(q_hull_grey, 1.0);
  const _u = _s + _t;
  const _v = _u <= 1.0 || same(_u, 1.0) ? 1 : 0;
  const _w = _r <= _v || same(_r, _v) ? 1 : 0;
  const _x = q_hull_grey <= 1.0 || same(q_hull_grey, 1.0) ? 1 : 0;
  return {r_a: _a, r_b: _b, r_c: _c, r_d: _e, r_e: _g, r_f: _h, r_g: _i, r_h: _j, r_i: _p, r_j: _q, r_ba: _w, r_bb: _x, s_buoyancy: 1.0, s_console_door: 1.0};
}
window.priceList = {"request":1,"market":"trade","language":"de","version":"2026-11","yard":"Orvesund Boatyard","model":"longshore_76","name":"Orvesund 7.6 Longshore","currency":"EUR","price":"71900.00","mass":"1573.52","delivery":null,"items":[{"id":"deck_hatch","name":"Decksluke","kind":"panel","price":"960.00","mass":"5.31","most":2},{"id":"anchor_lid","name":"Deckel für Ankerkasten","kind":"panel","price":"710.00","mass":"3.95","most":1},{"id":"fish_lid","name":"Isolierter Staufachdeckel","kind":"panel","price":"1020.00","mass":"7.89","most":2},{"id":"seat_base","name":"Sitzkasten","kind":"panel","price":"1260.00","mass":"10.34","most":4},{"id":"sole_panels","name":"Bodenplatten mit Schaumkern","kind":"core","price":"3490.00","mass":"38.86","most":1},{"id":"roof_panel","name":"Plichtdach","kind":"core","price":"2880.00","mass":"54.02","most":1},{"id":"hull_blue","name":"Rumpffarbe Tiefblau","kind":"colour","price":"1590.00","mass":"2.17","most":1},{"id":"hull_grey","name":"Rumpffarbe Steingrau","kind":"colour","price":"1510.00","mass":"1.55","most":1},{"id":"day_fishing","name":"Angeltag","kind":"package","price":"2210.00","mass":"18.23","most":1,"holds":["fish_lid","seat_base"]}],"surcharges":[],"standard":[{"id":"console_door","name":"Konsolentür","kind":"panel"},{"id":"buoyancy","name":"Auftriebsschaum","kind":"core"}],"rules":[{"option":"console_door","kind":"most","others":[],"words":"Höchstens 1 davon: Konsolentür."},{"option":"deck_hatch","kind":"most","others":[],"words":"Höchstens 2 davon: Decksluke."},{"option":"anchor_lid","kind":"most","others":[],"words":"Höchstens 1 davon: Deckel für Ankerkasten."},{"option":"fish_lid","kind":"most","others":[],"words":"Höchstens 2 davon: Isolierter Staufachdeckel."},{"option":"seat_base","kind":"most","others":[],"words":"Höchstens 4 davon: Sitzkasten."},{"option":"sole_panels","kind":"most","others":[],"words":"Höchstens 1 davon: Bodenplatten mit Schaumkern."},{"option":"roof_panel","kind":"most","others":[],"words":"Höchstens 1 davon: Plichtdach."},{"option":"buoyancy","kind":"most","others":[],"words":"Höchstens 1 davon: Auftriebsschaum."},{"option":"hull_blue","kind":"one of","others":["hull_blue","hull_grey"],"words":"Nur eines davon ist möglich: Rumpffarbe Tiefblau; Rumpffarbe Steingrau."},{"option":"hull_blue","kind":"most","others":[],"words":"Höchstens 1 davon: Rumpffarbe Tiefblau."},{"option":"hull_grey","kind":"one of","others":["hull_blue","hull_grey"],"words":"Nur eines davon ist möglich: Rumpffarbe Tiefblau; Rumpffarbe Steingrau."},{"option":"hull_grey","kind":"most","others":[],"words":"Höchstens 1 davon: Rumpffarbe Steingrau."}],"words":{"add":"Hinzufügen","take_out":"Entfernen","added":"Auf Ihrer Liste: {name}. Summe {total}.","taken_out":"Nicht mehr auf Ihrer Liste: {name}. Summe {total}.","refused":"Lässt sich nicht hinzufügen: {name}.","kept":"Lässt sich nicht entfernen: {name}.","fix_add":"Auch hinzufügen: {names}","fix_out":"Dafür entfernen: {names}","fix_out_too":"Auch entfernen: {names}","fix_both":"Hinzufügen: {added}; entfernen: {removed}","held":"Steckt im Paket {package}, das auf Ihrer Liste steht: {option}.","holding":"Das Paket {package} enthält etwas, das schon auf Ihrer Liste steht: {option}.","left_out":"Nicht aus der Adresse übernommen: {names}.","unknown":"unbekannt: {name}","quantity":"Anzahl: {name}","shown":"{count} von {all} Optionen gezeigt","nothing":"Keine Option passt. Ändern Sie die Wörter oder die Filter.","copied":"Die Adresse ist kopiert.","copy_by_hand":"Kopieren Sie sie aus der Adresszeile des Browsers.","count_none":"keine Optionen","count_one":"1 Option","count_more":"{count} Optionen"},"money":{"digits":2,"before":"","after":" €","before_negative":"-","after_negative":" €","separator":".","decimal":",","sizes":[3,3],"grouped_from":4},"masses":{"whole_digits":4,"fine":{"digits":1,"before":"","after":" kg","before_negative":"-","after_negative":" kg","separator":".","decimal":",","sizes":[3,3],"grouped_from":4},"whole":{"digits":0,"before":"","after":" kg","before_negative":"-","after_negative":" kg","separator":".","decimal":"","sizes":[3,3],"grouped_from":4},"pound":"0.45359237","pounds_whole_digits":2,"pounds_fine":{"digits":1,"before":"","after":" lb","before_negative":"-","after_negative":" lb","separator":".","decimal":",","sizes":[3,3],"grouped_from":4},"pounds_whole":{"digits":0,"before":"","after":" lb","before_negative":"-","after_negative":" lb","separator":".","decimal":"","sizes":[3,3],"grouped_from":4}}};
window.priceList.check = check;
}());
