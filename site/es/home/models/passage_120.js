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
window.priceList = {"request":1,"market":"home","language":"es","version":"2026-11","yard":"Orvesund Boatyard","model":"passage_120","name":"Orvesund 12.0 Passage","currency":"EUR","price":"556760.00","weeks":36,"lead":"36 semanas","mass":"7943.12","delivery":null,"delivery_words":"","items":[{"id":"side_single","name":"Puerta lateral, sencilla","kind":"opening","price":"5394.00","mass":"38.19","most":1,"lead":"4 semanas","weeks":4},{"id":"side_pair","name":"Puertas laterales, una por banda","kind":"opening","price":"9858.00","mass":"76.38","most":1,"lead":"5 semanas","weeks":5},{"id":"side_step","name":"Puerta lateral, ancha con escalón","kind":"opening","price":"7502.00","mass":"55.65","most":1,"lead":"5 semanas","weeks":5},{"id":"side_ramp","name":"Puerta lateral, rampa abatible","kind":"opening","price":"8171.60","mass":"60.02","most":1,"lead":"7 semanas","weeks":7},{"id":"ramp_hoist","name":"Cabrestante de rampa","kind":"fitting","price":"2108.00","mass":"10.98","most":1,"lead":"3 semanas","weeks":3},{"id":"companion_wide","name":"Puerta de cabina, ancha","kind":"panel","price":"533.20","mass":"3.53","most":1,"lead":"5 semanas","weeks":5,"instead_of":["companion_door"]},{"id":"seat_base","name":"Base de asiento","kind":"panel","price":"1562.40","mass":"10.34","most":4,"lead":"3 semanas","weeks":3},{"id":"buoyancy","name":"Relleno de flotabilidad","kind":"core","price":"1426.00","mass":"24.55","most":1,"lead":"2 semanas","weeks":2}],"surcharges":[],"standard":[{"id":"transom_door","name":"Puerta de espejo de popa","kind":"opening"},{"id":"companion_door","name":"Puerta de cabina","kind":"panel"},{"id":"deck_hatch","name":"Escotilla de cubierta","kind":"panel"},{"id":"anchor_lid","name":"Tapa del pozo de anclas","kind":"panel"}],"rules":[{"option":"side_single","kind":"one of","others":["side_single","side_pair","side_step","side_ramp"],"words":"Solo es posible una de estas opciones: {options}."},{"option":"side_single","kind":"most","others":[],"words":"Número máximo que se puede montar: 1 (Puerta lateral, sencilla)."},{"option":"side_pair","kind":"one of","others":["side_single","side_pair","side_step","side_ramp"],"words":"Solo es posible una de estas opciones: {options}."},{"option":"side_pair","kind":"most","others":[],"words":"Número máximo que se puede montar: 1 (Puertas laterales, una por banda)."},{"option":"side_step","kind":"one of","others":["side_single","side_pair","side_step","side_ramp"],"words":"Solo es posible una de estas opciones: {options}."},{"option":"side_step","kind":"most","others":[],"words":"Número máximo que se puede montar: 1 (Puerta lateral, ancha con escalón)."},{"option":"side_ramp","kind":"one of","others":["side_single","side_pair","side_step","side_ramp"],"words":"Solo es posible una de estas opciones: {options}."},{"option":"side_ramp","kind":"most","others":[],"words":"Número máximo que se puede montar: 1 (Puerta lateral, rampa abatible)."},{"option":"ramp_hoist","kind":"needs","others":["side_ramp"],"words":"Cabrestante de rampa: solo con Puerta lateral, rampa abatible."},{"option":"ramp_hoist","kind":"most","others":[],"words":"Número máximo que se puede montar: 1 (Cabrestante de rampa)."},{"option":"transom_door","kind":"most","others":[],"words":"Número máximo que se puede montar: 1 (Puerta de espejo de popa)."},{"option":"companion_door","kind":"one of","others":["companion_door","companion_wide"],"words":"Solo es posible una de estas opciones: {options}."},{"option":"companion_door","kind":"most","others":[],"words":"Número máximo que se puede montar: 1 (Puerta de cabina)."},{"option":"companion_wide","kind":"one of","others":["companion_door","companion_wide"],"words":"Solo es posible una de estas opciones: {options}."},{"option":"companion_wide","kind":"most","others":[],"words":"Número máximo que se puede montar: 1 (Puerta de cabina, ancha)."},{"option":"deck_hatch","kind":"most","others":[],"words":"Número máximo que se puede montar: 2 (Escotilla de cubierta)."},{"option":"anchor_lid","kind":"most","others":[],"words":"Número máximo que se puede montar: 1 (Tapa del pozo de anclas)."},{"option":"seat_base","kind":"most","others":[],"words":"Número máximo que se puede montar: 4 (Base de asiento)."},{"option":"buoyancy","kind":"most","others":[],"words":"Número máximo que se puede montar: 1 (Relleno de flotabilidad)."}],"words":{"between":"; ","colon":": ","add":"Añadir","take_out":"Quitar","added":"En su lista: {name}. Total {total}.","taken_out":"Fuera de su lista: {name}. Total {total}.","refused":"No se puede añadir: {name}.","kept":"No se puede quitar: {name}.","fix_add":"Elegir {name} con {added}","fix_out":"Elegir {name} y quitar {removed}","fix_both":"Elegir {name} con {added} y quitar {removed}","fix_add_too":"Quitar {name} y añadir {added}","fix_out_too":"Quitar {name} y también {removed}","fix_both_too":"Quitar {name} y también {removed}, y añadir {added}","then":"Nuevo total: {total}.","held":"{option}: ya en el paquete {package}.","goes_in":"El paquete {package} incorpora lo que ya ha elegido: {names}.","cheaper":"Con el paquete {package} ahorra {saving}: incluye {names}.","cheaper_besides":"Con el paquete {package} ahorra {saving} y recibe además {besides}: incluye {names}.","swap":"Elegir {package}","not_now":"Ahora no","undo":"Deshacer","restored":"Su lista vuelve a estar como antes. Total {total}.","left_out":"De la dirección no se ha tomado:","standard_here":"{name}: de serie en este barco.","standard_there":"{name}: no se ofrece en este barco; de serie en {boats}.","not_here":"{name}: no se ofrece en este barco.","too_many":"{name}: {most} como máximo.","unknown_one":"1 elemento no figura en ninguna lista de precios de este astillero.","unknown_more":"{count} elementos no figuran en ninguna lista de precios de este astillero.","lead":"Plazo de entrega más largo: {time} ({name})","leads":"Plazos de entrega: {times}","quantity":"Cantidad: {name}","shown":"{count} de {all} opciones a la vista","nothing":"Ninguna opción coincide. Cambie las palabras o los filtros.","copied":"La dirección está copiada.","copy_by_hand":"Cópiela de la barra de direcciones del navegador.","count_none":"sin opciones","count_one":"1 opción","count_more":"{count} opciones","here_opened":"{names}: este paquete no existe en este barco; lo que incluye figura por separado en la lista.","here_extra":"De serie en {model}, como opción en este barco: {names}.","some_there":"{count} de {all} como opción o de serie","kept_aside":"Lista apartada: {model}, {total}.","no_aside":"La lista apartada no se puede leer aquí.","is_standard":"de serie","in_package":"en el paquete {package}","on_both":"En las dos listas: {names}.","all_same":"Las dos listas tienen las mismas opciones.","mail_subject":"Solicitud de presupuesto: {model}","mail_ask":"Les ruego que me envíen un presupuesto de este barco.","mail_sheet":"Según la lista de precios {version}.","mail_list":"Esta lista: {address}","mail_more":"y {count} más","total_told":"Total: {total}"},"money":{"digits":2,"before":"","after":" €","before_negative":"−","after_negative":" €","separator":".","decimal":",","sizes":[3,3],"grouped_from":5,"whole":false},"masses":{"whole_digits":4,"fine":{"digits":1,"before":"","after":" kg","before_negative":"−","after_negative":" kg","separator":".","decimal":",","sizes":[3,3],"grouped_from":5,"whole":false},"whole":{"digits":0,"before":"","after":" kg","before_negative":"−","after_negative":" kg","separator":".","decimal":"","sizes":[3,3],"grouped_from":5,"whole":false},"pound":"0.45359237","pounds_whole_digits":2,"pounds_fine":{"digits":1,"before":"","after":" lb","before_negative":"−","after_negative":" lb","separator":".","decimal":",","sizes":[3,3],"grouped_from":5,"whole":false},"pounds_whole":{"digits":0,"before":"","after":" lb","before_negative":"−","after_negative":" lb","separator":".","decimal":"","sizes":[3,3],"grouped_from":5,"whole":false}},"savings":[],"other":{"price":"449000.00","delivery":null,"items":[{"id":"side_single","price":"4350.00"},{"id":"side_pair","price":"7950.00"},{"id":"side_step","price":"6050.00"},{"id":"side_ramp","price":"6590.00"},{"id":"ramp_hoist","price":"1700.00"},{"id":"companion_wide","price":"430.00"},{"id":"seat_base","price":"1260.00"},{"id":"buoyancy","price":"1150.00"}],"surcharges":[],"savings":[]}};
window.priceList.check = check;
}());
