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
window.priceList = {"request":1,"market":"home","language":"es","version":"2026-11","yard":"Orvesund Boatyard","model":"open_68","name":"Orvesund 6.8 Open","currency":"EUR","price":"56916.00","weeks":14,"lead":"14 semanas","mass":"1118.90","delivery":null,"delivery_words":"","items":[{"id":"console_door","name":"Puerta de consola","kind":"panel","price":"942.40","mass":"4.02","most":1,"lead":"2 semanas","weeks":2},{"id":"deck_hatch","name":"Escotilla de cubierta","kind":"panel","price":"1190.40","mass":"5.31","most":2,"lead":"2 semanas","weeks":2},{"id":"anchor_lid","name":"Tapa del pozo de anclas","kind":"panel","price":"880.40","mass":"3.95","most":1,"lead":"2 semanas","weeks":2},{"id":"fish_lid","name":"Tapa de cofre aislada","kind":"panel","price":"1264.80","mass":"7.89","most":2,"lead":"2 semanas","weeks":2},{"id":"seat_base","name":"Base de asiento","kind":"panel","price":"1562.40","mass":"10.34","most":4,"lead":"3 semanas","weeks":3},{"id":"roof_panel","name":"Techo de bañera","kind":"core","price":"3571.20","mass":"54.02","most":1,"lead":"4 semanas","weeks":4},{"id":"hull_blue","name":"Casco en azul profundo","kind":"colour","price":"1723.60","mass":"1.91","most":1,"lead":"1 semana","weeks":1},{"id":"hull_grey","name":"Casco en gris piedra","kind":"colour","price":"1649.20","mass":"1.39","most":1,"lead":"1 semana","weeks":1},{"id":"day_fishing","name":"Pesca de día","kind":"package","price":"2740.40","mass":"18.23","most":1,"holds":["fish_lid","seat_base"]}],"surcharges":[],"standard":[{"id":"buoyancy","name":"Relleno de flotabilidad","kind":"core"}],"rules":[{"option":"console_door","kind":"most","others":[],"words":"Número máximo que se puede montar: 1 (Puerta de consola)."},{"option":"deck_hatch","kind":"most","others":[],"words":"Número máximo que se puede montar: 2 (Escotilla de cubierta)."},{"option":"anchor_lid","kind":"most","others":[],"words":"Número máximo que se puede montar: 1 (Tapa del pozo de anclas)."},{"option":"fish_lid","kind":"most","others":[],"words":"Número máximo que se puede montar: 2 (Tapa de cofre aislada)."},{"option":"seat_base","kind":"most","others":[],"words":"Número máximo que se puede montar: 4 (Base de asiento)."},{"option":"roof_panel","kind":"most","others":[],"words":"Número máximo que se puede montar: 1 (Techo de bañera)."},{"option":"buoyancy","kind":"most","others":[],"words":"Número máximo que se puede montar: 1 (Relleno de flotabilidad)."},{"option":"hull_blue","kind":"one of","others":["hull_blue","hull_grey"],"words":"Solo es posible una de estas opciones: {options}."},{"option":"hull_blue","kind":"most","others":[],"words":"Número máximo que se puede montar: 1 (Casco en azul profundo)."},{"option":"hull_grey","kind":"one of","others":["hull_blue","hull_grey"],"words":"Solo es posible una de estas opciones: {options}."},{"option":"hull_grey","kind":"most","others":[],"words":"Número máximo que se puede montar: 1 (Casco en gris piedra)."}],"words":{"between":"; ","colon":": ","add":"Añadir","take_out":"Quitar","added":"En su lista: {name}. Total {total}.","taken_out":"Fuera de su lista: {name}. Total {total}.","refused":"No se puede añadir: {name}.","kept":"No se puede quitar: {name}.","fix_add":"Elegir {name} con {added}","fix_out":"Elegir {name} y quitar {removed}","fix_both":"Elegir {name} con {added} y quitar {removed}","fix_add_too":"Quitar {name} y añadir {added}","fix_out_too":"Quitar {name} y también {removed}","fix_both_too":"Quitar {name} y también {removed}, y añadir {added}","then":"Nuevo total: {total}.","held":"{option}: ya en el paquete {package}.","goes_in":"El paquete {package} incorpora lo que ya ha elegido: {names}.","cheaper":"Con el paquete {package} ahorra {saving}: incluye {names}.","cheaper_besides":"Con el paquete {package} ahorra {saving} y recibe además {besides}: incluye {names}.","swap":"Elegir {package}","not_now":"Ahora no","undo":"Deshacer","restored":"Su lista vuelve a estar como antes. Total {total}.","left_out":"De la dirección no se ha tomado:","standard_here":"{name}: de serie en este barco.","standard_there":"{name}: no se ofrece en este barco; de serie en {boats}.","not_here":"{name}: no se ofrece en este barco.","too_many":"{name}: {most} como máximo.","unknown_one":"1 elemento no figura en ninguna lista de precios de este astillero.","unknown_more":"{count} elementos no figuran en ninguna lista de precios de este astillero.","lead":"Plazo de entrega más largo: {time} ({name})","leads":"Plazos de entrega: {times}","quantity":"Cantidad: {name}","shown":"{count} de {all} opciones a la vista","nothing":"Ninguna opción coincide. Cambie las palabras o los filtros.","copied":"La dirección está copiada.","copy_by_hand":"Cópiela de la barra de direcciones del navegador.","count_none":"sin opciones","count_one":"1 opción","count_more":"{count} opciones","here_opened":"{names}: este paquete no existe en este barco; lo que incluye figura por separado en la lista.","here_extra":"De serie en {model}, como opción en este barco: {names}.","some_there":"{count} de {all} como opción o de serie","kept_aside":"Lista apartada: {model}, {total}.","no_aside":"La lista apartada no se puede leer aquí.","is_standard":"de serie","in_package":"en el paquete {package}","on_both":"En las dos listas: {names}.","all_same":"Las dos listas tienen las mismas opciones.","mail_subject":"Solicitud de presupuesto: {model}","mail_ask":"Les ruego que me envíen un presupuesto de este barco.","mail_sheet":"Según la lista de precios {version}.","mail_list":"Esta lista: {address}","mail_more":"y {count} más","total_told":"Total: {total}"},"money":{"digits":2,"before":"","after":" €","before_negative":"−","after_negative":" €","separator":".","decimal":",","sizes":[3,3],"grouped_from":5,"whole":false},"masses":{"whole_digits":4,"fine":{"digits":1,"before":"","after":" kg","before_negative":"−","after_negative":" kg","separator":".","decimal":",","sizes":[3,3],"grouped_from":5,"whole":false},"whole":{"digits":0,"before":"","after":" kg","before_negative":"−","after_negative":" kg","separator":".","decimal":"","sizes":[3,3],"grouped_from":5,"whole":false},"pound":"0.45359237","pounds_whole_digits":2,"pounds_fine":{"digits":1,"before":"","after":" lb","before_negative":"−","after_negative":" lb","separator":".","decimal":",","sizes":[3,3],"grouped_from":5,"whole":false},"pounds_whole":{"digits":0,"before":"","after":" lb","before_negative":"−","after_negative":" lb","separator":".","decimal":"","sizes":[3,3],"grouped_from":5,"whole":false}},"savings":[{"id":"day_fishing","saving":"86.80"}],"other":{"price":"45900.00","delivery":null,"items":[{"id":"console_door","price":"760.00"},{"id":"deck_hatch","price":"960.00"},{"id":"anchor_lid","price":"710.00"},{"id":"fish_lid","price":"1020.00"},{"id":"seat_base","price":"1260.00"},{"id":"roof_panel","price":"2880.00"},{"id":"hull_blue","price":"1390.00"},{"id":"hull_grey","price":"1330.00"},{"id":"day_fishing","price":"2210.00"}],"surcharges":[],"savings":[{"id":"day_fishing","saving":"70.00"}]}};
window.priceList.check = check;
}());
