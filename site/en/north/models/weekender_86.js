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
function check(q_side_single, q_side_pair, q_side_step, q_transom_door, q_companion_wide, q_deck_hatch, q_fish_lid, q_seat_base, q_sole_panels, q_roof_panel, q_buoyancy, q_hull_blue, q_hull_grey, q_easy_boarding, q_day_fishing) {
  const _a = q_side_single + q_easy_boarding;
  const _b = smaller(_a, 1.0);
  const _c = smaller(_a, 1.0);
  const _d = smaller(q_side_pair, 1.0);
  const _e = smaller(q_side_step, 1.0);
  const _f = _c + _d + _e;
  const _g = _f <= 1.0 || same(_f, 1.0) ? 1 : 0;
  const _h = _b <= _g || same(_b, _g) ? 1 : 0;
  const _i = _a <= 1.0 || same(_a, 1.0) ? 1 : 0;
  const _j = smaller(q_side_pair, 1.0);
  const _k = smaller(_a, 1.0);
  const _l = smaller(q_side_pair, 1.0);
  const _m = smaller(q_side_step, 1.0);
  const _n = _k + _l + _m;
  const _o = _n <= 1.0 || same(_n, 1.0) ? 1 : 0;
  const _p = _j <= _o || same(_j, _o) ? 1 : 0;
  const _q = q_side_pair <= 1.0 || same(q_side_pair, 1.0) ? 1 : 0;
  const _r = smaller(q_side_step, 1.0);
  const _s = smaller(_a, 1.0);
  const _t = smaller(q_side_pair, 1.0);
  const _u = smaller(q_side_step, 1.0);
  const _v = _s + _t + _u;
  const _w = _v <= 1.0 || same(_v, 1.0) ? 1 : 0;
  const _x = _r <= _w || same(_r, _w) ? 1 : 0;
  const _y = q_side_step <= 1.0 || same(q_side_step, 1.0) ? 1 : 0;
  const _z = q_transom_door + q_easy_boarding;
  const _ba = _z <= 1.0 || same(_z, 1.0) ? 1 : 0;
  const _bb = 1.0 - q_companion_wide;
  const _bc = larger(_bb, 0.0);
  const _bd = smaller(_bc, 1.0);
  const _be = smaller(_bc, 1.0);
  const _bf = smaller(q_companion_wide, 1.0);
  const _bg = _be + _bf;
  const _bh = _bg <= 1.0 || same(_bg, 1.0) ? 1 : 0;
  const _bi = _bd <= _bh || same(_bd, _bh) ? 1 : 0;
  const _bj = _bc <= 1.0 || same(_bc, 1.0) ? 1 : 0;
  const _bk = smaller(q_companion_wide, 1.0);
  const _bl = smaller(_bc, 1.0);
  const _bm = smaller(q_companion_wide, 1.0);
  const _bn = _bl + _bm;
  const _bo = _bn <= 1.0 || same(_bn, 1.0) ? 1 : 0;
  const _bp = _bk <= _bo || same(_bk, _bo) ? 1 : 0;
  const _bq = q_companion_wide <= 1.0 || same(q_companion_wide, 1.0) ? 1 : 0;
  const _br = q_deck_hatch <= 2.0 || same(q_deck_hatch, 2.0) ? 1 : 0;
  const _bs = 1.0 <= 1.0 || same(1.0, 1.0) ? 1 : 0;
  const _bt = q_fish_lid + q_day_fishing;
  const _bu = _bt <= 2.0 || same(_bt, 2.0) ? 1 : 0;
  const _bv = q_seat_base + q_day_fishing;
  const _bw = _bv <= 4.0 || same(_bv, 4.0) ? 1 : 0;
  const _bx = q_sole_panels <= 1.0 || same(q_sole_panels, 1.0) ? 1 : 0;
  const _by = q_roof_panel <= 1.0 || same(q_roof_panel, 1.0) ? 1 : 0;
  const _bz = q_buoyancy <= 1.0 || same(q_buoyancy, 1.0) ? 1 : 0;
  const _ca = smaller(q_hull_blue, 1.0);
  const _cb = smaller(q_hull_blue, 1.0);
  const _cc = smaller(q_hull_grey, 1.0);
  const _cd = _cb + _cc;
  const _ce = _cd <= 1.0 || same(_cd, 1.0) ? 1 : 0;
  const _cf = _ca <= _ce || same(_ca, _ce) ? 1 : 0;
  const _cg = q_hull_blue <= 1.0 || same(q_hull_blue, 1.0) ? 1 : 0;
  const _ch = smaller(q_hull_grey, 1.0);
  const _ci = smaller(q_hull_blue, 1.0);
  const _cj = smaller(q_hull_grey, 1.0);
  const _ck = _ci + _cj;
  const _cl = _ck <= 1.0 || same(_ck, 1.0) ? 1 : 0;
  const _cm = _ch <= _cl || same(_ch, _cl) ? 1 : 0;
  const _cn = q_hull_grey <= 1.0 || same(q_hull_grey, 1.0) ? 1 : 0;
  const _co = 1.0 - q_companion_wide;
  const _cp = larger(_co, 0.0);
  return {r_a: _h, r_b: _i, r_c: _p, r_d: _q, r_e: _x, r_f: _y, r_g: _ba, r_h: _bi, r_i: _bj, r_j: _bp, r_ba: _bq, r_bb: _br, r_bc: _bs, r_bd: _bu, r_be: _bw, r_bf: _bx, r_bg: _by, r_bh: _bz, r_bi: _cf, r_bj: _cg, r_ca: _cm, r_cb: _cn, s_anchor_lid: 1.0, s_companion_door: _cp};
}
window.priceList = {"request":1,"market":"north","language":"en","version":"2026-11","yard":"Orvesund Boatyard","model":"weekender_86","name":"Orvesund 8.6 Weekender","currency":"NOK","price":"1575700.00","weeks":20,"lead":"20 weeks","mass":"2500.23","delivery":null,"delivery_words":"","items":[{"id":"side_single","name":"Side entry, single","kind":"opening","price":"51500.00","mass":"37.35","most":1,"lead":"4 weeks","weeks":4},{"id":"side_pair","name":"Side entry, pair","kind":"opening","price":"92900.00","mass":"74.70","most":1,"lead":"5 weeks","weeks":5},{"id":"side_step","name":"Side entry, wide with step","kind":"opening","price":"70100.00","mass":"54.79","most":1,"lead":"5 weeks","weeks":5},{"id":"transom_door","name":"Transom door","kind":"opening","price":"32500.00","mass":"17.54","most":1,"lead":"4 weeks","weeks":4},{"id":"companion_wide","name":"Cabin door, wide","kind":"panel","price":"5100.00","mass":"3.53","most":1,"lead":"5 weeks","weeks":5,"instead_of":["companion_door"]},{"id":"deck_hatch","name":"Deck hatch","kind":"panel","price":"11300.00","mass":"5.31","most":2,"lead":"2 weeks","weeks":2},{"id":"fish_lid","name":"Insulated storage lid","kind":"panel","price":"12000.00","mass":"7.89","most":2,"lead":"2 weeks","weeks":2},{"id":"seat_base","name":"Seat base","kind":"panel","price":"14800.00","mass":"10.34","most":4,"lead":"3 weeks","weeks":3},{"id":"sole_panels","name":"Core-filled sole panels","kind":"core","price":"40800.00","mass":"38.86","most":1,"lead":"3 weeks","weeks":3},{"id":"roof_panel","name":"Cockpit roof","kind":"core","price":"33700.00","mass":"54.02","most":1,"lead":"4 weeks","weeks":4},{"id":"buoyancy","name":"Buoyancy fill","kind":"core","price":"9900.00","mass":"12.67","most":1,"lead":"2 weeks","weeks":2},{"id":"hull_blue","name":"Hull colour deep blue","kind":"colour","price":"22100.00","mass":"2.56","most":1,"lead":"1 week","weeks":1},{"id":"hull_grey","name":"Hull colour stone grey","kind":"colour","price":"20800.00","mass":"1.79","most":1,"lead":"1 week","weeks":1},{"id":"easy_boarding","name":"Easy boarding","kind":"package","price":"80600.00","mass":"54.89","most":1,"holds":["side_single","transom_door"]},{"id":"day_fishing","name":"Day fishing","kind":"package","price":"25900.00","mass":"18.23","most":1,"holds":["fish_lid","seat_base"]}],"surcharges":[{"option":"side_single","colour":"hull_blue","name":"Extra charge: Side entry, single with Hull colour deep blue","price":"800.00"}],"standard":[{"id":"companion_door","name":"Cabin door","kind":"panel"},{"id":"anchor_lid","name":"Anchor locker lid","kind":"panel"}],"rules":[{"option":"side_single","kind":"one of","others":["side_single","side_pair","side_step"],"words":"Only one of these can be had: {options}."},{"option":"side_single","kind":"most","others":[],"words":"At most 1 of these can be fitted: Side entry, single."},{"option":"side_pair","kind":"one of","others":["side_single","side_pair","side_step"],"words":"Only one of these can be had: {options}."},{"option":"side_pair","kind":"most","others":[],"words":"At most 1 of these can be fitted: Side entry, pair."},{"option":"side_step","kind":"one of","others":["side_single","side_pair","side_step"],"words":"Only one of these can be had: {options}."},{"option":"side_step","kind":"most","others":[],"words":"At most 1 of these can be fitted: Side entry, wide with step."},{"option":"transom_door","kind":"most","others":[],"words":"At most 1 of these can be fitted: Transom door."},{"option":"companion_door","kind":"one of","others":["companion_door","companion_wide"],"words":"Only one of these can be had: {options}."},{"option":"companion_door","kind":"most","others":[],"words":"At most 1 of these can be fitted: Cabin door."},{"option":"companion_wide","kind":"one of","others":["companion_door","companion_wide"],"words":"Only one of these can be had: {options}."},{"option":"companion_wide","kind":"most","others":[],"words":"At most 1 of these can be fitted: Cabin door, wide."},{"option":"deck_hatch","kind":"most","others":[],"words":"At most 2 of these can be fitted: Deck hatch."},{"option":"anchor_lid","kind":"most","others":[],"words":"At most 1 of these can be fitted: Anchor locker lid."},{"option":"fish_lid","kind":"most","others":[],"words":"At most 2 of these can be fitted: Insulated storage lid."},{"option":"seat_base","kind":"most","others":[],"words":"At most 4 of these can be fitted: Seat base."},{"option":"sole_panels","kind":"most","others":[],"words":"At most 1 of these can be fitted: Core-filled sole panels."},{"option":"roof_panel","kind":"most","others":[],"words":"At most 1 of these can be fitted: Cockpit roof."},{"option":"buoyancy","kind":"most","others":[],"words":"At most 1 of these can be fitted: Buoyancy fill."},{"option":"hull_blue","kind":"one of","others":["hull_blue","hull_grey"],"words":"Only one of these can be had: {options}."},{"option":"hull_blue","kind":"most","others":[],"words":"At most 1 of these can be fitted: Hull colour deep blue."},{"option":"hull_grey","kind":"one of","others":["hull_blue","hull_grey"],"words":"Only one of these can be had: {options}."},{"option":"hull_grey","kind":"most","others":[],"words":"At most 1 of these can be fitted: Hull colour stone grey."}],"words":{"between":"; ","colon":": ","add":"Add","take_out":"Take out","added":"{name} is on your list. Total {total}.","taken_out":"{name} is off your list. Total {total}.","refused":"{name} can't be added.","kept":"{name} can't be taken out.","fix_add":"Take {name} with {added}","fix_out":"Take {name} and give up {removed}","fix_both":"Take {name} with {added} and give up {removed}","fix_add_too":"Take out {name} and add {added}","fix_out_too":"Take out {name} and {removed}","fix_both_too":"Take out {name} and {removed}, add {added}","then":"Total then: {total}.","held":"{option} is in the package {package} already.","goes_in":"The package {package} takes in what you have of it: {names}.","cheaper":"The package {package} saves {saving}: it holds {names}.","cheaper_besides":"The package {package} saves {saving} and brings {besides} as well: it holds {names}.","swap":"Take {package}","not_now":"Not now","undo":"Undo","restored":"Your list is as it was. Total {total}.","left_out":"Not taken over from the address:","standard_here":"{name} is standard on this boat.","standard_there":"{name} is not offered on this boat; it is standard on {boats}.","not_here":"{name} is not offered on this boat.","too_many":"Of {name}, at most {most} can be had.","unknown_one":"1 entry is on no price sheet of this yard.","unknown_more":"{count} entries are on no price sheet of this yard.","lead":"Longest lead time: {time} ({name})","leads":"Lead times: {times}","quantity":"Number of {name}","shown":"{count} of {all} options shown","nothing":"No option matches. Change the words or the filters.","copied":"The address is copied.","copy_by_hand":"Copy it from your browser's address line.","count_none":"no options","count_one":"1 option","count_more":"{count} options","here_opened":"{names} is no package on this boat; what it holds is listed one by one.","here_extra":"Standard on the {model}, an extra on this boat: {names}.","some_there":"{count} of {all} offered or standard there","kept_aside":"Kept aside: {model}, {total}.","no_aside":"The list kept aside can't be read here.","is_standard":"standard","in_package":"in the package {package}","on_both":"On both lists: {names}.","all_same":"Both lists hold the same options.","mail_subject":"Request for a quote: {model}","mail_ask":"Please send me a quote for this boat.","mail_sheet":"By price sheet {version}.","mail_list":"This list: {address}","mail_more":"and {count} more","total_told":"Total: {total}"},"money":{"digits":2,"before":"NOK ","after":"","before_negative":"−NOK ","after_negative":"","separator":",","decimal":".","sizes":[3,3],"grouped_from":4,"whole":true},"masses":{"whole_digits":4,"fine":{"digits":1,"before":"","after":" kg","before_negative":"−","after_negative":" kg","separator":",","decimal":".","sizes":[3,3],"grouped_from":4,"whole":false},"whole":{"digits":0,"before":"","after":" kg","before_negative":"−","after_negative":" kg","separator":",","decimal":"","sizes":[3,3],"grouped_from":4,"whole":false}}};
window.priceList.check = check;
}());
