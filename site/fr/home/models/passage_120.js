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
window.priceList = {"request":1,"market":"home","language":"fr","version":"2026-11","yard":"Orvesund Boatyard","model":"passage_120","name":"Orvesund 12.0 Passage","currency":"EUR","price":"556760.00","weeks":36,"lead":"36 semaines","mass":"7943.12","delivery":null,"delivery_words":"","items":[{"id":"side_single","name":"Porte latérale, simple","kind":"opening","price":"5394.00","mass":"38.19","most":1,"lead":"4 semaines","weeks":4},{"id":"side_pair","name":"Portes latérales, une de chaque bord","kind":"opening","price":"9858.00","mass":"76.38","most":1,"lead":"5 semaines","weeks":5},{"id":"side_step","name":"Porte latérale, large avec marche","kind":"opening","price":"7502.00","mass":"55.65","most":1,"lead":"5 semaines","weeks":5},{"id":"side_ramp","name":"Porte latérale, rampe rabattable","kind":"opening","price":"8171.60","mass":"60.02","most":1,"lead":"7 semaines","weeks":7},{"id":"ramp_hoist","name":"Treuil de rampe","kind":"fitting","price":"2108.00","mass":"10.98","most":1,"lead":"3 semaines","weeks":3},{"id":"companion_wide","name":"Porte de cabine, large","kind":"panel","price":"533.20","mass":"3.53","most":1,"lead":"5 semaines","weeks":5,"instead_of":["companion_door"]},{"id":"seat_base","name":"Caisson de siège","kind":"panel","price":"1562.40","mass":"10.34","most":4,"lead":"3 semaines","weeks":3},{"id":"buoyancy","name":"Mousse de flottabilité","kind":"core","price":"1426.00","mass":"24.55","most":1,"lead":"2 semaines","weeks":2}],"surcharges":[],"standard":[{"id":"transom_door","name":"Porte de tableau arrière","kind":"opening"},{"id":"companion_door","name":"Porte de cabine","kind":"panel"},{"id":"deck_hatch","name":"Panneau de pont","kind":"panel"},{"id":"anchor_lid","name":"Couvercle de baille à mouillage","kind":"panel"}],"rules":[{"option":"side_single","kind":"one of","others":["side_single","side_pair","side_step","side_ramp"],"words":"Un seul choix possible parmi : {options}."},{"option":"side_single","kind":"most","others":[],"words":"Porte latérale, simple : 1 au maximum."},{"option":"side_pair","kind":"one of","others":["side_single","side_pair","side_step","side_ramp"],"words":"Un seul choix possible parmi : {options}."},{"option":"side_pair","kind":"most","others":[],"words":"Portes latérales, une de chaque bord : 1 au maximum."},{"option":"side_step","kind":"one of","others":["side_single","side_pair","side_step","side_ramp"],"words":"Un seul choix possible parmi : {options}."},{"option":"side_step","kind":"most","others":[],"words":"Porte latérale, large avec marche : 1 au maximum."},{"option":"side_ramp","kind":"one of","others":["side_single","side_pair","side_step","side_ramp"],"words":"Un seul choix possible parmi : {options}."},{"option":"side_ramp","kind":"most","others":[],"words":"Porte latérale, rampe rabattable : 1 au maximum."},{"option":"ramp_hoist","kind":"needs","others":["side_ramp"],"words":"Treuil de rampe : uniquement avec Porte latérale, rampe rabattable."},{"option":"ramp_hoist","kind":"most","others":[],"words":"Treuil de rampe : 1 au maximum."},{"option":"transom_door","kind":"most","others":[],"words":"Porte de tableau arrière : 1 au maximum."},{"option":"companion_door","kind":"one of","others":["companion_door","companion_wide"],"words":"Un seul choix possible parmi : {options}."},{"option":"companion_door","kind":"most","others":[],"words":"Porte de cabine : 1 au maximum."},{"option":"companion_wide","kind":"one of","others":["companion_door","companion_wide"],"words":"Un seul choix possible parmi : {options}."},{"option":"companion_wide","kind":"most","others":[],"words":"Porte de cabine, large : 1 au maximum."},{"option":"deck_hatch","kind":"most","others":[],"words":"Panneau de pont : 2 au maximum."},{"option":"anchor_lid","kind":"most","others":[],"words":"Couvercle de baille à mouillage : 1 au maximum."},{"option":"seat_base","kind":"most","others":[],"words":"Caisson de siège : 4 au maximum."},{"option":"buoyancy","kind":"most","others":[],"words":"Mousse de flottabilité : 1 au maximum."}],"words":{"between":" ; ","colon":" : ","add":"Ajouter","take_out":"Retirer","added":"Sur votre liste : {name}. Total {total}.","taken_out":"Retiré de votre liste : {name}. Total {total}.","refused":"Ajout impossible : {name}.","kept":"Retrait impossible : {name}.","fix_add":"Prendre {name} avec {added}","fix_out":"Prendre {name} et retirer {removed}","fix_both":"Prendre {name} avec {added} et retirer {removed}","fix_add_too":"Retirer {name} et ajouter {added}","fix_out_too":"Retirer {name} et {removed}","fix_both_too":"Retirer {name} et {removed}, ajouter {added}","then":"Nouveau total : {total}.","held":"{option} : déjà dans le pack {package}.","goes_in":"Le pack {package} reprend ce que vous avez déjà choisi : {names}.","cheaper":"Le pack {package} vous fait économiser {saving} : il comprend {names}.","cheaper_besides":"Le pack {package} vous fait économiser {saving} et apporte en plus {besides} : il comprend {names}.","swap":"Prendre {package}","not_now":"Pas maintenant","undo":"Annuler","restored":"Votre liste est de nouveau comme avant. Total {total}.","left_out":"Non repris de l’adresse :","standard_here":"{name} : de série sur ce bateau.","standard_there":"{name} : non proposé sur ce bateau ; de série sur {boats}.","not_here":"{name} : non proposé sur ce bateau.","too_many":"{name} : {most} au maximum.","unknown_one":"1 élément ne figure dans aucun tarif de ce chantier.","unknown_more":"{count} éléments ne figurent dans aucun tarif de ce chantier.","lead":"Délai le plus long : {time} ({name})","leads":"Délais : {times}","quantity":"Nombre : {name}","shown":"{count} options affichées sur {all}","nothing":"Aucune option ne correspond. Changez les mots ou les filtres.","copied":"L’adresse est copiée.","copy_by_hand":"Copiez-la depuis la barre d’adresse du navigateur.","count_none":"aucune option","count_one":"1 option","count_more":"{count} options","here_opened":"{names} : ce pack n’existe pas sur ce bateau ; ce qu’il comprend figure séparément dans la liste.","here_extra":"De série sur {model}, en option sur ce bateau : {names}.","some_there":"{count} sur {all} en option ou de série","kept_aside":"Liste mise de côté : {model}, {total}.","no_aside":"La liste mise de côté ne peut pas être lue ici.","is_standard":"de série","in_package":"dans le pack {package}","on_both":"Sur les deux listes : {names}.","all_same":"Les deux listes comprennent les mêmes options.","mail_subject":"Demande de devis : {model}","mail_ask":"Merci de m’envoyer un devis pour ce bateau.","mail_sheet":"Selon le tarif {version}.","mail_list":"Cette liste : {address}","mail_more":"et {count} de plus","total_told":"Total : {total}"},"money":{"digits":2,"before":"","after":" €","before_negative":"−","after_negative":" €","separator":" ","decimal":",","sizes":[3,3],"grouped_from":4,"whole":false},"masses":{"whole_digits":4,"fine":{"digits":1,"before":"","after":" kg","before_negative":"−","after_negative":" kg","separator":" ","decimal":",","sizes":[3,3],"grouped_from":4,"whole":false},"whole":{"digits":0,"before":"","after":" kg","before_negative":"−","after_negative":" kg","separator":" ","decimal":"","sizes":[3,3],"grouped_from":4,"whole":false},"pound":"0.45359237","pounds_whole_digits":2,"pounds_fine":{"digits":1,"before":"","after":" lb","before_negative":"−","after_negative":" lb","separator":" ","decimal":",","sizes":[3,3],"grouped_from":4,"whole":false},"pounds_whole":{"digits":0,"before":"","after":" lb","before_negative":"−","after_negative":" lb","separator":" ","decimal":"","sizes":[3,3],"grouped_from":4,"whole":false}},"savings":[],"other":{"price":"449000.00","delivery":null,"items":[{"id":"side_single","price":"4350.00"},{"id":"side_pair","price":"7950.00"},{"id":"side_step","price":"6050.00"},{"id":"side_ramp","price":"6590.00"},{"id":"ramp_hoist","price":"1700.00"},{"id":"companion_wide","price":"430.00"},{"id":"seat_base","price":"1260.00"},{"id":"buoyancy","price":"1150.00"}],"surcharges":[],"savings":[]}};
window.priceList.check = check;
}());
