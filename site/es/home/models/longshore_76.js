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
function check(q_deck_hatch, q_anchor_lid, q_fish_lid, q_seat_base, q_sole_panels, q_roof_panel, q_hull_blue, q_hull_grey, q_day_fishing) {
  const _a = 1.0 <= 1.0 || same(1.0, 1.0) ? 1 : 0;
  const _b = q_deck_hatch <= 2.0 || same(q_deck_hatch, 2.0) ? 1 : 0;
  const _c = q_anchor_lid <= 1.0 || same(q_anchor_lid, 1.0) ? 1 : 0;
  const _d = q_fish_lid + q_day_fishing;
  const _e = _d <= 2.0 || same(_d, 2.0) ? 1 : 0;
  const _f = q_seat_base + q_day_fishing;
  const _g = _f <= 4.0 || same(_f, 4.0) ? 1 : 0;
  const _h = q_sole_panels <= 1.0 || same(q_sole_panels, 1.0) ? 1 : 0;
  const _i = q_roof_panel <= 1.0 || same(q_roof_panel, 1.0) ? 1 : 0;
  const _j = 1.0 <= 1.0 || same(1.0, 1.0) ? 1 : 0;
  const _k = smaller(q_hull_blue, 1.0);
  const _l = smaller(q_hull_blue, 1.0);
  const _m = smaller(q_hull_grey, 1.0);
  const _n = _l + _m;
  const _o = _n <= 1.0 || same(_n, 1.0) ? 1 : 0;
  const _p = _k <= _o || same(_k, _o) ? 1 : 0;
  const _q = q_hull_blue <= 1.0 || same(q_hull_blue, 1.0) ? 1 : 0;
  const _r = smaller(q_hull_grey, 1.0);
  const _s = smaller(q_hull_blue, 1.0);
  const _t = smaller(q_hull_grey, 1.0);
  const _u = _s + _t;
  const _v = _u <= 1.0 || same(_u, 1.0) ? 1 : 0;
  const _w = _r <= _v || same(_r, _v) ? 1 : 0;
  const _x = q_hull_grey <= 1.0 || same(q_hull_grey, 1.0) ? 1 : 0;
  return {r_a: _a, r_b: _b, r_c: _c, r_d: _e, r_e: _g, r_f: _h, r_g: _i, r_h: _j, r_i: _p, r_j: _q, r_ba: _w, r_bb: _x, s_buoyancy: 1.0, s_console_door: 1.0};
}
window.priceList = {"request":1,"market":"home","language":"es","version":"2026-11","yard":"Orvesund Boatyard","model":"longshore_76","name":"Orvesund 7.6 Longshore","currency":"EUR","price":"89156.00","mass":"1573.52","delivery":null,"items":[{"id":"deck_hatch","name":"Escotilla de cubierta","kind":"panel","price":"1190.40","mass":"5.31","most":2},{"id":"anchor_lid","name":"Tapa del pozo de anclas","kind":"panel","price":"880.40","mass":"3.95","most":1},{"id":"fish_lid","name":"Tapa de cofre aislada","kind":"panel","price":"1264.80","mass":"7.89","most":2},{"id":"seat_base","name":"Base de asiento","kind":"panel","price":"1562.40","mass":"10.34","most":4},{"id":"sole_panels","name":"Paneles de piso con núcleo de espuma","kind":"core","price":"4327.60","mass":"38.86","most":1},{"id":"roof_panel","name":"Techo de bañera","kind":"core","price":"3571.20","mass":"54.02","most":1},{"id":"hull_blue","name":"Casco en azul profundo","kind":"colour","price":"1971.60","mass":"2.17","most":1},{"id":"hull_grey","name":"Casco en gris piedra","kind":"colour","price":"1872.40","mass":"1.55","most":1},{"id":"day_fishing","name":"Pesca de día","kind":"package","price":"2740.40","mass":"18.23","most":1,"holds":["fish_lid","seat_base"]}],"surcharges":[],"standard":[{"id":"console_door","name":"Puerta de consola","kind":"panel"},{"id":"buoyancy","name":"Relleno de flotabilidad","kind":"core"}],"rules":[{"option":"console_door","kind":"most","others":[],"words":"Número máximo que se puede montar: 1 (Puerta de consola)."},{"option":"deck_hatch","kind":"most","others":[],"words":"Número máximo que se puede montar: 2 (Escotilla de cubierta)."},{"option":"anchor_lid","kind":"most","others":[],"words":"Número máximo que se puede montar: 1 (Tapa del pozo de anclas)."},{"option":"fish_lid","kind":"most","others":[],"words":"Número máximo que se puede montar: 2 (Tapa de cofre aislada)."},{"option":"seat_base","kind":"most","others":[],"words":"Número máximo que se puede montar: 4 (Base de asiento)."},{"option":"sole_panels","kind":"most","others":[],"words":"Número máximo que se puede montar: 1 (Paneles de piso con núcleo de espuma)."},{"option":"roof_panel","kind":"most","others":[],"words":"Número máximo que se puede montar: 1 (Techo de bañera)."},{"option":"buoyancy","kind":"most","others":[],"words":"Número máximo que se puede montar: 1 (Relleno de flotabilidad)."},{"option":"hull_blue","kind":"one of","others":["hull_blue","hull_grey"],"words":"Solo es posible una de estas opciones: Casco en azul profundo; Casco en gris piedra."},{"option":"hull_blue","kind":"most","others":[],"words":"Número máximo que se puede montar: 1 (Casco en azul profundo)."},{"option":"hull_grey","kind":"one of","others":["hull_blue","hull_grey"],"words":"Solo es posible una de estas opciones: Casco en azul profundo; Casco en gris piedra."},{"option":"hull_grey","kind":"most","others":[],"words":"Número máximo que se puede montar: 1 (Casco en gris piedra)."}],"words":{"add":"Añadir","take_out":"Quitar","added":"En su lista: {name}. Total {total}.","taken_out":"Fuera de su lista: {name}. Total {total}.","refused":"No se puede añadir: {name}.","kept":"No se puede quitar: {name}.","fix_add":"Añadir también: {names}","fix_out":"Quitar a cambio: {names}","fix_out_too":"Quitar también: {names}","fix_both":"Añadir: {added}; quitar: {removed}","held":"Ya está en el paquete {package} de su lista: {option}.","holding":"El paquete {package} contiene algo que ya está en su lista: {option}.","left_out":"No se ha tomado de la dirección: {names}.","unknown":"desconocido: {name}","quantity":"Cantidad: {name}","shown":"{count} de {all} opciones a la vista","nothing":"Ninguna opción coincide. Cambie las palabras o los filtros.","copied":"La dirección está copiada.","copy_by_hand":"Cópiela de la barra de direcciones del navegador.","count_none":"sin opciones","count_one":"1 opción","count_more":"{count} opciones"},"money":{"digits":2,"before":"","after":" €","before_negative":"-","after_negative":" €","separator":".","decimal":",","sizes":[3,3],"grouped_from":5},"masses":{"whole_digits":4,"fine":{"digits":1,"before":"","after":" kg","before_negative":"-","after_negative":" kg","separator":".","decimal":",","sizes":[3,3],"grouped_from":5},"whole":{"digits":0,"before":"","after":" kg","before_negative":"-","after_negative":" kg","separator":".","decimal":"","sizes":[3,3],"grouped_from":5},"pound":"0.45359237","pounds_whole_digits":2,"pounds_fine":{"digits":1,"before":"","after":" lb","before_negative":"-","after_negative":" lb","separator":".","decimal":",","sizes":[3,3],"grouped_from":5},"pounds_whole":{"digits":0,"before":"","after":" lb","before_negative":"-","after_negative":" lb","separator":".","decimal":"","sizes":[3,3],"grouped_from":5}}};
window.priceList.check = check;
}());
