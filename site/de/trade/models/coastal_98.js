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
window.priceList = {"request":1,"market":"trade","language":"de","version":"2026-11","yard":"Orvesund Boatyard","model":"coastal_98","name":"Orvesund 9.8 Coastal","currency":"EUR","price":"215900.00","weeks":26,"lead":"26 Wochen","mass":"3875.55","delivery":null,"delivery_words":"","items":[{"id":"side_single","name":"Seiteneinstieg, einseitig","kind":"opening","price":"4350.00","mass":"37.35","most":1,"lead":"4 Wochen","weeks":4},{"id":"side_pair","name":"Seiteneinstieg, beidseitig","kind":"opening","price":"7950.00","mass":"74.70","most":1,"lead":"5 Wochen","weeks":5},{"id":"side_step","name":"Seiteneinstieg, breit mit Stufe","kind":"opening","price":"6000.00","mass":"54.79","most":1,"lead":"5 Wochen","weeks":5},{"id":"side_ramp","name":"Seiteneinstieg, klappbare Rampe","kind":"opening","price":"6490.00","mass":"59.16","most":1,"lead":"7 Wochen","weeks":7},{"id":"ramp_hoist","name":"Rampenwinde","kind":"fitting","price":"1700.00","mass":"10.98","most":1,"lead":"3 Wochen","weeks":3},{"id":"transom_door","name":"Hecktür","kind":"opening","price":"2780.00","mass":"17.54","most":1,"lead":"4 Wochen","weeks":4},{"id":"companion_wide","name":"Kajüttür, breit","kind":"panel","price":"430.00","mass":"3.53","most":1,"lead":"5 Wochen","weeks":5,"instead_of":["companion_door"]},{"id":"fish_lid","name":"Isolierter Staufachdeckel","kind":"panel","price":"1020.00","mass":"7.89","most":2,"lead":"2 Wochen","weeks":2},{"id":"seat_base","name":"Sitzkasten","kind":"panel","price":"1260.00","mass":"10.34","most":4,"lead":"3 Wochen","weeks":3},{"id":"sole_panels","name":"Bodenplatten mit Schaumkern","kind":"core","price":"3490.00","mass":"38.86","most":1,"lead":"3 Wochen","weeks":3},{"id":"buoyancy","name":"Auftriebsschaum","kind":"core","price":"960.00","mass":"17.03","most":1,"lead":"2 Wochen","weeks":2},{"id":"hull_blue","name":"Rumpffarbe Tiefblau","kind":"colour","price":"2390.00","mass":"3.22","most":1,"lead":"1 Woche","weeks":1},{"id":"hull_grey","name":"Rumpffarbe Steingrau","kind":"colour","price":"2210.00","mass":"2.18","most":1,"lead":"1 Woche","weeks":1},{"id":"easy_boarding","name":"Bequemer Einstieg","kind":"package","price":"6840.00","mass":"54.89","most":1,"holds":["side_single","transom_door"]},{"id":"day_fishing","name":"Angeltag","kind":"package","price":"2210.00","mass":"18.23","most":1,"holds":["fish_lid","seat_base"]}],"surcharges":[{"option":"side_single","colour":"hull_blue","name":"Mehrpreis Seiteneinstieg, einseitig, mit Rumpffarbe Tiefblau","price":"60.00"}],"standard":[{"id":"companion_door","name":"Kajüttür","kind":"panel"},{"id":"deck_hatch","name":"Decksluke","kind":"panel"},{"id":"anchor_lid","name":"Deckel für Ankerkasten","kind":"panel"}],"rules":[{"option":"side_single","kind":"one of","others":["side_single","side_pair","side_step","side_ramp"],"words":"Nur eines davon ist möglich: {options}."},{"option":"side_single","kind":"most","others":[],"words":"Höchstens 1 davon: Seiteneinstieg, einseitig."},{"option":"side_pair","kind":"one of","others":["side_single","side_pair","side_step","side_ramp"],"words":"Nur eines davon ist möglich: {options}."},{"option":"side_pair","kind":"most","others":[],"words":"Höchstens 1 davon: Seiteneinstieg, beidseitig."},{"option":"side_step","kind":"one of","others":["side_single","side_pair","side_step","side_ramp"],"words":"Nur eines davon ist möglich: {options}."},{"option":"side_step","kind":"most","others":[],"words":"Höchstens 1 davon: Seiteneinstieg, breit mit Stufe."},{"option":"side_ramp","kind":"one of","others":["side_single","side_pair","side_step","side_ramp"],"words":"Nur eines davon ist möglich: {options}."},{"option":"side_ramp","kind":"most","others":[],"words":"Höchstens 1 davon: Seiteneinstieg, klappbare Rampe."},{"option":"ramp_hoist","kind":"needs","others":["side_ramp"],"words":"Rampenwinde: nur zusammen mit Seiteneinstieg, klappbare Rampe."},{"option":"ramp_hoist","kind":"most","others":[],"words":"Höchstens 1 davon: Rampenwinde."},{"option":"transom_door","kind":"most","others":[],"words":"Höchstens 1 davon: Hecktür."},{"option":"companion_door","kind":"one of","others":["companion_door","companion_wide"],"words":"Nur eines davon ist möglich: {options}."},{"option":"companion_door","kind":"most","others":[],"words":"Höchstens 1 davon: Kajüttür."},{"option":"companion_wide","kind":"one of","others":["companion_door","companion_wide"],"words":"Nur eines davon ist möglich: {options}."},{"option":"companion_wide","kind":"most","others":[],"words":"Höchstens 1 davon: Kajüttür, breit."},{"option":"deck_hatch","kind":"most","others":[],"words":"Höchstens 2 davon: Decksluke."},{"option":"anchor_lid","kind":"most","others":[],"words":"Höchstens 1 davon: Deckel für Ankerkasten."},{"option":"fish_lid","kind":"most","others":[],"words":"Höchstens 2 davon: Isolierter Staufachdeckel."},{"option":"seat_base","kind":"most","others":[],"words":"Höchstens 4 davon: Sitzkasten."},{"option":"sole_panels","kind":"most","others":[],"words":"Höchstens 1 davon: Bodenplatten mit Schaumkern."},{"option":"buoyancy","kind":"most","others":[],"words":"Höchstens 1 davon: Auftriebsschaum."},{"option":"hull_blue","kind":"one of","others":["hull_blue","hull_grey"],"words":"Nur eines davon ist möglich: {options}."},{"option":"hull_blue","kind":"most","others":[],"words":"Höchstens 1 davon: Rumpffarbe Tiefblau."},{"option":"hull_grey","kind":"one of","others":["hull_blue","hull_grey"],"words":"Nur eines davon ist möglich: {options}."},{"option":"hull_grey","kind":"most","others":[],"words":"Höchstens 1 davon: Rumpffarbe Steingrau."}],"words":{"between":"; ","colon":": ","add":"Hinzufügen","take_out":"Entfernen","added":"Auf Ihrer Liste: {name}. Summe {total}.","taken_out":"Nicht mehr auf Ihrer Liste: {name}. Summe {total}.","refused":"Lässt sich nicht hinzufügen: {name}.","kept":"Lässt sich nicht entfernen: {name}.","fix_add":"{name} hinzufügen, zusammen mit: {added}","fix_out":"{name} hinzufügen, dafür entfernen: {removed}","fix_both":"{name} hinzufügen, zusammen mit: {added}. Dafür entfernen: {removed}","fix_add_too":"{name} entfernen, dafür hinzufügen: {added}","fix_out_too":"{name} entfernen, ebenso: {removed}","fix_both_too":"{name} entfernen, ebenso: {removed}. Dafür hinzufügen: {added}","then":"Summe dann: {total}.","held":"Schon im Paket {package} enthalten: {option}.","goes_in":"Das Paket {package} schließt ein, was Sie davon schon haben: {names}.","cheaper":"Mit dem Paket {package} sparen Sie {saving}. Es enthält: {names}.","cheaper_besides":"Mit dem Paket {package} sparen Sie {saving} und bekommen noch dazu: {besides}. Es enthält: {names}.","swap":"Paket {package} wählen","not_now":"Jetzt nicht","undo":"Rückgängig machen","restored":"Ihre Liste ist wieder wie zuvor. Summe {total}.","left_out":"Nicht aus der Adresse übernommen:","standard_here":"{name}: bei diesem Boot Serie.","standard_there":"{name}: für dieses Boot nicht angeboten; Serie bei: {boats}.","not_here":"{name}: für dieses Boot nicht angeboten.","too_many":"{name}: höchstens {most} je Boot.","unknown_one":"1 Eintrag steht in keiner Preisliste dieser Werft.","unknown_more":"{count} Einträge stehen in keiner Preisliste dieser Werft.","lead":"Längste Lieferzeit: {time} ({name})","leads":"Lieferzeiten: {times}","quantity":"Anzahl: {name}","shown":"{count} von {all} Extras angezeigt","nothing":"Kein Extra passt. Ändern Sie die Wörter oder die Filter.","copied":"Die Adresse ist kopiert.","copy_by_hand":"Kopieren Sie sie aus der Adresszeile des Browsers.","count_none":"keine Extras","count_one":"1 Extra","count_more":"{count} Extras","here_opened":"{names}: für dieses Boot kein Paket; der Inhalt steht einzeln auf der Liste.","here_extra":"Serie bei {model}, Extra bei diesem Boot: {names}.","some_there":"{count} von {all} dort angeboten oder Serie","kept_aside":"Beiseitegelegt: {model}, {total}.","no_aside":"Die beiseitegelegte Liste lässt sich hier nicht lesen.","is_standard":"Serie","in_package":"im Paket {package}","on_both":"Auf beiden Listen: {names}.","all_same":"Beide Listen enthalten dieselben Extras.","mail_subject":"Angebotsanfrage: {model}","mail_ask":"Bitte senden Sie mir ein Angebot für dieses Boot.","mail_sheet":"Nach Preisliste {version}.","mail_list":"Diese Liste: {address}","mail_more":"weitere Positionen: {count}","total_told":"Summe: {total}"},"money":{"digits":2,"before":"","after":" €","before_negative":"−","after_negative":" €","separator":".","decimal":",","sizes":[3,3],"grouped_from":4,"whole":true},"masses":{"whole_digits":4,"fine":{"digits":1,"before":"","after":" kg","before_negative":"−","after_negative":" kg","separator":".","decimal":",","sizes":[3,3],"grouped_from":4,"whole":false},"whole":{"digits":0,"before":"","after":" kg","before_negative":"−","after_negative":" kg","separator":".","decimal":"","sizes":[3,3],"grouped_from":4,"whole":false},"pound":"0.45359237","pounds_whole_digits":2,"pounds_fine":{"digits":1,"before":"","after":" lb","before_negative":"−","after_negative":" lb","separator":".","decimal":",","sizes":[3,3],"grouped_from":4,"whole":false},"pounds_whole":{"digits":0,"before":"","after":" lb","before_negative":"−","after_negative":" lb","separator":".","decimal":"","sizes":[3,3],"grouped_from":4,"whole":false}}};
window.priceList.check = check;
}());
