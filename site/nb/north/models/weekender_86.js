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
window.priceList = {"request":1,"market":"north","language":"nb","version":"2026-11","yard":"Orvesund Boatyard","model":"weekender_86","name":"Orvesund 8.6 Weekender","currency":"NOK","price":"1575700.00","weeks":20,"lead":"20 uker","mass":"2500.23","delivery":null,"delivery_words":"","items":[{"id":"side_single","name":"Sidedør, enkel","kind":"opening","price":"51500.00","mass":"37.35","most":1,"lead":"4 uker","weeks":4},{"id":"side_pair","name":"Sidedører, én på hver side","kind":"opening","price":"92900.00","mass":"74.70","most":1,"lead":"5 uker","weeks":5},{"id":"side_step","name":"Sidedør, bred, med trinn","kind":"opening","price":"70100.00","mass":"54.79","most":1,"lead":"5 uker","weeks":5},{"id":"transom_door","name":"Akterspeildør","kind":"opening","price":"32500.00","mass":"17.54","most":1,"lead":"4 uker","weeks":4},{"id":"companion_wide","name":"Kahyttdør, bred","kind":"panel","price":"5100.00","mass":"3.53","most":1,"lead":"5 uker","weeks":5,"instead_of":["companion_door"]},{"id":"deck_hatch","name":"Dekksluke","kind":"panel","price":"11300.00","mass":"5.31","most":2,"lead":"2 uker","weeks":2},{"id":"fish_lid","name":"Isolert lokk til stuerom","kind":"panel","price":"12000.00","mass":"7.89","most":2,"lead":"2 uker","weeks":2},{"id":"seat_base","name":"Setekasse","kind":"panel","price":"14800.00","mass":"10.34","most":4,"lead":"3 uker","weeks":3},{"id":"sole_panels","name":"Dørkplater med skumkjerne","kind":"core","price":"40800.00","mass":"38.86","most":1,"lead":"3 uker","weeks":3},{"id":"roof_panel","name":"Cockpittak","kind":"core","price":"33700.00","mass":"54.02","most":1,"lead":"4 uker","weeks":4},{"id":"buoyancy","name":"Oppdriftsskum","kind":"core","price":"9900.00","mass":"12.67","most":1,"lead":"2 uker","weeks":2},{"id":"hull_blue","name":"Dypblå skrogfarge","kind":"colour","price":"22100.00","mass":"2.56","most":1,"lead":"1 uke","weeks":1},{"id":"hull_grey","name":"Steingrå skrogfarge","kind":"colour","price":"20800.00","mass":"1.79","most":1,"lead":"1 uke","weeks":1},{"id":"easy_boarding","name":"Lett ombordstigning","kind":"package","price":"80600.00","mass":"54.89","most":1,"holds":["side_single","transom_door"]},{"id":"day_fishing","name":"Dagsfiske","kind":"package","price":"25900.00","mass":"18.23","most":1,"holds":["fish_lid","seat_base"]}],"surcharges":[{"option":"side_single","colour":"hull_blue","name":"Tillegg: Sidedør, enkel (Dypblå skrogfarge)","price":"800.00"}],"standard":[{"id":"companion_door","name":"Kahyttdør","kind":"panel"},{"id":"anchor_lid","name":"Lokk til ankerbrønn","kind":"panel"}],"rules":[{"option":"side_single","kind":"one of","others":["side_single","side_pair","side_step"],"words":"Bare ett av disse er mulig: {options}."},{"option":"side_single","kind":"most","others":[],"words":"Høyst 1 av disse: Sidedør, enkel."},{"option":"side_pair","kind":"one of","others":["side_single","side_pair","side_step"],"words":"Bare ett av disse er mulig: {options}."},{"option":"side_pair","kind":"most","others":[],"words":"Høyst 1 av disse: Sidedører, én på hver side."},{"option":"side_step","kind":"one of","others":["side_single","side_pair","side_step"],"words":"Bare ett av disse er mulig: {options}."},{"option":"side_step","kind":"most","others":[],"words":"Høyst 1 av disse: Sidedør, bred, med trinn."},{"option":"transom_door","kind":"most","others":[],"words":"Høyst 1 av disse: Akterspeildør."},{"option":"companion_door","kind":"one of","others":["companion_door","companion_wide"],"words":"Bare ett av disse er mulig: {options}."},{"option":"companion_door","kind":"most","others":[],"words":"Høyst 1 av disse: Kahyttdør."},{"option":"companion_wide","kind":"one of","others":["companion_door","companion_wide"],"words":"Bare ett av disse er mulig: {options}."},{"option":"companion_wide","kind":"most","others":[],"words":"Høyst 1 av disse: Kahyttdør, bred."},{"option":"deck_hatch","kind":"most","others":[],"words":"Høyst 2 av disse: Dekksluke."},{"option":"anchor_lid","kind":"most","others":[],"words":"Høyst 1 av disse: Lokk til ankerbrønn."},{"option":"fish_lid","kind":"most","others":[],"words":"Høyst 2 av disse: Isolert lokk til stuerom."},{"option":"seat_base","kind":"most","others":[],"words":"Høyst 4 av disse: Setekasse."},{"option":"sole_panels","kind":"most","others":[],"words":"Høyst 1 av disse: Dørkplater med skumkjerne."},{"option":"roof_panel","kind":"most","others":[],"words":"Høyst 1 av disse: Cockpittak."},{"option":"buoyancy","kind":"most","others":[],"words":"Høyst 1 av disse: Oppdriftsskum."},{"option":"hull_blue","kind":"one of","others":["hull_blue","hull_grey"],"words":"Bare ett av disse er mulig: {options}."},{"option":"hull_blue","kind":"most","others":[],"words":"Høyst 1 av disse: Dypblå skrogfarge."},{"option":"hull_grey","kind":"one of","others":["hull_blue","hull_grey"],"words":"Bare ett av disse er mulig: {options}."},{"option":"hull_grey","kind":"most","others":[],"words":"Høyst 1 av disse: Steingrå skrogfarge."}],"words":{"between":"; ","colon":": ","add":"Legg til","take_out":"Ta ut","added":"På listen din: {name}. Sum {total}.","taken_out":"Tatt ut av listen din: {name}. Sum {total}.","refused":"Kan ikke legges til: {name}.","kept":"Kan ikke tas ut: {name}.","fix_add":"Legg til {name} sammen med {added}","fix_out":"Legg til {name} og ta ut {removed}","fix_both":"Legg til {name} sammen med {added} og ta ut {removed}","fix_add_too":"Ta ut {name} og legg til {added}","fix_out_too":"Ta ut {name} og {removed}","fix_both_too":"Ta ut {name} og {removed}, legg til {added}","then":"Summen blir {total}.","held":"{option} er allerede med i pakken {package}.","goes_in":"Pakken {package} tar opp i seg det du har av den fra før: {names}.","cheaper":"Med pakken {package} sparer du {saving}. Den inkluderer {names}.","cheaper_besides":"Med pakken {package} sparer du {saving} og får {besides} i tillegg. Den inkluderer {names}.","swap":"Velg pakken {package}","not_now":"Ikke nå","undo":"Angre","restored":"Listen din er som før. Sum {total}.","left_out":"Ikke overført fra adressen:","standard_here":"{name} er standard på denne båten.","standard_there":"{name} tilbys ikke på denne båten, men er standard på {boats}.","not_here":"{name} tilbys ikke på denne båten.","too_many":"{name}: høyst {most} per båt.","unknown_one":"1 oppføring står ikke i noen prisliste fra dette verftet.","unknown_more":"{count} oppføringer står ikke i noen prisliste fra dette verftet.","lead":"Lengste leveringstid: {time} ({name})","leads":"Leveringstider: {times}","quantity":"Antall: {name}","shown":"{count} av {all} tilvalg vises","nothing":"Ingen tilvalg passer. Endre søkeordene eller filtrene.","copied":"Adressen er kopiert.","copy_by_hand":"Kopier den fra adresselinjen i nettleseren.","count_none":"ingen tilvalg","count_one":"1 tilvalg","count_more":"{count} tilvalg","here_opened":"{names} finnes ikke som pakke på denne båten; innholdet er ført opp enkeltvis.","here_extra":"Standard på {model}, tilvalg på denne båten: {names}.","some_there":"{count} av {all} tilbys eller er standard der","kept_aside":"Lagt til side: {model}, {total}.","no_aside":"Listen som er lagt til side, kan ikke leses her.","is_standard":"standard","in_package":"i pakken {package}","on_both":"På begge listene: {names}.","all_same":"Begge listene har de samme tilvalgene.","mail_subject":"Forespørsel om tilbud: {model}","mail_ask":"Jeg ønsker et tilbud på denne båten.","mail_sheet":"Etter prisliste {version}.","mail_list":"Denne listen: {address}","mail_more":"og {count} til","total_told":"Sum: {total}"},"money":{"digits":2,"before":"","after":" kr","before_negative":"−","after_negative":" kr","separator":" ","decimal":",","sizes":[3,3],"grouped_from":4,"whole":true},"masses":{"whole_digits":4,"fine":{"digits":1,"before":"","after":" kg","before_negative":"−","after_negative":" kg","separator":" ","decimal":",","sizes":[3,3],"grouped_from":4,"whole":false},"whole":{"digits":0,"before":"","after":" kg","before_negative":"−","after_negative":" kg","separator":" ","decimal":"","sizes":[3,3],"grouped_from":4,"whole":false}}};
window.priceList.check = check;
}());
