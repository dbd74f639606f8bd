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
window.priceList = {"request":1,"market":"home","language":"de","version":"2026-11","yard":"Orvesund Boatyard","model":"weekender_86","name":"Orvesund 8.6 Weekender","currency":"EUR","price":"167276.00","weeks":20,"lead":"20 Wochen","mass":"2500.23","delivery":null,"delivery_words":"","items":[{"id":"side_single","name":"Seiteneinstieg, einseitig","kind":"opening","price":"5394.00","mass":"37.35","most":1,"lead":"4 Wochen","weeks":4},{"id":"side_pair","name":"Seiteneinstieg, beidseitig","kind":"opening","price":"9858.00","mass":"74.70","most":1,"lead":"5 Wochen","weeks":5},{"id":"side_step","name":"Seiteneinstieg, breit mit Stufe","kind":"opening","price":"7440.00","mass":"54.79","most":1,"lead":"5 Wochen","weeks":5},{"id":"transom_door","name":"Hecktür","kind":"opening","price":"3447.20","mass":"17.54","most":1,"lead":"4 Wochen","weeks":4},{"id":"companion_wide","name":"Kajüttür, breit","kind":"panel","price":"533.20","mass":"3.53","most":1,"lead":"5 Wochen","weeks":5,"instead_of":["companion_door"]},{"id":"deck_hatch","name":"Decksluke","kind":"panel","price":"1190.40","mass":"5.31","most":2,"lead":"2 Wochen","weeks":2},{"id":"fish_lid","name":"Isolierter Staufachdeckel","kind":"panel","price":"1264.80","mass":"7.89","most":2,"lead":"2 Wochen","weeks":2},{"id":"seat_base","name":"Sitzkasten","kind":"panel","price":"1562.40","mass":"10.34","most":4,"lead":"3 Wochen","weeks":3},{"id":"sole_panels","name":"Bodenplatten mit Schaumkern","kind":"core","price":"4327.60","mass":"38.86","most":1,"lead":"3 Wochen","weeks":3},{"id":"roof_panel","name":"Cockpitdach","kind":"core","price":"3571.20","mass":"54.02","most":1,"lead":"4 Wochen","weeks":4},{"id":"buoyancy","name":"Auftriebsschaum","kind":"core","price":"1041.60","mass":"12.67","most":1,"lead":"2 Wochen","weeks":2},{"id":"hull_blue","name":"Rumpffarbe Tiefblau","kind":"colour","price":"2343.60","mass":"2.56","most":1,"lead":"1 Woche","weeks":1},{"id":"hull_grey","name":"Rumpffarbe Steingrau","kind":"colour","price":"2207.20","mass":"1.79","most":1,"lead":"1 Woche","weeks":1},{"id":"easy_boarding","name":"Bequemer Einstieg","kind":"package","price":"8481.60","mass":"54.89","most":1,"holds":["side_single","transom_door"]},{"id":"day_fishing","name":"Angeltag","kind":"package","price":"2740.40","mass":"18.23","most":1,"holds":["fish_lid","seat_base"]}],"surcharges":[{"option":"side_single","colour":"hull_blue","name":"Mehrpreis Seiteneinstieg, einseitig, mit Rumpffarbe Tiefblau","price":"74.40"}],"standard":[{"id":"companion_door","name":"Kajüttür","kind":"panel"},{"id":"anchor_lid","name":"Deckel für Ankerkasten","kind":"panel"}],"rules":[{"option":"side_single","kind":"one of","others":["side_single","side_pair","side_step"],"words":"Nur eines davon ist möglich: {options}."},{"option":"side_single","kind":"most","others":[],"words":"Höchstens 1 davon: Seiteneinstieg, einseitig."},{"option":"side_pair","kind":"one of","others":["side_single","side_pair","side_step"],"words":"Nur eines davon ist möglich: {options}."},{"option":"side_pair","kind":"most","others":[],"words":"Höchstens 1 davon: Seiteneinstieg, beidseitig."},{"option":"side_step","kind":"one of","others":["side_single","side_pair","side_step"],"words":"Nur eines davon ist möglich: {options}."},{"option":"side_step","kind":"most","others":[],"words":"Höchstens 1 davon: Seiteneinstieg, breit mit Stufe."},{"option":"transom_door","kind":"most","others":[],"words":"Höchstens 1 davon: Hecktür."},{"option":"companion_door","kind":"one of","others":["companion_door","companion_wide"],"words":"Nur eines davon ist möglich: {options}."},{"option":"companion_door","kind":"most","others":[],"words":"Höchstens 1 davon: Kajüttür."},{"option":"companion_wide","kind":"one of","others":["companion_door","companion_wide"],"words":"Nur eines davon ist möglich: {options}."},{"option":"companion_wide","kind":"most","others":[],"words":"Höchstens 1 davon: Kajüttür, breit."},{"option":"deck_hatch","kind":"most","others":[],"words":"Höchstens 2 davon: Decksluke."},{"option":"anchor_lid","kind":"most","others":[],"words":"Höchstens 1 davon: Deckel für Ankerkasten."},{"option":"fish_lid","kind":"most","others":[],"words":"Höchstens 2 davon: Isolierter Staufachdeckel."},{"option":"seat_base","kind":"most","others":[],"words":"Höchstens 4 davon: Sitzkasten."},{"option":"sole_panels","kind":"most","others":[],"words":"Höchstens 1 davon: Bodenplatten mit Schaumkern."},{"option":"roof_panel","kind":"most","others":[],"words":"Höchstens 1 davon: Cockpitdach."},{"option":"buoyancy","kind":"most","others":[],"words":"Höchstens 1 davon: Auftriebsschaum."},{"option":"hull_blue","kind":"one of","others":["hull_blue","hull_grey"],"words":"Nur eines davon ist möglich: {options}."},{"option":"hull_blue","kind":"most","others":[],"words":"Höchstens 1 davon: Rumpffarbe Tiefblau."},{"option":"hull_grey","kind":"one of","others":["hull_blue","hull_grey"],"words":"Nur eines davon ist möglich: {options}."},{"option":"hull_grey","kind":"most","others":[],"words":"Höchstens 1 davon: Rumpffarbe Steingrau."}],"words":{"between":"; ","colon":": ","add":"Hinzufügen","take_out":"Entfernen","added":"Auf Ihrer Liste: {name}. Summe {total}.","taken_out":"Nicht mehr auf Ihrer Liste: {name}. Summe {total}.","refused":"Lässt sich nicht hinzufügen: {name}.","kept":"Lässt sich nicht entfernen: {name}.","fix_add":"{name} hinzufügen, zusammen mit: {added}","fix_out":"{name} hinzufügen, dafür entfernen: {removed}","fix_both":"{name} hinzufügen, zusammen mit: {added}. Dafür entfernen: {removed}","fix_add_too":"{name} entfernen, dafür hinzufügen: {added}","fix_out_too":"{name} entfernen, ebenso: {removed}","fix_both_too":"{name} entfernen, ebenso: {removed}. Dafür hinzufügen: {added}","then":"Summe dann: {total}.","held":"Schon im Paket {package} enthalten: {option}.","goes_in":"Das Paket {package} schließt ein, was Sie davon schon haben: {names}.","cheaper":"Mit dem Paket {package} sparen Sie {saving}. Es enthält: {names}.","cheaper_besides":"Mit dem Paket {package} sparen Sie {saving} und bekommen noch dazu: {besides}. Es enthält: {names}.","swap":"Paket {package} wählen","not_now":"Jetzt nicht","undo":"Rückgängig machen","restored":"Ihre Liste ist wieder wie zuvor. Summe {total}.","left_out":"Nicht aus der Adresse übernommen:","standard_here":"{name}: bei diesem Boot Serie.","standard_there":"{name}: für dieses Boot nicht angeboten; Serie bei: {boats}.","not_here":"{name}: für dieses Boot nicht angeboten.","too_many":"{name}: höchstens {most} je Boot.","unknown_one":"1 Eintrag steht in keiner Preisliste dieser Werft.","unknown_more":"{count} Einträge stehen in keiner Preisliste dieser Werft.","lead":"Längste Lieferzeit: {time} ({name})","leads":"Lieferzeiten: {times}","quantity":"Anzahl: {name}","shown":"{count} von {all} Extras angezeigt","nothing":"Kein Extra passt. Ändern Sie die Wörter oder die Filter.","copied":"Die Adresse ist kopiert.","copy_by_hand":"Kopieren Sie sie aus der Adresszeile des Browsers.","count_none":"keine Extras","count_one":"1 Extra","count_more":"{count} Extras","here_opened":"{names}: für dieses Boot kein Paket; der Inhalt steht einzeln auf der Liste.","here_extra":"Serie bei {model}, Extra bei diesem Boot: {names}.","some_there":"{count} von {all} dort angeboten oder Serie","kept_aside":"Beiseitegelegt: {model}, {total}.","no_aside":"Die beiseitegelegte Liste lässt sich hier nicht lesen.","is_standard":"Serie","in_package":"im Paket {package}","on_both":"Auf beiden Listen: {names}.","all_same":"Beide Listen enthalten dieselben Extras.","mail_subject":"Angebotsanfrage: {model}","mail_ask":"Bitte senden Sie mir ein Angebot für dieses Boot.","mail_sheet":"Nach Preisliste {version}.","mail_list":"Diese Liste: {address}","mail_more":"weitere Positionen: {count}","total_told":"Summe: {total}"},"money":{"digits":2,"before":"","after":" €","before_negative":"−","after_negative":" €","separator":".","decimal":",","sizes":[3,3],"grouped_from":4,"whole":false},"masses":{"whole_digits":4,"fine":{"digits":1,"before":"","after":" kg","before_negative":"−","after_negative":" kg","separator":".","decimal":",","sizes":[3,3],"grouped_from":4,"whole":false},"whole":{"digits":0,"before":"","after":" kg","before_negative":"−","after_negative":" kg","separator":".","decimal":"","sizes":[3,3],"grouped_from":4,"whole":false},"pound":"0.45359237","pounds_whole_digits":2,"pounds_fine":{"digits":1,"before":"","after":" lb","before_negative":"−","after_negative":" lb","separator":".","decimal":",","sizes":[3,3],"grouped_from":4,"whole":false},"pounds_whole":{"digits":0,"before":"","after":" lb","before_negative":"−","after_negative":" lb","separator":".","decimal":"","sizes":[3,3],"grouped_from":4,"whole":false}},"savings":[{"id":"easy_boarding","saving":"359.60"},{"id":"day_fishing","saving":"86.80"}],"other":{"price":"134900.00","delivery":null,"items":[{"id":"side_single","price":"4350.00"},{"id":"side_pair","price":"7950.00"},{"id":"side_step","price":"6000.00"},{"id":"transom_door","price":"2780.00"},{"id":"companion_wide","price":"430.00"},{"id":"deck_hatch","price":"960.00"},{"id":"fish_lid","price":"1020.00"},{"id":"seat_base","price":"1260.00"},{"id":"sole_panels","price":"3490.00"},{"id":"roof_panel","price":"2880.00"},{"id":"buoyancy","price":"840.00"},{"id":"hull_blue","price":"1890.00"},{"id":"hull_grey","price":"1780.00"},{"id":"easy_boarding","price":"6840.00"},{"id":"day_fishing","price":"2210.00"}],"surcharges":[{"price":"60.00"}],"savings":[{"id":"easy_boarding","saving":"290.00"},{"id":"day_fishing","saving":"70.00"}]}};
window.priceList.check = check;
}());
