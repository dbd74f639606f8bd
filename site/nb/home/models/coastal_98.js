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
window.priceList = {"request":1,"market":"home","language":"nb","version":"2026-11","yard":"Orvesund Boatyard","model":"coastal_98","name":"Orvesund 9.8 Coastal","currency":"EUR","price":"267716.00","weeks":26,"lead":"26 uker","mass":"3875.55","delivery":null,"delivery_words":"","items":[{"id":"side_single","name":"Sidedør, enkel","kind":"opening","price":"5394.00","mass":"37.35","most":1,"lead":"4 uker","weeks":4},{"id":"side_pair","name":"Sidedører, én på hver side","kind":"opening","price":"9858.00","mass":"74.70","most":1,"lead":"5 uker","weeks":5},{"id":"side_step","name":"Sidedør, bred, med trinn","kind":"opening","price":"7440.00","mass":"54.79","most":1,"lead":"5 uker","weeks":5},{"id":"side_ramp","name":"Sidedør med nedfellbar rampe","kind":"opening","price":"8047.60","mass":"59.16","most":1,"lead":"7 uker","weeks":7},{"id":"ramp_hoist","name":"Rampevinsj","kind":"fitting","price":"2108.00","mass":"10.98","most":1,"lead":"3 uker","weeks":3},{"id":"transom_door","name":"Akterspeildør","kind":"opening","price":"3447.20","mass":"17.54","most":1,"lead":"4 uker","weeks":4},{"id":"companion_wide","name":"Kahyttdør, bred","kind":"panel","price":"533.20","mass":"3.53","most":1,"lead":"5 uker","weeks":5,"instead_of":["companion_door"]},{"id":"fish_lid","name":"Isolert lokk til stuerom","kind":"panel","price":"1264.80","mass":"7.89","most":2,"lead":"2 uker","weeks":2},{"id":"seat_base","name":"Setekasse","kind":"panel","price":"1562.40","mass":"10.34","most":4,"lead":"3 uker","weeks":3},{"id":"sole_panels","name":"Dørkplater med skumkjerne","kind":"core","price":"4327.60","mass":"38.86","most":1,"lead":"3 uker","weeks":3},{"id":"buoyancy","name":"Oppdriftsskum","kind":"core","price":"1190.40","mass":"17.03","most":1,"lead":"2 uker","weeks":2},{"id":"hull_blue","name":"Dypblå skrogfarge","kind":"colour","price":"2963.60","mass":"3.22","most":1,"lead":"1 uke","weeks":1},{"id":"hull_grey","name":"Steingrå skrogfarge","kind":"colour","price":"2740.40","mass":"2.18","most":1,"lead":"1 uke","weeks":1},{"id":"easy_boarding","name":"Lett ombordstigning","kind":"package","price":"8481.60","mass":"54.89","most":1,"holds":["side_single","transom_door"]},{"id":"day_fishing","name":"Dagsfiske","kind":"package","price":"2740.40","mass":"18.23","most":1,"holds":["fish_lid","seat_base"]}],"surcharges":[{"option":"side_single","colour":"hull_blue","name":"Tillegg: Sidedør, enkel (Dypblå skrogfarge)","price":"74.40"}],"standard":[{"id":"companion_door","name":"Kahyttdør","kind":"panel"},{"id":"deck_hatch","name":"Dekksluke","kind":"panel"},{"id":"anchor_lid","name":"Lokk til ankerbrønn","kind":"panel"}],"rules":[{"option":"side_single","kind":"one of","others":["side_single","side_pair","side_step","side_ramp"],"words":"Bare ett av disse er mulig: {options}."},{"option":"side_single","kind":"most","others":[],"words":"Høyst 1 av disse: Sidedør, enkel."},{"option":"side_pair","kind":"one of","others":["side_single","side_pair","side_step","side_ramp"],"words":"Bare ett av disse er mulig: {options}."},{"option":"side_pair","kind":"most","others":[],"words":"Høyst 1 av disse: Sidedører, én på hver side."},{"option":"side_step","kind":"one of","others":["side_single","side_pair","side_step","side_ramp"],"words":"Bare ett av disse er mulig: {options}."},{"option":"side_step","kind":"most","others":[],"words":"Høyst 1 av disse: Sidedør, bred, med trinn."},{"option":"side_ramp","kind":"one of","others":["side_single","side_pair","side_step","side_ramp"],"words":"Bare ett av disse er mulig: {options}."},{"option":"side_ramp","kind":"most","others":[],"words":"Høyst 1 av disse: Sidedør med nedfellbar rampe."},{"option":"ramp_hoist","kind":"needs","others":["side_ramp"],"words":"Rampevinsj: bare sammen med Sidedør med nedfellbar rampe."},{"option":"ramp_hoist","kind":"most","others":[],"words":"Høyst 1 av disse: Rampevinsj."},{"option":"transom_door","kind":"most","others":[],"words":"Høyst 1 av disse: Akterspeildør."},{"option":"companion_door","kind":"one of","others":["companion_door","companion_wide"],"words":"Bare ett av disse er mulig: {options}."},{"option":"companion_door","kind":"most","others":[],"words":"Høyst 1 av disse: Kahyttdør."},{"option":"companion_wide","kind":"one of","others":["companion_door","companion_wide"],"words":"Bare ett av disse er mulig: {options}."},{"option":"companion_wide","kind":"most","others":[],"words":"Høyst 1 av disse: Kahyttdør, bred."},{"option":"deck_hatch","kind":"most","others":[],"words":"Høyst 2 av disse: Dekksluke."},{"option":"anchor_lid","kind":"most","others":[],"words":"Høyst 1 av disse: Lokk til ankerbrønn."},{"option":"fish_lid","kind":"most","others":[],"words":"Høyst 2 av disse: Isolert lokk til stuerom."},{"option":"seat_base","kind":"most","others":[],"words":"Høyst 4 av disse: Setekasse."},{"option":"sole_panels","kind":"most","others":[],"words":"Høyst 1 av disse: Dørkplater med skumkjerne."},{"option":"buoyancy","kind":"most","others":[],"words":"Høyst 1 av disse: Oppdriftsskum."},{"option":"hull_blue","kind":"one of","others":["hull_blue","hull_grey"],"words":"Bare ett av disse er mulig: {options}."},{"option":"hull_blue","kind":"most","others":[],"words":"Høyst 1 av disse: Dypblå skrogfarge."},{"option":"hull_grey","kind":"one of","others":["hull_blue","hull_grey"],"words":"Bare ett av disse er mulig: {options}."},{"option":"hull_grey","kind":"most","others":[],"words":"Høyst 1 av disse: Steingrå skrogfarge."}],"words":{"between":"; ","colon":": ","add":"Legg til","take_out":"Ta ut","added":"På listen din: {name}. Sum {total}.","taken_out":"Tatt ut av listen din: {name}. Sum {total}.","refused":"Kan ikke legges til: {name}.","kept":"Kan ikke tas ut: {name}.","fix_add":"Legg til {name} sammen med {added}","fix_out":"Legg til {name} og ta ut {removed}","fix_both":"Legg til {name} sammen med {added} og ta ut {removed}","fix_add_too":"Ta ut {name} og legg til {added}","fix_out_too":"Ta ut {name} og {removed}","fix_both_too":"Ta ut {name} og {removed}, legg til {added}","then":"Summen blir {total}.","held":"{option} er allerede med i pakken {package}.","goes_in":"Pakken {package} tar opp i seg det du har av den fra før: {names}.","cheaper":"Med pakken {package} sparer du {saving}. Den inkluderer {names}.","cheaper_besides":"Med pakken {package} sparer du {saving} og får {besides} i tillegg. Den inkluderer {names}.","swap":"Velg pakken {package}","not_now":"Ikke nå","undo":"Angre","restored":"Listen din er som før. Sum {total}.","left_out":"Ikke overført fra adressen:","standard_here":"{name} er standard på denne båten.","standard_there":"{name} tilbys ikke på denne båten, men er standard på {boats}.","not_here":"{name} tilbys ikke på denne båten.","too_many":"{name}: høyst {most} per båt.","unknown_one":"1 oppføring står ikke i noen prisliste fra dette verftet.","unknown_more":"{count} oppføringer står ikke i noen prisliste fra dette verftet.","lead":"Lengste leveringstid: {time} ({name})","leads":"Leveringstider: {times}","quantity":"Antall: {name}","shown":"{count} av {all} tilvalg vises","nothing":"Ingen tilvalg passer. Endre søkeordene eller filtrene.","copied":"Adressen er kopiert.","copy_by_hand":"Kopier den fra adresselinjen i nettleseren.","count_none":"ingen tilvalg","count_one":"1 tilvalg","count_more":"{count} tilvalg","here_opened":"{names} finnes ikke som pakke på denne båten; innholdet er ført opp enkeltvis.","here_extra":"Standard på {model}, tilvalg på denne båten: {names}.","some_there":"{count} av {all} tilbys eller er standard der","kept_aside":"Lagt til side: {model}, {total}.","no_aside":"Listen som er lagt til side, kan ikke leses her.","is_standard":"standard","in_package":"i pakken {package}","on_both":"På begge listene: {names}.","all_same":"Begge listene har de samme tilvalgene.","mail_subject":"Forespørsel om tilbud: {model}","mail_ask":"Jeg ønsker et tilbud på denne båten.","mail_sheet":"Etter prisliste {version}.","mail_list":"Denne listen: {address}","mail_more":"og {count} til","total_told":"Sum: {total}"},"money":{"digits":2,"before":"","after":" €","before_negative":"−","after_negative":" €","separator":" ","decimal":",","sizes":[3,3],"grouped_from":4,"whole":false},"masses":{"whole_digits":4,"fine":{"digits":1,"before":"","after":" kg","before_negative":"−","after_negative":" kg","separator":" ","decimal":",","sizes":[3,3],"grouped_from":4,"whole":false},"whole":{"digits":0,"before":"","after":" kg","before_negative":"−","after_negative":" kg","separator":" ","decimal":"","sizes":[3,3],"grouped_from":4,"whole":false},"pound":"0.45359237","pounds_whole_digits":2,"pounds_fine":{"digits":1,"before":"","after":" pund","before_negative":"−","after_negative":" pund","separator":" ","decimal":",","sizes":[3,3],"grouped_from":4,"whole":false},"pounds_whole":{"digits":0,"before":"","after":" pund","before_negative":"−","after_negative":" pund","separator":" ","decimal":"","sizes":[3,3],"grouped_from":4,"whole":false}},"savings":[{"id":"easy_boarding","saving":"359.60"},{"id":"day_fishing","saving":"86.80"}],"other":{"price":"215900.00","delivery":null,"items":[{"id":"side_single","price":"4350.00"},{"id":"side_pair","price":"7950.00"},{"id":"side_step","price":"6000.00"},{"id":"side_ramp","price":"6490.00"},{"id":"ramp_hoist","price":"1700.00"},{"id":"transom_door","price":"2780.00"},{"id":"companion_wide","price":"430.00"},{"id":"fish_lid","price":"1020.00"},{"id":"seat_base","price":"1260.00"},{"id":"sole_panels","price":"3490.00"},{"id":"buoyancy","price":"960.00"},{"id":"hull_blue","price":"2390.00"},{"id":"hull_grey","price":"2210.00"},{"id":"easy_boarding","price":"6840.00"},{"id":"day_fishing","price":"2210.00"}],"surcharges":[{"price":"60.00"}],"savings":[{"id":"easy_boarding","saving":"290.00"},{"id":"day_fishing","saving":"70.00"}]}};
window.priceList.check = check;
}());
