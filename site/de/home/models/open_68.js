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
window.priceList = {"request":1,"market":"home","language":"de","version":"2026-11","yard":"Orvesund Boatyard","model":"open_68","name":"Orvesund 6.8 Open","currency":"EUR","price":"56916.00","weeks":14,"lead":"14 Wochen","mass":"1118.90","delivery":null,"delivery_words":"","items":[{"id":"console_door","name":"Konsolentür","kind":"panel","price":"942.40","mass":"4.02","most":1,"lead":"2 Wochen","weeks":2},{"id":"deck_hatch","name":"Decksluke","kind":"panel","price":"1190.40","mass":"5.31","most":2,"lead":"2 Wochen","weeks":2},{"id":"anchor_lid","name":"Deckel für Ankerkasten","kind":"panel","price":"880.40","mass":"3.95","most":1,"lead":"2 Wochen","weeks":2},{"id":"fish_lid","name":"Isolierter Staufachdeckel","kind":"panel","price":"1264.80","mass":"7.89","most":2,"lead":"2 Wochen","weeks":2},{"id":"seat_base","name":"Sitzkasten","kind":"panel","price":"1562.40","mass":"10.34","most":4,"lead":"3 Wochen","weeks":3},{"id":"roof_panel","name":"Cockpitdach","kind":"core","price":"3571.20","mass":"54.02","most":1,"lead":"4 Wochen","weeks":4},{"id":"hull_blue","name":"Rumpffarbe Tiefblau","kind":"colour","price":"1723.60","mass":"1.91","most":1,"lead":"1 Woche","weeks":1},{"id":"hull_grey","name":"Rumpffarbe Steingrau","kind":"colour","price":"1649.20","mass":"1.39","most":1,"lead":"1 Woche","weeks":1},{"id":"day_fishing","name":"Angeltag","kind":"package","price":"2740.40","mass":"18.23","most":1,"holds":["fish_lid","seat_base"]}],"surcharges":[],"standard":[{"id":"buoyancy","name":"Auftriebsschaum","kind":"core"}],"rules":[{"option":"console_door","kind":"most","others":[],"words":"Höchstens 1 davon: Konsolentür."},{"option":"deck_hatch","kind":"most","others":[],"words":"Höchstens 2 davon: Decksluke."},{"option":"anchor_lid","kind":"most","others":[],"words":"Höchstens 1 davon: Deckel für Ankerkasten."},{"option":"fish_lid","kind":"most","others":[],"words":"Höchstens 2 davon: Isolierter Staufachdeckel."},{"option":"seat_base","kind":"most","others":[],"words":"Höchstens 4 davon: Sitzkasten."},{"option":"roof_panel","kind":"most","others":[],"words":"Höchstens 1 davon: Cockpitdach."},{"option":"buoyancy","kind":"most","others":[],"words":"Höchstens 1 davon: Auftriebsschaum."},{"option":"hull_blue","kind":"one of","others":["hull_blue","hull_grey"],"words":"Nur eines davon ist möglich: {options}."},{"option":"hull_blue","kind":"most","others":[],"words":"Höchstens 1 davon: Rumpffarbe Tiefblau."},{"option":"hull_grey","kind":"one of","others":["hull_blue","hull_grey"],"words":"Nur eines davon ist möglich: {options}."},{"option":"hull_grey","kind":"most","others":[],"words":"Höchstens 1 davon: Rumpffarbe Steingrau."}],"words":{"between":"; ","colon":": ","add":"Hinzufügen","take_out":"Entfernen","added":"Auf Ihrer Liste: {name}. Summe {total}.","taken_out":"Nicht mehr auf Ihrer Liste: {name}. Summe {total}.","refused":"Lässt sich nicht hinzufügen: {name}.","kept":"Lässt sich nicht entfernen: {name}.","fix_add":"{name} hinzufügen, zusammen mit: {added}","fix_out":"{name} hinzufügen, dafür entfernen: {removed}","fix_both":"{name} hinzufügen, zusammen mit: {added}. Dafür entfernen: {removed}","fix_add_too":"{name} entfernen, dafür hinzufügen: {added}","fix_out_too":"{name} entfernen, ebenso: {removed}","fix_both_too":"{name} entfernen, ebenso: {removed}. Dafür hinzufügen: {added}","then":"Summe dann: {total}.","held":"Schon im Paket {package} enthalten: {option}.","goes_in":"Das Paket {package} schließt ein, was Sie davon schon haben: {names}.","cheaper":"Mit dem Paket {package} sparen Sie {saving}. Es enthält: {names}.","cheaper_besides":"Mit dem Paket {package} sparen Sie {saving} und bekommen noch dazu: {besides}. Es enthält: {names}.","swap":"Paket {package} wählen","not_now":"Jetzt nicht","undo":"Rückgängig machen","restored":"Ihre Liste ist wieder wie zuvor. Summe {total}.","left_out":"Nicht aus der Adresse übernommen:","standard_here":"{name}: bei diesem Boot Serie.","standard_there":"{name}: für dieses Boot nicht angeboten; Serie bei: {boats}.","not_here":"{name}: für dieses Boot nicht angeboten.","too_many":"{name}: höchstens {most} je Boot.","unknown_one":"1 Eintrag steht in keiner Preisliste dieser Werft.","unknown_more":"{count} Einträge stehen in keiner Preisliste dieser Werft.","lead":"Längste Lieferzeit: {time} ({name})","leads":"Lieferzeiten: {times}","quantity":"Anzahl: {name}","shown":"{count} von {all} Extras angezeigt","nothing":"Kein Extra passt. Ändern Sie die Wörter oder die Filter.","copied":"Die Adresse ist kopiert.","copy_by_hand":"Kopieren Sie sie aus der Adresszeile des Browsers.","count_none":"keine Extras","count_one":"1 Extra","count_more":"{count} Extras","here_opened":"{names}: für dieses Boot kein Paket; der Inhalt steht einzeln auf der Liste.","here_extra":"Serie bei {model}, Extra bei diesem Boot: {names}.","some_there":"{count} von {all} dort angeboten oder Serie","kept_aside":"Beiseitegelegt: {model}, {total}.","no_aside":"Die beiseitegelegte Liste lässt sich hier nicht lesen.","is_standard":"Serie","in_package":"im Paket {package}","on_both":"Auf beiden Listen: {names}.","all_same":"Beide Listen enthalten dieselben Extras.","mail_subject":"Angebotsanfrage: {model}","mail_ask":"Bitte senden Sie mir ein Angebot für dieses Boot.","mail_sheet":"Nach Preisliste {version}.","mail_list":"Diese Liste: {address}","mail_more":"weitere Positionen: {count}","total_told":"Summe: {total}"},"money":{"digits":2,"before":"","after":" €","before_negative":"−","after_negative":" €","separator":".","decimal":",","sizes":[3,3],"grouped_from":4,"whole":false},"masses":{"whole_digits":4,"fine":{"digits":1,"before":"","after":" kg","before_negative":"−","after_negative":" kg","separator":".","decimal":",","sizes":[3,3],"grouped_from":4,"whole":false},"whole":{"digits":0,"before":"","after":" kg","before_negative":"−","after_negative":" kg","separator":".","decimal":"","sizes":[3,3],"grouped_from":4,"whole":false},"pound":"0.45359237","pounds_whole_digits":2,"pounds_fine":{"digits":1,"before":"","after":" lb","before_negative":"−","after_negative":" lb","separator":".","decimal":",","sizes":[3,3],"grouped_from":4,"whole":false},"pounds_whole":{"digits":0,"before":"","after":" lb","before_negative":"−","after_negative":" lb","separator":".","decimal":"","sizes":[3,3],"grouped_from":4,"whole":false}},"savings":[{"id":"day_fishing","saving":"86.80"}],"other":{"price":"45900.00","delivery":null,"items":[{"id":"console_door","price":"760.00"},{"id":"deck_hatch","price":"960.00"},{"id":"anchor_lid","price":"710.00"},{"id":"fish_lid","price":"1020.00"},{"id":"seat_base","price":"1260.00"},{"id":"roof_panel","price":"2880.00"},{"id":"hull_blue","price":"1390.00"},{"id":"hull_grey","price":"1330.00"},{"id":"day_fishing","price":"2210.00"}],"surcharges":[],"savings":[{"id":"day_fishing","saving":"70.00"}]}};
window.priceList.check = check;
}());
