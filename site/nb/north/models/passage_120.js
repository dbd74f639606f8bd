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
window.priceList = {"request":1,"market":"north","language":"nb","version":"2026-11","yard":"Orvesund Boatyard","model":"passage_120","name":"Orvesund 12.0 Passage","currency":"NOK","price":"5244400.00","weeks":36,"lead":"36 uker","mass":"7943.12","delivery":null,"delivery_words":"","items":[{"id":"side_single","name":"Sidedør, enkel","kind":"opening","price":"51500.00","mass":"38.19","most":1,"lead":"4 uker","weeks":4},{"id":"side_pair","name":"Sidedører, én på hver side","kind":"opening","price":"92900.00","mass":"76.38","most":1,"lead":"5 uker","weeks":5},{"id":"side_step","name":"Sidedør, bred, med trinn","kind":"opening","price":"70700.00","mass":"55.65","most":1,"lead":"5 uker","weeks":5},{"id":"side_ramp","name":"Sidedør med nedfellbar rampe","kind":"opening","price":"77000.00","mass":"60.02","most":1,"lead":"7 uker","weeks":7},{"id":"ramp_hoist","name":"Rampevinsj","kind":"fitting","price":"19900.00","mass":"10.98","most":1,"lead":"3 uker","weeks":3},{"id":"companion_wide","name":"Kahyttdør, bred","kind":"panel","price":"5100.00","mass":"3.53","most":1,"lead":"5 uker","weeks":5,"instead_of":["companion_door"]},{"id":"seat_base","name":"Setekasse","kind":"panel","price":"14800.00","mass":"10.34","most":4,"lead":"3 uker","weeks":3},{"id":"buoyancy","name":"Oppdriftsskum","kind":"core","price":"13500.00","mass":"24.55","most":1,"lead":"2 uker","weeks":2}],"surcharges":[],"standard":[{"id":"transom_door","name":"Akterspeildør","kind":"opening"},{"id":"companion_door","name":"Kahyttdør","kind":"panel"},{"id":"deck_hatch","name":"Dekksluke","kind":"panel"},{"id":"anchor_lid","name":"Lokk til ankerbrønn","kind":"panel"}],"rules":[{"option":"side_single","kind":"one of","others":["side_single","side_pair","side_step","side_ramp"],"words":"Bare ett av disse er mulig: {options}."},{"option":"side_single","kind":"most","others":[],"words":"Høyst 1 av disse: Sidedør, enkel."},{"option":"side_pair","kind":"one of","others":["side_single","side_pair","side_step","side_ramp"],"words":"Bare ett av disse er mulig: {options}."},{"option":"side_pair","kind":"most","others":[],"words":"Høyst 1 av disse: Sidedører, én på hver side."},{"option":"side_step","kind":"one of","others":["side_single","side_pair","side_step","side_ramp"],"words":"Bare ett av disse er mulig: {options}."},{"option":"side_step","kind":"most","others":[],"words":"Høyst 1 av disse: Sidedør, bred, med trinn."},{"option":"side_ramp","kind":"one of","others":["side_single","side_pair","side_step","side_ramp"],"words":"Bare ett av disse er mulig: {options}."},{"option":"side_ramp","kind":"most","others":[],"words":"Høyst 1 av disse: Sidedør med nedfellbar rampe."},{"option":"ramp_hoist","kind":"needs","others":["side_ramp"],"words":"Rampevinsj: bare sammen med Sidedør med nedfellbar rampe."},{"option":"ramp_hoist","kind":"most","others":[],"words":"Høyst 1 av disse: Rampevinsj."},{"option":"transom_door","kind":"most","others":[],"words":"Høyst 1 av disse: Akterspeildør."},{"option":"companion_door","kind":"one of","others":["companion_door","companion_wide"],"words":"Bare ett av disse er mulig: {options}."},{"option":"companion_door","kind":"most","others":[],"words":"Høyst 1 av disse: Kahyttdør."},{"option":"companion_wide","kind":"one of","others":["companion_door","companion_wide"],"words":"Bare ett av disse er mulig: {options}."},{"option":"companion_wide","kind":"most","others":[],"words":"Høyst 1 av disse: Kahyttdør, bred."},{"option":"deck_hatch","kind":"most","others":[],"words":"Høyst 2 av disse: Dekksluke."},{"option":"anchor_lid","kind":"most","others":[],"words":"Høyst 1 av disse: Lokk til ankerbrønn."},{"option":"seat_base","kind":"most","others":[],"words":"Høyst 4 av disse: Setekasse."},{"option":"buoyancy","kind":"most","others":[],"words":"Høyst 1 av disse: Oppdriftsskum."}],"words":{"between":"; ","colon":": ","add":"Legg til","take_out":"Ta ut","added":"På listen din: {name}. Sum {total}.","taken_out":"Tatt ut av listen din: {name}. Sum {total}.","refused":"Kan ikke legges til: {name}.","kept":"Kan ikke tas ut: {name}.","fix_add":"Legg til {name} sammen med {added}","fix_out":"Legg til {name} og ta ut {removed}","fix_both":"Legg til {name} sammen med {added} og ta ut {removed}","fix_add_too":"Ta ut {name} og legg til {added}","fix_out_too":"Ta ut {name} og {removed}","fix_both_too":"Ta ut {name} og {removed}, legg til {added}","then":"Summen blir {total}.","held":"{option} er allerede med i pakken {package}.","goes_in":"Pakken {package} tar opp i seg det du har av den fra før: {names}.","cheaper":"Med pakken {package} sparer du {saving}. Den inkluderer {names}.","cheaper_besides":"Med pakken {package} sparer du {saving} og får {besides} i tillegg. Den inkluderer {names}.","swap":"Velg pakken {package}","not_now":"Ikke nå","undo":"Angre","restored":"Listen din er som før. Sum {total}.","left_out":"Ikke overført fra adressen:","standard_here":"{name} er standard på denne båten.","standard_there":"{name} tilbys ikke på denne båten, men er standard på {boats}.","not_here":"{name} tilbys ikke på denne båten.","too_many":"{name}: høyst {most} per båt.","unknown_one":"1 oppføring står ikke i noen prisliste fra dette verftet.","unknown_more":"{count} oppføringer står ikke i noen prisliste fra dette verftet.","lead":"Lengste leveringstid: {time} ({name})","leads":"Leveringstider: {times}","quantity":"Antall: {name}","shown":"{count} av {all} tilvalg vises","nothing":"Ingen tilvalg passer. Endre søkeordene eller filtrene.","copied":"Adressen er kopiert.","copy_by_hand":"Kopier den fra adresselinjen i nettleseren.","count_none":"ingen tilvalg","count_one":"1 tilvalg","count_more":"{count} tilvalg","here_opened":"{names} finnes ikke som pakke på denne båten; innholdet er ført opp enkeltvis.","here_extra":"Standard på {model}, tilvalg på denne båten: {names}.","some_there":"{count} av {all} tilbys eller er standard der","kept_aside":"Lagt til side: {model}, {total}.","no_aside":"Listen som er lagt til side, kan ikke leses her.","is_standard":"standard","in_package":"i pakken {package}","on_both":"På begge listene: {names}.","all_same":"Begge listene har de samme tilvalgene.","mail_subject":"Forespørsel om tilbud: {model}","mail_ask":"Jeg ønsker et tilbud på denne båten.","mail_sheet":"Etter prisliste {version}.","mail_list":"Denne listen: {address}","mail_more":"og {count} til","total_told":"Sum: {total}"},"money":{"digits":2,"before":"","after":" kr","before_negative":"−","after_negative":" kr","separator":" ","decimal":",","sizes":[3,3],"grouped_from":4,"whole":true},"masses":{"whole_digits":4,"fine":{"digits":1,"before":"","after":" kg","before_negative":"−","after_negative":" kg","separator":" ","decimal":",","sizes":[3,3],"grouped_from":4,"whole":false},"whole":{"digits":0,"before":"","after":" kg","before_negative":"−","after_negative":" kg","separator":" ","decimal":"","sizes":[3,3],"grouped_from":4,"whole":false}}};
window.priceList.check = check;
}());
