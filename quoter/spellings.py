"""What people write for the symbol of a unit, in one table, and words that may be two units.

The catalogue asks for the symbol and says which is meant; what suppliers send may have any of
these. They are usual spellings of the trade (common practice, no source), in English and the
languages that the price sheet speaks. A word that is one unit here and another there stands among
those that are not read, whatever is likelier; but where the two are of different kinds, as a piece
and a stone, the material tells which.
"""

from __future__ import annotations


def _each(symbol: str, words: str) -> dict[str, str]:
    """Spellings parted by commas, all of one symbol."""
    return dict.fromkeys((word.strip() for word in words.split(",")), symbol)


# In small letters, with single blanks and without points: "Sq. Ft." is found as "sq ft".
MEANT = {
    **_each("h", "hr, hrs, hour, hours"),
    **_each("min", "mins, minute, minutes"),
    **_each("s", "sec, secs, second, seconds"),
    **_each(
        "kg", "kgs, kilo, kilos, kilogram, kilograms, kilogramm, kilogramme, kilogramo, kilogramos"
    ),
    **_each("g", "gr, grm, grms, gram, grams, gramm, gramme, grammes"),
    **_each("t", "tonne, tonnes, metric ton, metric tons"),
    **_each("100 kg", "dt, dezitonne"),
    **_each("lb", "lbs, pound, pounds"),
    **_each("oz", "ozs, ounce, ounces"),
    **_each("cwt", "short cwt, us cwt, cwt us, short hundredweight, us hundredweight, cental"),
    **_each("112 lb", "long cwt, uk cwt, imp cwt, imperial cwt, british cwt, long hundredweight"),
    **_each("m", "mtr, mtrs, meter, meters, metre, metres, mètre, mètres, metro, metros"),
    **_each(
        "m", "rm, lm, lfm, lfd m, lfdm, lfd meter, lfdmtr, laufmeter, running metre, running meter"
    ),
    **_each("m", "linear metre, linear meter, lin m, løpemeter, metro lineal, mètre linéaire"),
    **_each("in", "inch, inches"),
    **_each("ft", "foot, feet, lf, lft, lin ft, ln ft, linear foot, linear feet, running foot"),
    **_each("yd", "yard, yards, yds, lin yd, linear yard, linear yards, running yard"),
    **_each("m2", "sqm, qm, sq m, sq mtr, sq metre, sq meter, square metre, square meter"),
    **_each("m2", "square metres, square meters, quadratmeter, kvm, kvadratmeter"),
    **_each("ft2", "sqft, sqf, sf, sq ft, sq feet, square foot, square feet"),
    **_each("yd2", "sqyd, sqyds, sy, sq yd, sq yds, sq yard, square yard, square yards"),
    **_each("in2", "sqin, sq in, square inch, square inches"),
    **_each("m3", "cbm, cum, cu m, cubic metre, cubic meter, kubikmeter"),
    **_each("ft3", "cuft, cft, cu ft, cubic foot, cubic feet"),
    **_each("L", "ltr, ltrs, lt, litre, liter, litres, liters, litro, litros"),
    **_each("mL", "millilitre, milliliter, millilitres, milliliters"),
    **_each("gal", "gals, gallon, gallons, us gal, us gals, us gallon, us gallons, usg, usgal"),
    **_each("qt", "quart, quarts, qts"),
    **_each("pt", "pint, pints, pts"),
    **_each("floz", "fl oz, fluid ounce, fluid ounces"),
    **_each("um", "micron, microns, µm, μm"),
    **_each(
        "each", "pc, pce, pces, piece, pieces, ea, off, unit, units, st, stk, stck, stück, stueck"
    ),
    **_each(
        "each",
        "pièce, pièces, pieza, piezas, pza, pzas, unité, unités, unidad, unidades, uds, unid",
    ),
    **_each("pair", "pairs, pr, prs, paar, paire, paires"),
    **_each("dozen", "doz, dozens, dz, dzn, dutzend, douzaine, docena, dusin"),
    **_each("hundred", "hundreds"),
    **_each("thousand", "thousands"),
    **_each("drum", "drums, dr, drm, fass, fässer, fût, tambor, fat"),
    **_each("pail", "pails, eimer, seau, spann"),
    **_each("can", "cans, dose, dosen, kanister, kanne"),
    **_each(
        "roll", "rolls, rl, rls, rolle, rollen, rouleau, rouleaux, rollo, rollos, rull, ruller"
    ),
    **_each("box", "boxes, bx, boîte, boîtes, caja, cajas, eske, esker"),
    **_each("bag", "bags, sack, säcke, beutel, sac, sacs, saco, sacos, sekk, sekker"),
    **_each("kit", "kits"),
    **_each("sheet", "sheets, platte, platten, plaque, plancha, planchas"),
    **_each("carton", "ctn, ctns, cartons, karton, kartons, kartong, kartonger"),
    **_each("case", "cases, cs"),
    **_each("tube", "tubes, tub, tubo, tubos"),
    **_each(
        "cartridge", "cartridges, kartusche, kartuschen, cartouche, cartouches, cartucho, cartuchos"
    ),
    **_each("bottle", "bottles, btl, flasche, flaschen, flaske, bouteille, botella"),
    **_each("jug", "jugs"),
    **_each("bucket", "buckets"),
    **_each("tote", "totes, ibc"),
    **_each("tin", "tins"),
    **_each("spool", "spools, spule, bobine, bobina"),
    **_each("reel", "reels"),
    **_each("pack", "packs, pk, pkt, pkg, packet, gebinde, packung, paquet, paquete, pakke"),
    **_each("%", "percent, pct"),
    **{"gsm": "g/m2", "osy": "oz/yd2", "osf": "oz/ft2", "pcf": "lb/ft3", "psf": "lb/ft2"},
    **{"€": "EUR", "$": "USD", "£": "GBP"},
}
# Words that mean two units -> what to write for each.
AMBIGUOUS = {
    **_each("write 't' for 1000 kg, or '2000 lb' for a ton of the US", "ton, tons"),
    **_each(
        "'gal' is that of the US; a British one is '4.54609 L'",
        "imp, impgal, igal, ukgal, imp gal, imperial gallon, uk gal",
    ),
    "c": "write '100' or 'hundred' for a hundred",
    "m": "write 'm' for a metre, '1000' or 'thousand' for a thousand",
}
# Those that only a supplier's file has in two meanings: in the catalogue each has one, or none.
SENT_IN_TWO = {
    **_each(
        "a short one is 100 lb ('short cwt'), a long one 112 lb ('long cwt')",
        "cwt, cwts, hundredweight, hundredweights",
    ),
    **_each(
        "it is 50 kg in some places and 100 kg in others", "zentner, ztr, ctr, quintal, quintals"
    ),
}
# What only a clock's export has for hours: among prices, STD is a currency.
HOURS = _each("h", "std, stunde, stunden, heure, heures, hora, horas, time, timer")
# How rows of totals begin, in small letters.
TOTALS = (
    *("total", "totals", "totale", "totaux", "totales", "grand total", "sub-total", "subtotal"),
    *("sub total", "sum", "sums", "summe", "summen", "gesamt", "gesamtsumme", "zwischensumme"),
    *("endsumme", "somme", "sous-total", "suma", "totalt", "delsum", "sum total", "i alt"),
)
# What people write for yes and no, in small letters.
TRUTHS = {
    **_each("yes", "yes, y, true, ja, j, oui, o, sí, si, s, x, 1"),
    **_each("no", "no, n, false, nein, nei, non, 0, -"),
}
