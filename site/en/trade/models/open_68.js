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
function check(q_console_door, q_deck_hatch, q_anchor_lid, q_fish_lid, q_seat_base, q_roof_panel, q_hull_blue, q_hull_grey, q_day_fishing) {
  const _a = q_console_door <= 1.0 || same(q_console_door, 1.0) ? 1 : 0;
  const _b = q_deck_hatch <= 2.0 || same(q_deck_hatch, 2.0) ? 1 : 0;
  const _c = q_anchor_lid <= 1.0 || same(q_anchor_lid, 1.0) ? 1 : 0;
  const _d = q_fish_lid + q_day_fishing;
  const _e = _d <= 2.0 || same(_d, 2.0) ? 1 : 0;
  const _f = q_seat_base + q_day_fishing;
  const _g = _f <= 4.0 || same(_f, 4.0) ? 1 : 0;
  const _h = q_roof_panel <= 1.0 || same(q_roof_panel, 1.0) ? 1 : 0;
  const _i = 1.0 <= 1.0 || same(1.0, 1.0) ? 1 : 0;
  const _j = smaller(q_hull_blue, 1.0);
  const _k = smaller(q_hull_blue, 1.0);
  const _l = smaller(q_hull_grey, 1.0);
  const _m = _k + _l;
  const _n = _m <= 1.0 || same(_m, 1.0) ? 1 : 0;
  const _o = _j <= _n || same(_j, _n) ? 1 : 0;
  const _p = q_hull_blue <= 1.0 || same(q_hull_blue, 1.0) ? 1 : 0;
  const _q = smaller(q_hull_grey, 1.0);
  const _r = smaller(q_hull_blue, 1.0);
  const _s = smaller(q_hull_grey, 1.0);
  const _t = _r + _s;
  const _u = _t <= 1.0 || same(_t, 1.0) ? 1 : 0;
  const _v = _q <= _u || same(_q, _u) ? 1 : 0;
  const _w = q_hull_grey <= 1.0 || same(q_hull_grey, 1.0) ? 1 : 0;
  return {r_a: _a, r_b: _b, r_c: _c, r_d: _e, r_e: _g, r_f: _h, r_g: _i, r_h: _o, r_i: _p, r_j: _v, r_ba: _w, s_buoyancy: 1.0};
}
window.priceList = {"request":1,"market":"trade","language":"en","version":"2026-11","yard":"Orvesund Boatyard","model":"open_68","name":"Orvesund 6.8 Open","currency":"EUR","price":"45900.00","weeks":14,"lead":"14 weeks","mass":"1118.90","delivery":null,"delivery_words":"","items":[{"id":"console_door","name":"Console door","kind":"panel","price":"760.00","mass":"4.02","most":1,"lead":"2 weeks","weeks":2},{"id":"deck_hatch","name":"Deck hatch","kind":"panel","price":"960.00","mass":"5.31","most":2,"lead":"2 weeks","weeks":2},{"id":"anchor_lid","name":"Anchor locker lid","kind":"panel","price":"710.00","mass":"3.95","most":1,"lead":"2 weeks","weeks":2},{"id":"fish_lid","name":"Insulated storage lid","kind":"panel","price":"1020.00","mass":"7.89","most":2,"lead":"2 weeks","weeks":2},{"id":"seat_base","name":"Seat base","kind":"panel","price":"1260.00","mass":"10.34","most":4,"lead":"3 weeks","weeks":3},{"id":"roof_panel","name":"Cockpit roof","kind":"core","price":"2880.00","mass":"54.02","most":1,"lead":"4 weeks","weeks":4},{"id":"hull_blue","name":"Hull colour deep blue","kind":"colour","price":"1390.00","mass":"1.91","most":1,"lead":"1 week","weeks":1},{"id":"hull_grey","name":"Hull colour stone grey","kind":"colour","price":"1330.00","mass":"1.39","most":1,"lead":"1 week","weeks":1},{"id":"day_fishing","name":"Day fishing","kind":"package","price":"2210.00","mass":"18.23","most":1,"holds":["fish_lid","seat_base"]}],"surcharges":[],"standard":[{"id":"buoyancy","name":"Buoyancy fill","kind":"core"}],"rules":[{"option":"console_door","kind":"most","others":[],"words":"At most 1 of these can be fitted: Console door."},{"option":"deck_hatch","kind":"most","others":[],"words":"At most 2 of these can be fitted: Deck hatch."},{"option":"anchor_lid","kind":"most","others":[],"words":"At most 1 of these can be fitted: Anchor locker lid."},{"option":"fish_lid","kind":"most","others":[],"words":"At most 2 of these can be fitted: Insulated storage lid."},{"option":"seat_base","kind":"most","others":[],"words":"At most 4 of these can be fitted: Seat base."},{"option":"roof_panel","kind":"most","others":[],"words":"At most 1 of these can be fitted: Cockpit roof."},{"option":"buoyancy","kind":"most","others":[],"words":"At most 1 of these can be fitted: Buoyancy fill."},{"option":"hull_blue","kind":"one of","others":["hull_blue","hull_grey"],"words":"Only one of these can be had: {options}."},{"option":"hull_blue","kind":"most","others":[],"words":"At most 1 of these can be fitted: Hull colour deep blue."},{"option":"hull_grey","kind":"one of","others":["hull_blue","hull_grey"],"words":"Only one of these can be had: {options}."},{"option":"hull_grey","kind":"most","others":[],"words":"At most 1 of these can be fitted: Hull colour stone grey."}],"words":{"between":"; ","colon":": ","add":"Add","take_out":"Take out","added":"{name} is on your list. Total {total}.","taken_out":"{name} is off your list. Total {total}.","refused":"{name} can't be added.","kept":"{name} can't be taken out.","fix_add":"Take {name} with {added}","fix_out":"Take {name} and give up {removed}","fix_both":"Take {name} with {added} and give up {removed}","fix_add_too":"Take out {name} and add {added}","fix_out_too":"Take out {name} and {removed}","fix_both_too":"Take out {name} and {removed}, add {added}","then":"Total then: {total}.","held":"{option} is in the package {package} already.","goes_in":"The package {package} takes in what you have of it: {names}.","cheaper":"The package {package} saves {saving}: it holds {names}.","cheaper_besides":"The package {package} saves {saving} and brings {besides} as well: it holds {names}.","swap":"Take {package}","not_now":"Not now","undo":"Undo","restored":"Your list is as it was. Total {total}.","left_out":"Not taken over from the address:","standard_here":"{name} is standard on this boat.","standard_there":"{name} is not offered on this boat; it is standard on {boats}.","not_here":"{name} is not offered on this boat.","too_many":"Of {name}, at most {most} can be had.","unknown_one":"1 entry is on no price sheet of this yard.","unknown_more":"{count} entries are on no price sheet of this yard.","lead":"Longest lead time: {time} ({name})","leads":"Lead times: {times}","quantity":"Number of {name}","shown":"{count} of {all} options shown","nothing":"No option matches. Change the words or the filters.","copied":"The address is copied.","copy_by_hand":"Copy it from your browser's address line.","count_none":"no options","count_one":"1 option","count_more":"{count} options","here_opened":"{names} is no package on this boat; what it holds is listed one by one.","here_extra":"Standard on the {model}, an extra on this boat: {names}.","some_there":"{count} of {all} offered or standard there","kept_aside":"Kept aside: {model}, {total}.","no_aside":"The list kept aside can't be read here.","is_standard":"standard","in_package":"in the package {package}","on_both":"On both lists: {names}.","all_same":"Both lists hold the same options.","mail_subject":"Request for a quote: {model}","mail_ask":"Please send me a quote for this boat.","mail_sheet":"By price sheet {version}.","mail_list":"This list: {address}","mail_more":"and {count} more","total_told":"Total: {total}"},"money":{"digits":2,"before":"€","after":"","before_negative":"−€","after_negative":"","separator":",","decimal":".","sizes":[3,3],"grouped_from":4,"whole":true},"masses":{"whole_digits":4,"fine":{"digits":1,"before":"","after":" kg","before_negative":"−","after_negative":" kg","separator":",","decimal":".","sizes":[3,3],"grouped_from":4,"whole":false},"whole":{"digits":0,"before":"","after":" kg","before_negative":"−","after_negative":" kg","separator":",","decimal":"","sizes":[3,3],"grouped_from":4,"whole":false},"pound":"0.45359237","pounds_whole_digits":2,"pounds_fine":{"digits":1,"before":"","after":" lb","before_negative":"−","after_negative":" lb","separator":",","decimal":".","sizes":[3,3],"grouped_from":4,"whole":false},"pounds_whole":{"digits":0,"before":"","after":" lb","before_negative":"−","after_negative":" lb","separator":",","decimal":"","sizes":[3,3],"grouped_from":4,"whole":false}}};
window.priceList.check = check;
}());
