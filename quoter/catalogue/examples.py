"""Messages in the units of their catalogue: examples of what to write, and sizes that were found.

Values are read one by one, long before anybody holds the whole catalogue. So that each message
speaks its units all the same, they are set once where a catalogue is read or costed.
"""

from __future__ import annotations

from contextvars import ContextVar

from quoter.figures import Figure
from quoter.figures.readers import CHOICES, THIN, reader_of
from quoter.units import unit

METRIC = CHOICES[0]
# An example as metric yards write it -> as those of the US do.
IN_US = {
    "0 EUR": "0 USD",
    "0.1 kg/m": "0.07 lb/ft",
    "0.10 EUR/kg": "0.05 USD/lb",
    "0.2 kg/m2": "0.65 oz/ft2",
    "0.6 kg/m2": "2 oz/ft2",
    "0.6 m2": "6 1/2 ft2",
    "1 min/kg": "1/2 min/lb",
    "1.2 kg": "2 lb 10 oz",
    "1.2 kg/each": "2.6 lb/each",
    "1.20 EUR/kg": "0.60 USD/lb",
    "1.20 kg/L": "10 lb/gal",
    "10 EUR": "10 USD",
    "12 min/m2": "1 min/ft2",
    "1500 EUR": "1500 USD",
    "18 L": "5 gal",
    "2.5 m": "8 ft 2 in",
    "220 kg": "485 lb",
    "26 EUR/h": "26 USD/h",
    "3 min/m": "1 min/ft",
    "4 EUR/pull": "4 USD/pull",
    "4 min/kg": "2 min/lb",
    "4 min/m": "1 min/ft",
    "4.10 EUR/kg": "2.10 USD/lb",
    "40 mm": "1 1/2 in",
    "450 g/m2": "1.5 oz/ft2",
    "50 kPa": "15 inHg",
    "6500 EUR": "6500 USD",
    "720 mm": "28 1/4 in",
    "9 min/kg": "4 min/lb",
    "1.25 m": "50 in",
    "6 mm": "1/4 in",
}
_SPOKEN = ContextVar("spoken", default=METRIC)


def speak(choice: object) -> None:
    """From now on messages are in these units; metric ones where a catalogue names none."""
    _SPOKEN.set(choice if isinstance(choice, str) and choice in CHOICES else METRIC)


def example(words: str) -> str:
    """An example of what to write, in the units of the catalogue; those of both stay metric."""
    return IN_US.get(words, words) if _SPOKEN.get() == "US" else words


def told(size: float, base: str, spec: str = "g", form: str = "") -> str:
    """A size as a message says it, such as 0.029 in m as ``29 mm`` or ``1.142 in``.

    Args:
        size: in base symbols
        base: the unit in base symbols, such as ``m2``
        spec: how many digits a metric one shows; others show four
        form: `THIN` for a thickness or the like
    """
    reader = reader_of(_SPOKEN.get())
    figure = Figure(size, unit(base), form=form)
    shown, other = reader.shown(figure), reader.besides(figure)
    digits = spec if reader.first.name == METRIC else ".4g"
    words = f"{shown.value:{digits}} {shown.unit}"
    return words if other is None else f"{words} ({other.value:.4g} {other.unit})"


def thickness(metres: float, spec: str = "g") -> str:
    """A length that is read in mm or inches, as a message says it."""
    return told(metres, "m", spec, THIN)
