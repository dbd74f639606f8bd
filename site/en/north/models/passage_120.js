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
function check(q_side_single, q_side_pair, q_side_step, q_side_ramp, q_ramp_hoist, q_companion_wide, q_seat_base, q_buoyancy) {
  const _a = smaller(q_side_single, 1.0);
  const _b = smaller(q_side_single, 1.0);
  const _c = smaller(q_side_pair, 1.0);
  const _d = smaller(q_side_step, 1.0);
  const _e = smaller(q_side_ramp, 1.0);
  const _f = _b + _c + _d + _e;
  const _g = _f <= 1.0 || same(_f, 1.0) ? 1 : 0;
  const _h = _a <= _g || same(_a, _g) ? 1 : 0;
  const _i = q_side_single <= 1.0 || same(q_side_single, 1.0) ? 1 : 0;
  const _j = smaller(q_side_pair, 1.0);
  const _k = smaller(q_side_single, 1.0);
  const _l = smaller(q_side_pair, 1.0);
  const _m = smaller(q_side_step, 1.0);
  const _n = smaller(q_side_ramp, 1.0);
  const _o = _k + _l + _m + _n;
  const _p = _o <= 1.0 || same(_o, 1.0) ? 1 : 0;
  const _q = _j <= _p || same(_j, _p) ? 1 : 0;
  const _r = q_side_pair <= 1.0 || same(q_side_pair, 1.0) ? 1 : 0;
  const _s = smaller(q_side_step, 1.0);
  const _t = smaller(q_side_single, 1.0);
  const _u = smaller(q_side_pair, 1.0);
  const _v = smaller(q_side_step, 1.0);
  const _w = smaller(q_side_ramp, 1.0);
  const _x = _t + _u + _v + _w;
  const _y = _x <= 1.0 || same(_x, 1.0) ? 1 : 0;
  const _z = _s <= _y || same(_s, _y) ? 1 : 0;
  const _ba = q_side_step <= 1.0 || same(q_side_step, 1.0) ? 1 : 0;
  const _bb = smaller(q_side_ramp, 1.0);
  const _bc = smaller(q_side_single, 1.0);
  const _bd = smaller(q_side_pair, 1.0);
  const _be = smaller(q_side_step, 1.0);
  const _bf = smaller(q_side_ramp, 1.0);
  const _bg = _bc + _bd + _be + _bf;
  const _bh = _bg <= 1.0 || same(_bg, 1.0) ? 1 : 0;
  const _bi = _bb <= _bh || same(_bb, _bh) ? 1 : 0;
  const _bj = q_side_ramp <= 1.0 || same(q_side_ramp, 1.0) ? 1 : 0;
  const _bk = smaller(q_ramp_hoist, 1.0);
  const _bl = _bk <= q_side_ramp || same(_bk, q_side_ramp) ? 1 : 0;
  const _bm = q_ramp_hoist <= 1.0 || same(q_ramp_hoist, 1.0) ? 1 : 0;
  const _bn = 1.0 <= 1.0 || same(1.0, 1.0) ? 1 : 0;
  const _bo = 1.0 - q_companion_wide;
  const _bp = larger(_bo, 0.0);
  const _bq = smaller(_bp, 1.0);
  const _br = smaller(_bp, 1.0);
  const _bs = smaller(q_companion_wide, 1.0);
  const _bt = _br + _bs;
  const _bu = _bt <= 1.0 || same(_bt, 1.0) ? 1 : 0;
  const _bv = _bq <= _bu || same(_bq, _bu) ? 1 : 0;
  const _bw = _bp <= 1.0 || same(_bp, 1.0) ? 1 : 0;
  const _bx = smaller(q_companion_wide, 1.0);
  const _by = smaller(_bp, 1.0);
  const _bz = smaller(q_companion_wide, 1.0);
  const _ca = _by + _bz;
  const _cb = _ca <= 1.0 || same(_ca, 1.0) ? 1 : 0;
  const _cc = _bx <= _cb || same(_bx, _cb) ? 1 : 0;
  const _cd = q_companion_wide <= 1.0 || same(q_companion_wide, 1.0) ? 1 : 0;
  const _ce = 1.0 <= 2.0 || same(1.0, 2.0) ? 1 : 0;
  const _cf = 1.0 <= 1.0 || same(1.0, 1.0) ? 1 : 0;
  const _cg = q_seat_base <= 4.0 || same(q_seat_base, 4.0) ? 1 : 0;
  const _ch = q_buoyancy <= 1.0 || same(q_buoyancy, 1.0) ? 1 : 0;
  const _ci = 1.0 - q_companion_wide;
  const _cj = larger(_ci, 0.0);
  return {r_a: _h, r_b: _i, r_c: _q, r_d: _r, r_e: _z, r_f: _ba, r_g: _bi, r_h: _bj, r_i: _bl, r_j: _bm, r_ba: _bn, r_bb: _bv, r_bc: _bw, r_bd: _cc, r_be: _cd, r_bf: _ce, r_bg: _cf, r_bh: _cg, r_bi: _ch, s_anchor_lid: 1.0, s_companion_door: _cj, s_deck_hatch: 1.0, s_transom_door: 1.0};
}
window.priceList = {"request":1,"market":"north","language":"en","version":"2026-11","yard":"Orvesund Boatyard","model":"passage_120","name":"Orvesund 12.0 Passage","currency":"NOK","price":"5244400.00","weeks":36,"lead":"36 weeks","mass":"7943.12","delivery":null,"delivery_words":"","items":[{"id":"side_single","name":"Side entry, single","kind":"opening","price":"51500.00","mass":"38.19","most":1,"lead":"4 weeks","weeks":4},{"id":"side_pair","name":"Side entry, pair","kind":"opening","price":"92900.00","mass":"76.38","most":1,"lead":"5 weeks","weeks":5},{"id":"side_step","name":"Side entry, wide with step","kind":"opening","price":"70700.00","mass":"55.65","most":1,"lead":"5 weeks","weeks":5},{"id":"side_ramp","name":"Side entry, fold-down ramp","kind":"opening","price":"77000.00","mass":"60.02","most":1,"lead":"7 weeks","weeks":7},{"id":"ramp_hoist","name":"Ramp hoist","kind":"fitting","price":"19900.00","mass":"10.98","most":1,"lead":"3 weeks","weeks":3},{"id":"companion_wide","name":"Cabin door, wide","kind":"panel","price":"5100.00","mass":"3.53","most":1,"lead":"5 weeks","weeks":5,"instead_of":["companion_door"]},{"id":"seat_base","name":"Seat base","kind":"panel","price":"14800.00","mass":"10.34","most":4,"lead":"3 weeks","weeks":3},{"id":"buoyancy","name":"Buoyancy fill","kind":"core","price":"13500.00","mass":"24.55","most":1,"lead":"2 weeks","weeks":2}],"surcharges":[],"standard":[{"id":"transom_door","name":"Transom door","kind":"opening"},{"id":"companion_door","name":"Cabin door","kind":"panel"},{"id":"deck_hatch","name":"Deck hatch","kind":"panel"},{"id":"anchor_lid","name":"Anchor locker lid","kind":"panel"}],"rules":[{"option":"side_single","kind":"one of","others":["side_single","side_pair","side_step","side_ramp"],"words":"Only one of these can be had: {options}."},{"option":"side_single","kind":"most","others":[],"words":"At most 1 of these can be fitted: Side entry, single."},{"option":"side_pair","kind":"one of","others":["side_single","side_pair","side_step","side_ramp"],"words":"Only one of these can be had: {options}."},{"option":"side_pair","kind":"most","others":[],"words":"At most 1 of these can be fitted: Side entry, pair."},{"option":"side_step","kind":"one of","others":["side_single","side_pair","side_step","side_ramp"],"words":"Only one of these can be had: {options}."},{"option":"side_step","kind":"most","others":[],"words":"At most 1 of these can be fitted: Side entry, wide with step."},{"option":"side_ramp","kind":"one of","others":["side_single","side_pair","side_step","side_ramp"],"words":"Only one of these can be had: {options}."},{"option":"side_ramp","kind":"most","others":[],"words":"At most 1 of these can be fitted: Side entry, fold-down ramp."},{"option":"ramp_hoist","kind":"needs","others":["side_ramp"],"words":"Ramp hoist can only be had with Side entry, fold-down ramp."},{"option":"ramp_hoist","kind":"most","others":[],"words":"At most 1 of these can be fitted: Ramp hoist."},{"option":"transom_door","kind":"most","others":[],"words":"At most 1 of these can be fitted: Transom door."},{"option":"companion_door","kind":"one of","others":["companion_door","companion_wide"],"words":"Only one of these can be had: {options}."},{"option":"companion_door","kind":"most","others":[],"words":"At most 1 of these can be fitted: Cabin door."},{"option":"companion_wide","kind":"one of","others":["companion_door","companion_wide"],"words":"Only one of these can be had: {options}."},{"option":"companion_wide","kind":"most","others":[],"words":"At most 1 of these can be fitted: Cabin door, wide."},{"option":"deck_hatch","kind":"most","others":[],"words":"At most 2 of these can be fitted: Deck hatch."},{"option":"anchor_lid","kind":"most","others":[],"words":"At most 1 of these can be fitted: Anchor locker lid."},{"option":"seat_base","kind":"most","others":[],"words":"At most 4 of these can be fitted: Seat base."},{"option":"buoyancy","kind":"most","others":[],"words":"At most 1 of these can be fitted: Buoyancy fill."}],"words":{"between":"; ","colon":": ","add":"Add","take_out":"Take out","added":"{name} is on your list. Total {total}.","taken_out":"{name} is off your list. Total {total}.","refused":"{name} can't be added.","kept":"{name} can't be taken out.","fix_add":"Take {name} with {added}","fix_out":"Take {name} and give up {removed}","fix_both":"Take {name} with {added} and give up {removed}","fix_add_too":"Take out {name} and add {added}","fix_out_too":"Take out {name} and {removed}","fix_both_too":"Take out {name} and {removed}, add {added}","then":"Total then: {total}.","held":"{option} is in the package {package} already.","goes_in":"The package {package} takes in what you have of it: {names}.","cheaper":"The package {package} saves {saving}: it holds {names}.","cheaper_besides":"The package {package} saves {saving} and brings {besides} as well: it holds {names}.","swap":"Take {package}","not_now":"Not now","undo":"Undo","restored":"Your list is as it was. Total {total}.","left_out":"Not taken over from the address:","standard_here":"{name} is standard on this boat.","standard_there":"{name} is not offered on this boat; it is standard on {boats}.","not_here":"{name} is not offered on this boat.","too_many":"Of {name}, at most {most} can be had.","unknown_one":"1 entry is on no price sheet of this yard.","unknown_more":"{count} entries are on no price sheet of this yard.","lead":"Longest lead time: {time} ({name})","leads":"Lead times: {times}","quantity":"Number of {name}","shown":"{count} of {all} options shown","nothing":"No option matches. Change the words or the filters.","copied":"The address is copied.","copy_by_hand":"Copy it from your browser's address line.","count_none":"no options","count_one":"1 option","count_more":"{count} options","here_opened":"{names} is no package on this boat; what it holds is listed one by one.","here_extra":"Standard on the {model}, an extra on this boat: {names}.","some_there":"{count} of {all} offered or standard there","kept_aside":"Kept aside: {model}, {total}.","no_aside":"The list kept aside can't be read here.","is_standard":"standard","in_package":"in the package {package}","on_both":"On both lists: {names}.","all_same":"Both lists hold the same options.","mail_subject":"Request for a quote: {model}","mail_ask":"Please send me a quote for this boat.","mail_sheet":"By price sheet {version}.","mail_list":"This list: {address}","mail_more":"and {count} more","total_told":"Total: {total}"},"money":{"digits":2,"before":"NOK ","after":"","before_negative":"−NOK ","after_negative":"","separator":",","decimal":".","sizes":[3,3],"grouped_from":4,"whole":true},"masses":{"whole_digits":4,"fine":{"digits":1,"before":"","after":" kg","before_negative":"−","after_negative":" kg","separator":",","decimal":".","sizes":[3,3],"grouped_from":4,"whole":false},"whole":{"digits":0,"before":"","after":" kg","before_negative":"−","after_negative":" kg","separator":",","decimal":"","sizes":[3,3],"grouped_from":4,"whole":false}}};
window.priceList.check = check;
}());
