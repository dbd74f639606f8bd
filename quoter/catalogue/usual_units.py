"""Units that people write a quantity in, for the reference of keys.

Any unit of the dimension is read; these are named, metric ones and those of the US by turns. The
euro stands for any currency, a drum for any pack.
"""

# dimension, as a unit writes itself -> units, the most usual first
WRITTEN_IN = {
    "kg": "kg lb g oz t",
    "m": "m ft mm in cm mil",
    "m2": "m2 ft2 cm2 in2",
    "m3": "L gal m3 ft3 mL",
    "h": "h min s",
    "Pa": "kPa psi bar inHg Pa",
    "kg/m": "kg/m lb/ft",
    "kg/m2": "g/m2 oz/ft2 kg/m2 oz/yd2",
    "kg/m3": "kg/L lb/gal kg/m3 lb/ft3",
    "1/m": "each/m each/ft",
    "1/m2": "each/m2 each/ft2",
    "h/m": "min/m min/ft h/m",
    "h/m2": "min/m2 min/ft2 h/m2",
    "h/kg": "min/kg min/lb h/kg",
    "money": "EUR",
    "money/h": "EUR/h",
    "money/kg": "EUR/kg EUR/lb",
    "money/m": "EUR/m EUR/ft",
    "money/m2": "EUR/m2 EUR/ft2",
    "money/m3": "EUR/L EUR/gal EUR/m3",
    "money/pack": "EUR/drum EUR/pack",
}
FEW = 2  # units of each dimension, where a quantity may be of more dimensions than that
