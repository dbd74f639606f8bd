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
window.priceList = {"request":1,"market":"home","language":"nb","version":"2026-11","yard":"Orvesund Boatyard","model":"longshore_76","name":"Orvesund 7.6 Longshore","currency":"EUR","price":"89156.00","weeks":16,"lead":"16 uker","mass":"1573.52","delivery":null,"delivery_words":"","items":[{"id":"deck_hatch","name":"Dekksluke","kind":"panel","price":"1190.40","mass":"5.31","most":2,"lead":"2 uker","weeks":2},{"id":"anchor_lid","name":"Lokk til ankerbrønn","kind":"panel","price":"880.40","mass":"3.95","most":1,"lead":"2 uker","weeks":2},{"id":"fish_lid","name":"Isolert lokk til stuerom","kind":"panel","price":"1264.80","mass":"7.89","most":2,"lead":"2 uker","weeks":2},{"id":"seat_base","name":"Setekasse","kind":"panel","price":"1562.40","mass":"10.34","most":4,"lead":"3 uker","weeks":3},{"id":"sole_panels","name":"Dørkplater med skumkjerne","kind":"core","price":"4327.60","mass":"38.86","most":1,"lead":"3 uker","weeks":3},{"id":"roof_panel","name":"Cockpittak","kind":"core","price":"3571.20","mass":"54.02","most":1,"lead":"4 uker","weeks":4},{"id":"hull_blue","name":"Dypblå skrogfarge","kind":"colour","price":"1971.60","mass":"2.17","most":1,"lead":"1 uke","weeks":1},{"id":"hull_grey","name":"Steingrå skrogfarge","kind":"colour","price":"1872.40","mass":"1.55","most":1,"lead":"1 uke","weeks":1},{"id":"day_fishing","name":"Dagsfiske","kind":"package","price":"2740.40","mass":"18.23","most":1,"holds":["fish_lid","seat_base"]}],"surcharges":[],"standard":[{"id":"console_door","name":"Konsolldør","kind":"panel"},{"id":"buoyancy","name":"Oppdriftsskum","kind":"core"}],"rules":[{"option":"console_door","kind":"most","others":[],"words":"Høyst 1 av disse: Konsolldør."},{"option":"deck_hatch","kind":"most","others":[],"words":"Høyst 2 av disse: Dekksluke."},{"option":"anchor_lid","kind":"most","others":[],"words":"Høyst 1 av disse: Lokk til ankerbrønn."},{"option":"fish_lid","kind":"most","others":[],"words":"Høyst 2 av disse: Isolert lokk til stuerom."},{"option":"seat_base","kind":"most","others":[],"words":"Høyst 4 av disse: Setekasse."},{"option":"sole_panels","kind":"most","others":[],"words":"Høyst 1 av disse: Dørkplater med skumkjerne."},{"option":"roof_panel","kind":"most","others":[],"words":"Høyst 1 av disse: Cockpittak."},{"option":"buoyancy","kind":"most","others":[],"words":"Høyst 1 av disse: Oppdriftsskum."},{"option":"hull_blue","kind":"one of","others":["hull_blue","hull_grey"],"words":"Bare ett av disse er mulig: {options}."},{"option":"hull_blue","kind":"most","others":[],"words":"Høyst 1 av disse: Dypblå skrogfarge."},{"option":"hull_grey","kind":"one of","others":["hull_blue","hull_grey"],"words":"Bare ett av disse er mulig: {options}."},{"option":"hull_grey","kind":"most","others":[],"words":"Høyst 1 av disse: Steingrå skrogfarge."}],"words":{"between":"; ","colon":": ","add":"Legg til","take_out":"Ta ut","added":"På listen din: {name}. Sum {total}.","taken_out":"Tatt ut av listen din: {name}. Sum {total}.","refused":"Kan ikke legges til: {name}.","kept":"Kan ikke tas ut: {name}.","fix_add":"Legg til {name} sammen med {added}","fix_out":"Legg til {name} og ta ut {removed}","fix_both":"Legg til {name} sammen med {added} og ta ut {removed}","fix_add_too":"Ta ut {name} og legg til {added}","fix_out_too":"Ta ut {name} og {removed}","fix_both_too":"Ta ut {name} og {removed}, legg til {added}","then":"Summen blir {total}.","held":"{option} er allerede med i pakken {package}.","goes_in":"Pakken {package} tar opp i seg det du har av den fra før: {names}.","cheaper":"Med pakken {package} sparer du {saving}. Den inkluderer {names}.","cheaper_besides":"Med pakken {package} sparer du {saving} og får {besides} i tillegg. Den inkluderer {names}.","swap":"Velg pakken {package}","not_now":"Ikke nå","undo":"Angre","restored":"Listen din er som før. Sum {total}.","left_out":"Ikke overført fra adressen:","standard_here":"{name} er standard på denne båten.","standard_there":"{name} tilbys ikke på denne båten, men er standard på {boats}.","not_here":"{name} tilbys ikke på denne båten.","too_many":"{name}: høyst {most} per båt.","unknown_one":"1 oppføring står ikke i noen prisliste fra dette verftet.","unknown_more":"{count} oppføringer står ikke i noen prisliste fra dette verftet.","lead":"Lengste leveringstid: {time} ({name})","leads":"Leveringstider: {times}","quantity":"Antall: {name}","shown":"{count} av {all} tilvalg vises","nothing":"Ingen tilvalg passer. Endre søkeordene eller filtrene.","copied":"Adressen er kopiert.","copy_by_hand":"Kopier den fra adresselinjen i nettleseren.","count_none":"ingen tilvalg","count_one":"1 tilvalg","count_more":"{count} tilvalg","here_opened":"{names} finnes ikke som pakke på denne båten; innholdet er ført opp enkeltvis.","here_extra":"Standard på {model}, tilvalg på denne båten: {names}.","some_there":"{count} av {all} tilbys eller er standard der","kept_aside":"Lagt til side: {model}, {total}.","no_aside":"Listen som er lagt til side, kan ikke leses her.","is_standard":"standard","in_package":"i pakken {package}","on_both":"På begge listene: {names}.","all_same":"Begge listene har de samme tilvalgene.","mail_subject":"Forespørsel om tilbud: {model}","mail_ask":"Jeg ønsker et tilbud på denne båten.","mail_sheet":"Etter prisliste {version}.","mail_list":"Denne listen: {address}","mail_more":"og {count} til","total_told":"Sum: {total}"},"money":{"digits":2,"before":"","after":" €","before_negative":"−","after_negative":" €","separator":" ","decimal":",","sizes":[3,3],"grouped_from":4,"whole":false},"masses":{"whole_digits":4,"fine":{"digits":1,"before":"","after":" kg","before_negative":"−","after_negative":" kg","separator":" ","decimal":",","sizes":[3,3],"grouped_from":4,"whole":false},"whole":{"digits":0,"before":"","after":" kg","before_negative":"−","after_negative":" kg","separator":" ","decimal":"","sizes":[3,3],"grouped_from":4,"whole":false},"pound":"0.45359237","pounds_whole_digits":2,"pounds_fine":{"digits":1,"before":"","after":" pund","before_negative":"−","after_negative":" pund","separator":" ","decimal":",","sizes":[3,3],"grouped_from":4,"whole":false},"pounds_whole":{"digits":0,"before":"","after":" pund","before_negative":"−","after_negative":" pund","separator":" ","decimal":"","sizes":[3,3],"grouped_from":4,"whole":false}},"savings":[{"id":"day_fishing","saving":"86.80"}],"other":{"price":"71900.00","delivery":null,"items":[{"id":"deck_hatch","price":"960.00"},{"id":"anchor_lid","price":"710.00"},{"id":"fish_lid","price":"1020.00"},{"id":"seat_base","price":"1260.00"},{"id":"sole_panels","price":"3490.00"},{"id":"roof_panel","price":"2880.00"},{"id":"hull_blue","price":"1590.00"},{"id":"hull_grey","price":"1510.00"},{"id":"day_fishing","price":"2210.00"}],"surcharges":[],"savings":[{"id":"day_fishing","saving":"70.00"}]}};
window.priceList.check = check;
}());
