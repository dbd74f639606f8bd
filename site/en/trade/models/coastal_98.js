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
function check(q_side_single, q_side_pair, q_side_step, q_side_ramp, q_ramp_hoist, q_transom_door, q_companion_wide, q_fish_lid, q_seat_base, q_sole_panels, q_buoyancy, q_hull_blue, q_hull_grey, q_easy_boarding, q_day_fishing) {
  const _a = q_side_single + q_easy_boarding;
  const _b = smaller(_a, 1.0);
  const _c = smaller(_a, 1.0);
  const _d = smaller(q_side_pair, 1.0);
  const _e = smaller(q_side_step, 1.0);
  const _f = smaller(q_side_ramp, 1.0);
  const _g = _c + _d + _e + _f;
  const _h = _g <= 1.0 || same(_g, 1.0) ? 1 : 0;
  const _i = _b <= _h || same(_b, _h) ? 1 : 0;
  const _j = _a <= 1.0 || same(_a, 1.0) ? 1 : 0;
  const _k = smaller(q_side_pair, 1.0);
  const _l = smaller(_a, 1.0);
  const _m = smaller(q_side_pair, 1.0);
  const _n = smaller(q_side_step, 1.0);
  const _o = smaller(q_side_ramp, 1.0);
  const _p = _l + _m + _n + _o;
  const _q = _p <= 1.0 || same(_p, 1.0) ? 1 : 0;
  const _r = _k <= _q || same(_k, _q) ? 1 : 0;
  const _s = q_side_pair <= 1.0 || same(q_side_pair, 1.0) ? 1 : 0;
  const _t = smaller(q_side_step, 1.0);
  const _u = smaller(_a, 1.0);
  const _v = smaller(q_side_pair, 1.0);
  const _w = smaller(q_side_step, 1.0);
  const _x = smaller(q_side_ramp, 1.0);
  const _y = _u + _v + _w + _x;
  const _z = _y <= 1.0 || same(_y, 1.0) ? 1 : 0;
  const _ba = _t <= _z || same(_t, _z) ? 1 : 0;
  const _bb = q_side_step <= 1.0 || same(q_side_step, 1.0) ? 1 : 0;
  const _bc = smaller(q_side_ramp, 1.0);
  const _bd = smaller(_a, 1.0);
  const _be = smaller(q_side_pair, 1.0);
  const _bf = smaller(q_side_step, 1.0);
  const _bg = smaller(q_side_ramp, 1.0);
  const _bh = _bd + _be + _bf + _bg;
  const _bi = _bh <= 1.0 || same(_bh, 1.0) ? 1 : 0;
  const _bj = _bc <= _bi || same(_bc, _bi) ? 1 : 0;
  const _bk = q_side_ramp <= 1.0 || same(q_side_ramp, 1.0) ? 1 : 0;
  const _bl = smaller(q_ramp_hoist, 1.0);
  const _bm = _bl <= q_side_ramp || same(_bl, q_side_ramp) ? 1 : 0;
  const _bn = q_ramp_hoist <= 1.0 || same(q_ramp_hoist, 1.0) ? 1 : 0;
  const _bo = q_transom_door + q_easy_boarding;
  const _bp = _bo <= 1.0 || same(_bo, 1.0) ? 1 : 0;
  const _bq = 1.0 - q_companion_wide;
  const _br = larger(_bq, 0.0);
  const _bs = smaller(_br, 1.0);
  const _bt = smaller(_br, 1.0);
  const _bu = smaller(q_companion_wide, 1.0);
  const _bv = _bt + _bu;
  const _bw = _bv <= 1.0 || same(_bv, 1.0) ? 1 : 0;
  const _bx = _bs <= _bw || same(_bs, _bw) ? 1 : 0;
  const _by = _br <= 1.0 || same(_br, 1.0) ? 1 : 0;
  const _bz = smaller(q_companion_wide, 1.0);
  const _ca = smaller(_br, 1.0);
  const _cb = smaller(q_companion_wide, 1.0);
  const _cc = _ca + _cb;
  const _cd = _cc <= 1.0 || same(_cc, 1.0) ? 1 : 0;
  const _ce = _bz <= _cd || same(_bz, _cd) ? 1 : 0;
  const _cf = q_companion_wide <= 1.0 || same(q_companion_wide, 1.0) ? 1 : 0;
  const _cg = 1.0 <= 2.0 || same(1.0, 2.0) ? 1 : 0;
  const _ch = 1.0 <= 1.0 || same(1.0, 1.0) ? 1 : 0;
  const _ci = q_fish_lid + q_day_fishing;
  const _cj = _ci <= 2.0 || same(_ci, 2.0) ? 1 : 0;
  const _ck = q_seat_base + q_day_fishing;
  const _cl = _ck <= 4.0 || same(_ck, 4.0) ? 1 : 0;
  const _cm = q_sole_panels <= 1.0 || same(q_sole_panels, 1.0) ? 1 : 0;
  const _cn = q_buoyancy <= 1.0 || same(q_buoyancy, 1.0) ? 1 : 0;
  const _co = smaller(q_hull_blue, 1.0);
  const _cp = smaller(q_hull_blue, 1.0);
  const _cq = smaller(q_hull_grey, 1.0);
  const _cr = _cp + _cq;
  const _cs = _cr <= 1.0 || same(_cr, 1.0) ? 1 : 0;
  const _ct = _co <= _cs || same(_co, _cs) ? 1 : 0;
  const _cu = q_hull_blue <= 1.0 || same(q_hull_blue, 1.0) ? 1 : 0;
  const _cv = smaller(q_hull_grey, 1.0);
  const _cw = smaller(q_hull_blue, 1.0);
  const _cx = smaller(q_hull_grey, 1.0);
  const _cy = _cw + _cx;
  const _cz = _cy <= 1.0 || same(_cy, 1.0) ? 1 : 0;
  const _da = _cv <= _cz || same(_cv, _cz) ? 1 : 0;
  const _db = q_hull_grey <= 1.0 || same(q_hull_grey, 1.0) ? 1 : 0;
  const _dc = 1.0 - q_companion_wide;
  const _dd = larger(_dc, 0.0);
  return {r_a: _i, r_b: _j, r_c: _r, r_d: _s, r_e: _ba, r_f: _bb, r_g: _bj, r_h: _bk, r_i: _bm, r_j: _bn, r_ba: _bp, r_bb: _bx, r_bc: _by, r_bd: _ce, r_be: _cf, r_bf: _cg, r_bg: _ch, r_bh: _cj, r_bi: _cl, r_bj: _cm, r_ca: _cn, r_cb: _ct, r_cc: _cu, r_cd: _da, r_ce: _db, s_anchor_lid: 1.0, s_companion_door: _dd, s_deck_hatch: 1.0};
}
window.priceList = {"request":1,"market":"trade","language":"en","version":"2026-11","yard":"Orvesund Boatyard","model":"coastal_98","name":"Orvesund 9.8 Coastal","currency":"EUR","price":"215900.00","weeks":26,"lead":"26 weeks","mass":"3875.55","delivery":null,"delivery_words":"","items":[{"id":"side_single","name":"Side entry, single","kind":"opening","price":"4350.00","mass":"37.35","most":1,"lead":"4 weeks","weeks":4},{"id":"side_pair","name":"Side entry, pair","kind":"opening","price":"7950.00","mass":"74.70","most":1,"lead":"5 weeks","weeks":5},{"id":"side_step","name":"Side entry, wide with step","kind":"opening","price":"6000.00","mass":"54.79","most":1,"lead":"5 weeks","weeks":5},{"id":"side_ramp","name":"Side entry, fold-down ramp","kind":"opening","price":"6490.00","mass":"59.16","most":1,"lead":"7 weeks","weeks":7},{"id":"ramp_hoist","name":"Ramp hoist","kind":"fitting","price":"1700.00","mass":"10.98","most":1,"lead":"3 weeks","weeks":3},{"id":"transom_door","name":"Transom door","kind":"opening","price":"2780.00","mass":"17.54","most":1,"lead":"4 weeks","weeks":4},{"id":"companion_wide","name":"Cabin door, wide","kind":"panel","price":"430.00","mass":"3.53","most":1,"lead":"5 weeks","weeks":5,"instead_of":["companion_door"]},{"id":"fish_lid","name":"Insulated storage lid","kind":"panel","price":"1020.00","mass":"7.89","most":2,"lead":"2 weeks","weeks":2},{"id":"seat_base","name":"Seat base","kind":"panel","price":"1260.00","mass":"10.34","most":4,"lead":"3 weeks","weeks":3},{"id":"sole_panels","name":"Core-filled sole panels","kind":"core","price":"3490.00","mass":"38.86","most":1,"lead":"3 weeks","weeks":3},{"id":"buoyancy","name":"Buoyancy fill","kind":"core","price":"960.00","mass":"17.03","most":1,"lead":"2 weeks","weeks":2},{"id":"hull_blue","name":"Hull colour deep blue","kind":"colour","price":"2390.00","mass":"3.22","most":1,"lead":"1 week","weeks":1},{"id":"hull_grey","name":"Hull colour stone grey","kind":"colour","price":"2210.00","mass":"2.18","most":1,"lead":"1 week","weeks":1},{"id":"easy_boarding","name":"Easy boarding","kind":"package","price":"6840.00","mass":"54.89","most":1,"holds":["side_single","transom_door"]},{"id":"day_fishing","name":"Day fishing","kind":"package","price":"2210.00","mass":"18.23","most":1,"holds":["fish_lid","seat_base"]}],"surcharges":[{"option":"side_single","colour":"hull_blue","name":"Extra charge: Side entry, single with Hull colour deep blue","price":"60.00"}],"standard":[{"id":"companion_door","name":"Cabin door","kind":"panel"},{"id":"deck_hatch","name":"Deck hatch","kind":"panel"},{"id":"anchor_lid","name":"Anchor locker lid","kind":"panel"}],"rules":[{"option":"side_single","kind":"one of","others":["side_single","side_pair","side_step","side_ramp"],"words":"Only one of these can be had: {options}."},{"option":"side_single","kind":"most","others":[],"words":"At most 1 of these can be fitted: Side entry, single."},{"option":"side_pair","kind":"one of","others":["side_single","side_pair","side_step","side_ramp"],"words":"Only one of these can be had: {options}."},{"option":"side_pair","kind":"most","others":[],"words":"At most 1 of these can be fitted: Side entry, pair."},{"option":"side_step","kind":"one of","others":["side_single","side_pair","side_step","side_ramp"],"words":"Only one of these can be had: {options}."},{"option":"side_step","kind":"most","others":[],"words":"At most 1 of these can be fitted: Side entry, wide with step."},{"option":"side_ramp","kind":"one of","others":["side_single","side_pair","side_step","side_ramp"],"words":"Only one of these can be had: {options}."},{"option":"side_ramp","kind":"most","others":[],"words":"At most 1 of these can be fitted: Side entry, fold-down ramp."},{"option":"ramp_hoist","kind":"needs","others":["side_ramp"],"words":"Ramp hoist can only be had with Side entry, fold-down ramp."},{"option":"ramp_hoist","kind":"most","others":[],"words":"At most 1 of these can be fitted: Ramp hoist."},{"option":"transom_door","kind":"most","others":[],"words":"At most 1 of these can be fitted: Transom door."},{"option":"companion_door","kind":"one of","others":["companion_door","companion_wide"],"words":"Only one of these can be had: {options}."},{"option":"companion_door","kind":"most","others":[],"words":"At most 1 of these can be fitted: Cabin door."},{"option":"companion_wide","kind":"one of","others":["companion_door","companion_wide"],"words":"Only one of these can be had: {options}."},{"option":"companion_wide","kind":"most","others":[],"words":"At most 1 of these can be fitted: Cabin door, wide."},{"option":"deck_hatch","kind":"most","others":[],"words":"At most 2 of these can be fitted: Deck hatch."},{"option":"anchor_lid","kind":"most","others":[],"words":"At most 1 of these can be fitted: Anchor locker lid."},{"option":"fish_lid","kind":"most","others":[],"words":"At most 2 of these can be fitted: Insulated storage lid."},{"option":"seat_base","kind":"most","others":[],"words":"At most 4 of these can be fitted: Seat base."},{"option":"sole_panels","kind":"most","others":[],"words":"At most 1 of these can be fitted: Core-filled sole panels."},{"option":"buoyancy","kind":"most","others":[],"words":"At most 1 of these can be fitted: Buoyancy fill."},{"option":"hull_blue","kind":"one of","others":["hull_blue","hull_grey"],"words":"Only one of these can be had: {options}."},{"option":"hull_blue","kind":"most","others":[],"words":"At most 1 of these can be fitted: Hull colour deep blue."},{"option":"hull_grey","kind":"one of","others":["hull_blue","hull_grey"],"words":"Only one of these can be had: {options}."},{"option":"hull_grey","kind":"most","others":[],"words":"At most 1 of these can be fitted: Hull colour stone grey."}],"words":{"between":"; ","colon":": ","add":"Add","take_out":"Take out","added":"{name} is on your list. Total {total}.","taken_out":"{name} is off your list. Total {total}.","refused":"{name} can't be added.","kept":"{name} can't be taken out.","fix_add":"Take {name} with {added}","fix_out":"Take {name} and give up {removed}","fix_both":"Take {name} with {added} and give up {removed}","fix_add_too":"Take out {name} and add {added}","fix_out_too":"Take out {name} and {removed}","fix_both_too":"Take out {name} and {removed}, add {added}","then":"Total then: {total}.","held":"{option} is in the package {package} already.","goes_in":"The package {package} takes in what you have of it: {names}.","cheaper":"The package {package} saves {saving}: it holds {names}.","cheaper_besides":"The package {package} saves {saving} and brings {besides} as well: it holds {names}.","swap":"Take {package}","not_now":"Not now","undo":"Undo","restored":"Your list is as it was. Total {total}.","left_out":"Not taken over from the address:","standard_here":"{name} is standard on this boat.","standard_there":"{name} is not offered on this boat; it is standard on {boats}.","not_here":"{name} is not offered on this boat.","too_many":"Of {name}, at most {most} can be had.","unknown_one":"1 entry is on no price sheet of this yard.","unknown_more":"{count} entries are on no price sheet of this yard.","lead":"Longest lead time: {time} ({name})","leads":"Lead times: {times}","quantity":"Number of {name}","shown":"{count} of {all} options shown","nothing":"No option matches. Change the words or the filters.","copied":"The address is copied.","copy_by_hand":"Copy it from your browser's address line.","count_none":"no options","count_one":"1 option","count_more":"{count} options","here_opened":"{names} is no package on this boat; what it holds is listed one by one.","here_extra":"Standard on the {model}, an extra on this boat: {names}.","some_there":"{count} of {all} offered or standard there","kept_aside":"Kept aside: {model}, {total}.","no_aside":"The list kept aside can't be read here.","is_standard":"standard","in_package":"in the package {package}","on_both":"On both lists: {names}.","all_same":"Both lists hold the same options.","mail_subject":"Request for a quote: {model}","mail_ask":"Please send me a quote for this boat.","mail_sheet":"By price sheet {version}.","mail_list":"This list: {address}","mail_more":"and {count} more","total_told":"Total: {total}"},"money":{"digits":2,"before":"€","after":"","before_negative":"−€","after_negative":"","separator":",","decimal":".","sizes":[3,3],"grouped_from":4,"whole":true},"masses":{"whole_digits":4,"fine":{"digits":1,"before":"","after":" kg","before_negative":"−","after_negative":" kg","separator":",","decimal":".","sizes":[3,3],"grouped_from":4,"whole":false},"whole":{"digits":0,"before":"","after":" kg","before_negative":"−","after_negative":" kg","separator":",","decimal":"","sizes":[3,3],"grouped_from":4,"whole":false},"pound":"0.45359237","pounds_whole_digits":2,"pounds_fine":{"digits":1,"before":"","after":" lb","before_negative":"−","after_negative":" lb","separator":",","decimal":".","sizes":[3,3],"grouped_from":4,"whole":false},"pounds_whole":{"digits":0,"before":"","after":" lb","before_negative":"−","after_negative":" lb","separator":",","decimal":"","sizes":[3,3],"grouped_from":4,"whole":false}}};
window.priceList.check = check;
}());
