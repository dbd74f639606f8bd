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
window.priceList = {"request":1,"market":"home","language":"fr","version":"2026-11","yard":"Orvesund Boatyard","model":"longshore_76","name":"Orvesund 7.6 Longshore","currency":"EUR","price":"89156.00","weeks":16,"lead":"16 semaines","mass":"1573.52","delivery":null,"delivery_words":"","items":[{"id":"deck_hatch","name":"Panneau de pont","kind":"panel","price":"1190.40","mass":"5.31","most":2,"lead":"2 semaines","weeks":2},{"id":"anchor_lid","name":"Couvercle de baille à mouillage","kind":"panel","price":"880.40","mass":"3.95","most":1,"lead":"2 semaines","weeks":2},{"id":"fish_lid","name":"Couvercle de coffre isotherme","kind":"panel","price":"1264.80","mass":"7.89","most":2,"lead":"2 semaines","weeks":2},{"id":"seat_base","name":"Caisson de siège","kind":"panel","price":"1562.40","mass":"10.34","most":4,"lead":"3 semaines","weeks":3},{"id":"sole_panels","name":"Panneaux de plancher à âme mousse","kind":"core","price":"4327.60","mass":"38.86","most":1,"lead":"3 semaines","weeks":3},{"id":"roof_panel","name":"Toit de cockpit","kind":"core","price":"3571.20","mass":"54.02","most":1,"lead":"4 semaines","weeks":4},{"id":"hull_blue","name":"Couleur de coque bleu profond","kind":"colour","price":"1971.60","mass":"2.17","most":1,"lead":"1 semaine","weeks":1},{"id":"hull_grey","name":"Couleur de coque gris pierre","kind":"colour","price":"1872.40","mass":"1.55","most":1,"lead":"1 semaine","weeks":1},{"id":"day_fishing","name":"Pêche à la journée","kind":"package","price":"2740.40","mass":"18.23","most":1,"holds":["fish_lid","seat_base"]}],"surcharges":[],"standard":[{"id":"console_door","name":"Porte de console","kind":"panel"},{"id":"buoyancy","name":"Mousse de flottabilité","kind":"core"}],"rules":[{"option":"console_door","kind":"most","others":[],"words":"Porte de console : 1 au maximum."},{"option":"deck_hatch","kind":"most","others":[],"words":"Panneau de pont : 2 au maximum."},{"option":"anchor_lid","kind":"most","others":[],"words":"Couvercle de baille à mouillage : 1 au maximum."},{"option":"fish_lid","kind":"most","others":[],"words":"Couvercle de coffre isotherme : 2 au maximum."},{"option":"seat_base","kind":"most","others":[],"words":"Caisson de siège : 4 au maximum."},{"option":"sole_panels","kind":"most","others":[],"words":"Panneaux de plancher à âme mousse : 1 au maximum."},{"option":"roof_panel","kind":"most","others":[],"words":"Toit de cockpit : 1 au maximum."},{"option":"buoyancy","kind":"most","others":[],"words":"Mousse de flottabilité : 1 au maximum."},{"option":"hull_blue","kind":"one of","others":["hull_blue","hull_grey"],"words":"Un seul choix possible parmi : {options}."},{"option":"hull_blue","kind":"most","others":[],"words":"Couleur de coque bleu profond : 1 au maximum."},{"option":"hull_grey","kind":"one of","others":["hull_blue","hull_grey"],"words":"Un seul choix possible parmi : {options}."},{"option":"hull_grey","kind":"most","others":[],"words":"Couleur de coque gris pierre : 1 au maximum."}],"words":{"between":" ; ","colon":" : ","add":"Ajouter","take_out":"Retirer","added":"Sur votre liste : {name}. Total {total}.","taken_out":"Retiré de votre liste : {name}. Total {total}.","refused":"Ajout impossible : {name}.","kept":"Retrait impossible : {name}.","fix_add":"Prendre {name} avec {added}","fix_out":"Prendre {name} et retirer {removed}","fix_both":"Prendre {name} avec {added} et retirer {removed}","fix_add_too":"Retirer {name} et ajouter {added}","fix_out_too":"Retirer {name} et {removed}","fix_both_too":"Retirer {name} et {removed}, ajouter {added}","then":"Nouveau total : {total}.","held":"{option} : déjà dans le pack {package}.","goes_in":"Le pack {package} reprend ce que vous avez déjà choisi : {names}.","cheaper":"Le pack {package} vous fait économiser {saving} : il comprend {names}.","cheaper_besides":"Le pack {package} vous fait économiser {saving} et apporte en plus {besides} : il comprend {names}.","swap":"Prendre {package}","not_now":"Pas maintenant","undo":"Annuler","restored":"Votre liste est de nouveau comme avant. Total {total}.","left_out":"Non repris de l’adresse :","standard_here":"{name} : de série sur ce bateau.","standard_there":"{name} : non proposé sur ce bateau ; de série sur {boats}.","not_here":"{name} : non proposé sur ce bateau.","too_many":"{name} : {most} au maximum.","unknown_one":"1 élément ne figure dans aucun tarif de ce chantier.","unknown_more":"{count} éléments ne figurent dans aucun tarif de ce chantier.","lead":"Délai le plus long : {time} ({name})","leads":"Délais : {times}","quantity":"Nombre : {name}","shown":"{count} options affichées sur {all}","nothing":"Aucune option ne correspond. Changez les mots ou les filtres.","copied":"L’adresse est copiée.","copy_by_hand":"Copiez-la depuis la barre d’adresse du navigateur.","count_none":"aucune option","count_one":"1 option","count_more":"{count} options","here_opened":"{names} : ce pack n’existe pas sur ce bateau ; ce qu’il comprend figure séparément dans la liste.","here_extra":"De série sur {model}, en option sur ce bateau : {names}.","some_there":"{count} sur {all} en option ou de série","kept_aside":"Liste mise de côté : {model}, {total}.","no_aside":"La liste mise de côté ne peut pas être lue ici.","is_standard":"de série","in_package":"dans le pack {package}","on_both":"Sur les deux listes : {names}.","all_same":"Les deux listes comprennent les mêmes options.","mail_subject":"Demande de devis : {model}","mail_ask":"Merci de m’envoyer un devis pour ce bateau.","mail_sheet":"Selon le tarif {version}.","mail_list":"Cette liste : {address}","mail_more":"et {count} de plus","total_told":"Total : {total}"},"money":{"digits":2,"before":"","after":" €","before_negative":"−","after_negative":" €","separator":" ","decimal":",","sizes":[3,3],"grouped_from":4,"whole":false},"masses":{"whole_digits":4,"fine":{"digits":1,"before":"","after":" kg","before_negative":"−","after_negative":" kg","separator":" ","decimal":",","sizes":[3,3],"grouped_from":4,"whole":false},"whole":{"digits":0,"before":"","after":" kg","before_negative":"−","after_negative":" kg","separator":" ","decimal":"","sizes":[3,3],"grouped_from":4,"whole":false},"pound":"0.45359237","pounds_whole_digits":2,"pounds_fine":{"digits":1,"before":"","after":" lb","before_negative":"−","after_negative":" lb","separator":" ","decimal":",","sizes":[3,3],"grouped_from":4,"whole":false},"pounds_whole":{"digits":0,"before":"","after":" lb","before_negative":"−","after_negative":" lb","separator":" ","decimal":"","sizes":[3,3],"grouped_from":4,"whole":false}},"savings":[{"id":"day_fishing","saving":"86.80"}],"other":{"price":"71900.00","delivery":null,"items":[{"id":"deck_hatch","price":"960.00"},{"id":"anchor_lid","price":"710.00"},{"id":"fish_lid","price":"1020.00"},{"id":"seat_base","price":"1260.00"},{"id":"sole_panels","price":"3490.00"},{"id":"roof_panel","price":"2880.00"},{"id":"hull_blue","price":"1590.00"},{"id":"hull_grey","price":"1510.00"},{"id":"day_fishing","price":"2210.00"}],"surcharges":[],"savings":[{"id":"day_fishing","saving":"70.00"}]}};
window.priceList.check = check;
}());
