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
window.priceList = {"request":1,"market":"home","language":"de","version":"2026-11","yard":"Orvesund Boatyard","model":"passage_120","name":"Orvesund 12.0 Passage","currency":"EUR","price":"556760.00","weeks":36,"lead":"36 Wochen","mass":"7943.12","delivery":null,"delivery_words":"","items":[{"id":"side_single","name":"Seiteneinstieg, einseitig","kind":"opening","price":"5394.00","mass":"38.19","most":1,"lead":"4 Wochen","weeks":4},{"id":"side_pair","name":"Seiteneinstieg, beidseitig","kind":"opening","price":"9858.00","mass":"76.38","most":1,"lead":"5 Wochen","weeks":5},{"id":"side_step","name":"Seiteneinstieg, breit mit Stufe","kind":"opening","price":"7502.00","mass":"55.65","most":1,"lead":"5 Wochen","weeks":5},{"id":"side_ramp","name":"Seiteneinstieg, klappbare Rampe","kind":"opening","price":"8171.60","mass":"60.02","most":1,"lead":"7 Wochen","weeks":7},{"id":"ramp_hoist","name":"Rampenwinde","kind":"fitting","price":"2108.00","mass":"10.98","most":1,"lead":"3 Wochen","weeks":3},{"id":"companion_wide","name":"Kajüttür, breit","kind":"panel","price":"533.20","mass":"3.53","most":1,"lead":"5 Wochen","weeks":5,"instead_of":["companion_door"]},{"id":"seat_base","name":"Sitzkasten","kind":"panel","price":"1562.40","mass":"10.34","most":4,"lead":"3 Wochen","weeks":3},{"id":"buoyancy","name":"Auftriebsschaum","kind":"core","price":"1426.00","mass":"24.55","most":1,"lead":"2 Wochen","weeks":2}],"surcharges":[],"standard":[{"id":"transom_door","name":"Hecktür","kind":"opening"},{"id":"companion_door","name":"Kajüttür","kind":"panel"},{"id":"deck_hatch","name":"Decksluke","kind":"panel"},{"id":"anchor_lid","name":"Deckel für Ankerkasten","kind":"panel"}],"rules":[{"option":"side_single","kind":"one of","others":["side_single","side_pair","side_step","side_ramp"],"words":"Nur eines davon ist möglich: {options}."},{"option":"side_single","kind":"most","others":[],"words":"Höchstens 1 davon: Seiteneinstieg, einseitig."},{"option":"side_pair","kind":"one of","others":["side_single","side_pair","side_step","side_ramp"],"words":"Nur eines davon ist möglich: {options}."},{"option":"side_pair","kind":"most","others":[],"words":"Höchstens 1 davon: Seiteneinstieg, beidseitig."},{"option":"side_step","kind":"one of","others":["side_single","side_pair","side_step","side_ramp"],"words":"Nur eines davon ist möglich: {options}."},{"option":"side_step","kind":"most","others":[],"words":"Höchstens 1 davon: Seiteneinstieg, breit mit Stufe."},{"option":"side_ramp","kind":"one of","others":["side_single","side_pair","side_step","side_ramp"],"words":"Nur eines davon ist möglich: {options}."},{"option":"side_ramp","kind":"most","others":[],"words":"Höchstens 1 davon: Seiteneinstieg, klappbare Rampe."},{"option":"ramp_hoist","kind":"needs","others":["side_ramp"],"words":"Rampenwinde: nur zusammen mit Seiteneinstieg, klappbare Rampe."},{"option":"ramp_hoist","kind":"most","others":[],"words":"Höchstens 1 davon: Rampenwinde."},{"option":"transom_door","kind":"most","others":[],"words":"Höchstens 1 davon: Hecktür."},{"option":"companion_door","kind":"one of","others":["companion_door","companion_wide"],"words":"Nur eines davon ist möglich: {options}."},{"option":"companion_door","kind":"most","others":[],"words":"Höchstens 1 davon: Kajüttür."},{"option":"companion_wide","kind":"one of","others":["companion_door","companion_wide"],"words":"Nur eines davon ist möglich: {options}."},{"option":"companion_wide","kind":"most","others":[],"words":"Höchstens 1 davon: Kajüttür, breit."},{"option":"deck_hatch","kind":"most","others":[],"words":"Höchstens 2 davon: Decksluke."},{"option":"anchor_lid","kind":"most","others":[],"words":"Höchstens 1 davon: Deckel für Ankerkasten."},{"option":"seat_base","kind":"most","others":[],"words":"Höchstens 4 davon: Sitzkasten."},{"option":"buoyancy","kind":"most","others":[],"words":"Höchstens 1 davon: Auftriebsschaum."}],"words":{"between":"; ","colon":": ","add":"Hinzufügen","take_out":"Entfernen","added":"Auf Ihrer Liste: {name}. Summe {total}.","taken_out":"Nicht mehr auf Ihrer Liste: {name}. Summe {total}.","refused":"Lässt sich nicht hinzufügen: {name}.","kept":"Lässt sich nicht entfernen: {name}.","fix_add":"{name} hinzufügen, zusammen mit: {added}","fix_out":"{name} hinzufügen, dafür entfernen: {removed}","fix_both":"{name} hinzufügen, zusammen mit: {added}. Dafür entfernen: {removed}","fix_add_too":"{name} entfernen, dafür hinzufügen: {added}","fix_out_too":"{name} entfernen, ebenso: {removed}","fix_both_too":"{name} entfernen, ebenso: {removed}. Dafür hinzufügen: {added}","then":"Summe dann: {total}.","held":"Schon im Paket {package} enthalten: {option}.","goes_in":"Das Paket {package} schließt ein, was Sie davon schon haben: {names}.","cheaper":"Mit dem Paket {package} sparen Sie {saving}. Es enthält: {names}.","cheaper_besides":"Mit dem Paket {package} sparen Sie {saving} und bekommen noch dazu: {besides}. Es enthält: {names}.","swap":"Paket {package} wählen","not_now":"Jetzt nicht","undo":"Rückgängig machen","restored":"Ihre Liste ist wieder wie zuvor. Summe {total}.","left_out":"Nicht aus der Adresse übernommen:","standard_here":"{name}: bei diesem Boot Serie.","standard_there":"{name}: für dieses Boot nicht angeboten; Serie bei: {boats}.","not_here":"{name}: für dieses Boot nicht angeboten.","too_many":"{name}: höchstens {most} je Boot.","unknown_one":"1 Eintrag steht in keiner Preisliste dieser Werft.","unknown_more":"{count} Einträge stehen in keiner Preisliste dieser Werft.","lead":"Längste Lieferzeit: {time} ({name})","leads":"Lieferzeiten: {times}","quantity":"Anzahl: {name}","shown":"{count} von {all} Extras angezeigt","nothing":"Kein Extra passt. Ändern Sie die Wörter oder die Filter.","copied":"Die Adresse ist kopiert.","copy_by_hand":"Kopieren Sie sie aus der Adresszeile des Browsers.","count_none":"keine Extras","count_one":"1 Extra","count_more":"{count} Extras","here_opened":"{names}: für dieses Boot kein Paket; der Inhalt steht einzeln auf der Liste.","here_extra":"Serie bei {model}, Extra bei diesem Boot: {names}.","some_there":"{count} von {all} dort angeboten oder Serie","kept_aside":"Beiseitegelegt: {model}, {total}.","no_aside":"Die beiseitegelegte Liste lässt sich hier nicht lesen.","is_standard":"Serie","in_package":"im Paket {package}","on_both":"Auf beiden Listen: {names}.","all_same":"Beide Listen enthalten dieselben Extras.","mail_subject":"Angebotsanfrage: {model}","mail_ask":"Bitte senden Sie mir ein Angebot für dieses Boot.","mail_sheet":"Nach Preisliste {version}.","mail_list":"Diese Liste: {address}","mail_more":"weitere Positionen: {count}","total_told":"Summe: {total}"},"money":{"digits":2,"before":"","after":" €","before_negative":"−","after_negative":" €","separator":".","decimal":",","sizes":[3,3],"grouped_from":4,"whole":false},"masses":{"whole_digits":4,"fine":{"digits":1,"before":"","after":" kg","before_negative":"−","after_negative":" kg","separator":".","decimal":",","sizes":[3,3],"grouped_from":4,"whole":false},"whole":{"digits":0,"before":"","after":" kg","before_negative":"−","after_negative":" kg","separator":".","decimal":"","sizes":[3,3],"grouped_from":4,"whole":false},"pound":"0.45359237","pounds_whole_digits":2,"pounds_fine":{"digits":1,"before":"","after":" lb","before_negative":"−","after_negative":" lb","separator":".","decimal":",","sizes":[3,3],"grouped_from":4,"whole":false},"pounds_whole":{"digits":0,"before":"","after":" lb","before_negative":"−","after_negative":" lb","separator":".","decimal":"","sizes":[3,3],"grouped_from":4,"whole":false}},"savings":[],"other":{"price":"449000.00","delivery":null,"items":[{"id":"side_single","price":"4350.00"},{"id":"side_pair","price":"7950.00"},{"id":"side_step","price":"6050.00"},{"id":"side_ramp","price":"6590.00"},{"id":"ramp_hoist","price":"1700.00"},{"id":"companion_wide","price":"430.00"},{"id":"seat_base","price":"1260.00"},{"id":"buoyancy","price":"1150.00"}],"surcharges":[],"savings":[]}};
window.priceList.check = check;
}());
