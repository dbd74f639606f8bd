"""Words are found in their other forms: the script itself, run by node.

Source of the pairs: the sample vocabularies of the Snowball stemmers (github.com/snowballstem/
snowball-data, voc.txt and output.txt of each language), where both words of a pair have one stem.
Those in `OWN` are of boats and from memory.
"""

from __future__ import annotations

import json
import subprocess
from collections.abc import Iterable

import pytest

from quoter.pages.environment import asset

pytestmark = pytest.mark.slow

PAIRS = {
    "en": "door/doors box/boxes hatch/hatches city/cities branch/branches boat/boats glass/glasses "
    "cushion/cushions key/keys lock/locked fit/fitted fit/fitting hinge/hinges story/stories "
    "fold/folding paint/painted colour/colours bench/benches berry/berries stop/stopped "
    "body/bodies rail/railing dish/dishes store/stored tube/tubes mirror/mirrors",
    "de": "tür/türen fenster/fenstern farbe/farben sitz/sitze haus/häuser schiff/schiffe "
    "stuhl/stühle tisch/tische buch/bücher wand/wände seite/seiten stufe/stufen decke/decken "
    "schloß/schlosses glas/gläser grün/grüne weiß/weiße licht/lichter brett/bretter hell/helle "
    "breit/breiter fest/feste treppe/treppen bild/bilder",
    "fr": "porte/portes bateau/bateaux cheval/chevaux couleur/couleurs fenêtre/fenêtres lit/lits "
    "siège/sièges bleu/bleue vert/verte blanc/blancs grand/grande échelle/échelles clef/clefs "
    "tableau/tableaux couteau/couteaux lourd/lourdes premier/première heureux/heureuse pont/ponts "
    "peint/peinte couvert/couverte ouvert/ouverte château/châteaux lumière/lumières",
    "es": "puerta/puertas color/colores barco/barcos motor/motores ventana/ventanas mesa/mesas "
    "asiento/asientos blanco/blanca blanco/blancos escalera/escaleras llave/llaves negro/negra "
    "azul/azules árbol/árboles rojo/rojas interior/interiores opción/opciones posición/posiciones "
    "pintado/pintada cerrado/cerrada cubierta/cubiertas cómodo/cómoda papel/papeles nave/naves",
    "nb": "dør/dører dør/døren båt/båter båt/båten skip/skipet skip/skipene hus/huset hus/husene "
    "bord/bordet hytte/hytter hytte/hytta vegg/vegger lys/lyset stol/stoler plass/plassen "
    "pris/prisene pris/prisen del/deler grønn/grønne stor/store bred/brede fast/faste seng/senger",
}
OWN = {
    "en": "battery/batteries cleat/cleats locker/lockers",
    "de": "luke/luken boot/boote kabine/kabinen klappe/klappen deckel/deckeln boden/böden",
    "fr": "panneau/panneaux feu/feux coffre/coffres cabine/cabines",
    "es": "luz/luces cabina/cabinas escotilla/escotillas",
    "nb": "luke/luker sete/seter rom/rommet farge/fargen vindu/vinduer kabin/kabiner",
}
# What is asked for, in the text beside it: compounds, capitals, letters that a keyboard lacks.
FOUND = [
    ("en", "DOORS", "A transom door, hinged"),
    ("en", "rails cockpit", "Rail round the cockpit"),
    ("en-GB", "colours", "Hull colour deep blue"),
    ("de", "Türen", "Seitentür, einfach"),
    ("de", "tueren", "Kajüttür"),
    ("de", "Luken", "Lukendeckel"),
    ("de", "weiss", "Innen weiß"),
    ("fr", "l\N{RIGHT SINGLE QUOTATION MARK}échelle", "Échelles de bain"),
    ("fr", "portes latérales", "Porte latérale"),
    ("es", "PUERTAS", "Una puerta de popa"),
    ("nb", "dørene", "Sidedør med trinn"),
    ("nb", "doer", "Sidedør med trinn"),
    ("fi", "ovi", "Ovi"),  # a language without endings of its own here
]
LOST = [
    ("en", "doors", "A deck hatch"),
    ("en", "doors hatches", "A deck hatch"),
    ("de", "Türen", "Ein Fenster"),
    ("fr", "portes", "Un panneau de pont"),
    ("es", "luces", "Una puerta"),
    ("nb", "dører", "En luke"),
]


def finds(asked: Iterable[tuple[str, str, str]]) -> list[bool]:
    """Whether each text, in its language, is found by what is asked for."""
    code = (
        "globalThis.window = {};" + asset("public/forms.js").decode() + "\n"
        "const all = JSON.parse(require('fs').readFileSync(0, 'utf8'));"
        "console.log(JSON.stringify(all.map(([tag, words, text]) => {"
        "const forms = window.forms(tag); return forms.fits(forms.read(text), forms.asked(words));"
        "})))"
    )
    run = subprocess.run(
        ["node", "-e", code],
        input=json.dumps([*asked]),
        capture_output=True,
        text=True,
        check=True,
    )
    found: list[bool] = json.loads(run.stdout)
    return found


@pytest.mark.parametrize("language", PAIRS)
def test_each_form_of_a_word_finds_the_other(language: str) -> None:
    pairs = [pair.split("/") for pair in f"{PAIRS[language]} {OWN[language]}".split()]
    asked = [(language, one, other) for pair in pairs for one, other in (pair, pair[::-1])]
    assert len(asked) > 50
    assert [each for each, found in zip(asked, finds(asked), strict=True) if not found] == []


def test_words_are_found_in_longer_ones_and_however_they_are_typed() -> None:
    assert [each for each, found in zip(FOUND, finds(FOUND), strict=True) if not found] == []


def test_other_words_are_not_found() -> None:
    assert [each for each, found in zip(LOST, finds(LOST), strict=True) if found] == []
