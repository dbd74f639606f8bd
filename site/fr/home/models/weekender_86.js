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
window.priceList = {"request":1,"market":"home","language":"fr","version":"2026-11","yard":"Orvesund Boatyard","model":"weekender_86","name":"Orvesund 8.6 Weekender","currency":"EUR","price":"167276.00","weeks":20,"lead":"20 semaines","mass":"2500.23","delivery":null,"delivery_words":"","items":[{"id":"side_single","name":"Porte latérale, simple","kind":"opening","price":"5394.00","mass":"37.35","most":1,"lead":"4 semaines","weeks":4},{"id":"side_pair","name":"Portes latérales, une de chaque bord","kind":"opening","price":"9858.00","mass":"74.70","most":1,"lead":"5 semaines","weeks":5},{"id":"side_step","name":"Porte latérale, large avec marche","kind":"opening","price":"7440.00","mass":"54.79","most":1,"lead":"5 semaines","weeks":5},{"id":"transom_door","name":"Porte de tableau arrière","kind":"opening","price":"3447.20","mass":"17.54","most":1,"lead":"4 semaines","weeks":4},{"id":"companion_wide","name":"Porte de cabine, large","kind":"panel","price":"533.20","mass":"3.53","most":1,"lead":"5 semaines","weeks":5,"instead_of":["companion_door"]},{"id":"deck_hatch","name":"Panneau de pont","kind":"panel","price":"1190.40","mass":"5.31","most":2,"lead":"2 semaines","weeks":2},{"id":"fish_lid","name":"Couvercle de coffre isotherme","kind":"panel","price":"1264.80","mass":"7.89","most":2,"lead":"2 semaines","weeks":2},{"id":"seat_base","name":"Caisson de siège","kind":"panel","price":"1562.40","mass":"10.34","most":4,"lead":"3 semaines","weeks":3},{"id":"sole_panels","name":"Panneaux de plancher à âme mousse","kind":"core","price":"4327.60","mass":"38.86","most":1,"lead":"3 semaines","weeks":3},{"id":"roof_panel","name":"Toit de cockpit","kind":"core","price":"3571.20","mass":"54.02","most":1,"lead":"4 semaines","weeks":4},{"id":"buoyancy","name":"Mousse de flottabilité","kind":"core","price":"1041.60","mass":"12.67","most":1,"lead":"2 semaines","weeks":2},{"id":"hull_blue","name":"Couleur de coque bleu profond","kind":"colour","price":"2343.60","mass":"2.56","most":1,"lead":"1 semaine","weeks":1},{"id":"hull_grey","name":"Couleur de coque gris pierre","kind":"colour","price":"2207.20","mass":"1.79","most":1,"lead":"1 semaine","weeks":1},{"id":"easy_boarding","name":"Embarquement facile","kind":"package","price":"8481.60","mass":"54.89","most":1,"holds":["side_single","transom_door"]},{"id":"day_fishing","name":"Pêche à la journée","kind":"package","price":"2740.40","mass":"18.23","most":1,"holds":["fish_lid","seat_base"]}],"surcharges":[{"option":"side_single","colour":"hull_blue","name":"Supplément Porte latérale, simple / Couleur de coque bleu profond","price":"74.40"}],"standard":[{"id":"companion_door","name":"Porte de cabine","kind":"panel"},{"id":"anchor_lid","name":"Couvercle de baille à mouillage","kind":"panel"}],"rules":[{"option":"side_single","kind":"one of","others":["side_single","side_pair","side_step"],"words":"Un seul choix possible parmi : {options}."},{"option":"side_single","kind":"most","others":[],"words":"Porte latérale, simple : 1 au maximum."},{"option":"side_pair","kind":"one of","others":["side_single","side_pair","side_step"],"words":"Un seul choix possible parmi : {options}."},{"option":"side_pair","kind":"most","others":[],"words":"Portes latérales, une de chaque bord : 1 au maximum."},{"option":"side_step","kind":"one of","others":["side_single","side_pair","side_step"],"words":"Un seul choix possible parmi : {options}."},{"option":"side_step","kind":"most","others":[],"words":"Porte latérale, large avec marche : 1 au maximum."},{"option":"transom_door","kind":"most","others":[],"words":"Porte de tableau arrière : 1 au maximum."},{"option":"companion_door","kind":"one of","others":["companion_door","companion_wide"],"words":"Un seul choix possible parmi : {options}."},{"option":"companion_door","kind":"most","others":[],"words":"Porte de cabine : 1 au maximum."},{"option":"companion_wide","kind":"one of","others":["companion_door","companion_wide"],"words":"Un seul choix possible parmi : {options}."},{"option":"companion_wide","kind":"most","others":[],"words":"Porte de cabine, large : 1 au maximum."},{"option":"deck_hatch","kind":"most","others":[],"words":"Panneau de pont : 2 au maximum."},{"option":"anchor_lid","kind":"most","others":[],"words":"Couvercle de baille à mouillage : 1 au maximum."},{"option":"fish_lid","kind":"most","others":[],"words":"Couvercle de coffre isotherme : 2 au maximum."},{"option":"seat_base","kind":"most","others":[],"words":"Caisson de siège : 4 au maximum."},{"option":"sole_panels","kind":"most","others":[],"words":"Panneaux de plancher à âme mousse : 1 au maximum."},{"option":"roof_panel","kind":"most","others":[],"words":"Toit de cockpit : 1 au maximum."},{"option":"buoyancy","kind":"most","others":[],"words":"Mousse de flottabilité : 1 au maximum."},{"option":"hull_blue","kind":"one of","others":["hull_blue","hull_grey"],"words":"Un seul choix possible parmi : {options}."},{"option":"hull_blue","kind":"most","others":[],"words":"Couleur de coque bleu profond : 1 au maximum."},{"option":"hull_grey","kind":"one of","others":["hull_blue","hull_grey"],"words":"Un seul choix possible parmi : {options}."},{"option":"hull_grey","kind":"most","others":[],"words":"Couleur de coque gris pierre : 1 au maximum."}],"words":{"between":" ; ","colon":" : ","add":"Ajouter","take_out":"Retirer","added":"Sur votre liste : {name}. Total {total}.","taken_out":"Retiré de votre liste : {name}. Total {total}.","refused":"Ajout impossible : {name}.","kept":"Retrait impossible : {name}.","fix_add":"Prendre {name} avec {added}","fix_out":"Prendre {name} et retirer {removed}","fix_both":"Prendre {name} avec {added} et retirer {removed}","fix_add_too":"Retirer {name} et ajouter {added}","fix_out_too":"Retirer {name} et {removed}","fix_both_too":"Retirer {name} et {removed}, ajouter {added}","then":"Nouveau total : {total}.","held":"{option} : déjà dans le pack {package}.","goes_in":"Le pack {package} reprend ce que vous avez déjà choisi : {names}.","cheaper":"Le pack {package} vous fait économiser {saving} : il comprend {names}.","cheaper_besides":"Le pack {package} vous fait économiser {saving} et apporte en plus {besides} : il comprend {names}.","swap":"Prendre {package}","not_now":"Pas maintenant","undo":"Annuler","restored":"Votre liste est de nouveau comme avant. Total {total}.","left_out":"Non repris de l’adresse :","standard_here":"{name} : de série sur ce bateau.","standard_there":"{name} : non proposé sur ce bateau ; de série sur {boats}.","not_here":"{name} : non proposé sur ce bateau.","too_many":"{name} : {most} au maximum.","unknown_one":"1 élément ne figure dans aucun tarif de ce chantier.","unknown_more":"{count} éléments ne figurent dans aucun tarif de ce chantier.","lead":"Délai le plus long : {time} ({name})","leads":"Délais : {times}","quantity":"Nombre : {name}","shown":"{count} options affichées sur {all}","nothing":"Aucune option ne correspond. Changez les mots ou les filtres.","copied":"L’adresse est copiée.","copy_by_hand":"Copiez-la depuis la barre d’adresse du navigateur.","count_none":"aucune option","count_one":"1 option","count_more":"{count} options","here_opened":"{names} : ce pack n’existe pas sur ce bateau ; ce qu’il comprend figure séparément dans la liste.","here_extra":"De série sur {model}, en option sur ce bateau : {names}.","some_there":"{count} sur {all} en option ou de série","kept_aside":"Liste mise de côté : {model}, {total}.","no_aside":"La liste mise de côté ne peut pas être lue ici.","is_standard":"de série","in_package":"dans le pack {package}","on_both":"Sur les deux listes : {names}.","all_same":"Les deux listes comprennent les mêmes options.","mail_subject":"Demande de devis : {model}","mail_ask":"Merci de m’envoyer un devis pour ce bateau.","mail_sheet":"Selon le tarif {version}.","mail_list":"Cette liste : {address}","mail_more":"et {count} de plus","total_told":"Total : {total}"},"money":{"digits":2,"before":"","after":" €","before_negative":"−","after_negative":" €","separator":" ","decimal":",","sizes":[3,3],"grouped_from":4,"whole":false},"masses":{"whole_digits":4,"fine":{"digits":1,"before":"","after":" kg","before_negative":"−","after_negative":" kg","separator":" ","decimal":",","sizes":[3,3],"grouped_from":4,"whole":false},"whole":{"digits":0,"before":"","after":" kg","before_negative":"−","after_negative":" kg","separator":" ","decimal":"","sizes":[3,3],"grouped_from":4,"whole":false},"pound":"0.45359237","pounds_whole_digits":2,"pounds_fine":{"digits":1,"before":"","after":" lb","before_negative":"−","after_negative":" lb","separator":" ","decimal":",","sizes":[3,3],"grouped_from":4,"whole":false},"pounds_whole":{"digits":0,"before":"","after":" lb","before_negative":"−","after_negative":" lb","separator":" ","decimal":"","sizes":[3,3],"grouped_from":4,"whole":false}},"savings":[{"id":"easy_boarding","saving":"359.60"},{"id":"day_fishing","saving":"86.80"}],"other":{"price":"134900.00","delivery":null,"items":[{"id":"side_single","price":"4350.00"},{"id":"side_pair","price":"7950.00"},{"id":"side_step","price":"6000.00"},{"id":"transom_door","price":"2780.00"},{"id":"companion_wide","price":"430.00"},{"id":"deck_hatch","price":"960.00"},{"id":"fish_lid","price":"1020.00"},{"id":"seat_base","price":"1260.00"},{"id":"sole_panels","price":"3490.00"},{"id":"roof_panel","price":"2880.00"},{"id":"buoyancy","price":"840.00"},{"id":"hull_blue","price":"1890.00"},{"id":"hull_grey","price":"1780.00"},{"id":"easy_boarding","price":"6840.00"},{"id":"day_fishing","price":"2210.00"}],"surcharges":[{"price":"60.00"}],"savings":[{"id":"easy_boarding","saving":"290.00"},{"id":"day_fishing","saving":"70.00"}]}};
window.priceList.check = check;
}());
