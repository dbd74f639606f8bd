"""The letter beside a quote: what it says in each language, and nothing that only the yard sees."""

from __future__ import annotations

from datetime import date

import pytest

from quoter.leaks import LeakError
from quoter.quotes.kept.archive import CUSTOMERS
from quoter.quotes.kept.party import LeadTime
from quoter.quotes.printed.files import reprinted
from quoter.quotes.printed.guard import look_through_quote
from quoter.quotes.printed.mail import WIDTH, mail
from quoter.quotes.printed.shown import shown_of
from tests.quotes.hidden import found_in, with_another_inside
from tests.quotes.samples import SAMPLES

SHORT = """\
Subject: Quote 2026-0007, Tern Cutter 82

Dear Mirelle Astrup,

Thank you for your interest in the Tern Cutter 82. Here is our quote
2026-0007.

Attached are:
- quote.html: the quote as a page for any browser
- quote.xlsx: the same as a workbook

Your reference: ENQ 118 / b
Total to pay: €95,435.00
First payment: €28,630.50 (With the order)
Valid until: 31 October 2026
Terms of delivery: EXW Sundby, Incoterms 2020
Delivery: Promised for 1 March 2027

To order, sign the quote where it says so and send it back to us by 31
October 2026; we then confirm the order.

If you have any questions, write or call: we are glad to help.

Kind regards

Ilsabet Harrow
Tern Quay Boats
1 Tern Quay
Sundby
+00 555 0177
office@ternquay.example.com
https://ternquay.example.com
"""


def test_it_says_what_is_attached_what_it_comes_to_and_what_comes_next() -> None:
    of = SAMPLES["short"](reference="ENQ 118 / b", promised=date(2027, 3, 1))
    assert mail(shown_of(of), ("quote.html", "quote.xlsx")).decode() == SHORT


@pytest.mark.parametrize(
    ("language", "first", "total", "ready"),
    [
        ("de", "Betreff: Angebot 2026-0007", "95.435,00\xa0€", "Etwa 7 Wochen nach der Bestellung"),
        (
            "fr",
            "Objet\N{NO-BREAK SPACE}: Devis 2026-0007",
            "95\u202f435,00\xa0€",
            "Environ 7 semaines après la",
        ),
        ("nb", "Emne: Tilbud 2026-0007", "95\xa0435,00\xa0€", "Omtrent 7 uker etter bestilling"),
        ("es", "Asunto: Presupuesto 2026-0007", "95.435,00\xa0€", "Aproximadamente 7 semanas"),
    ],
)
def test_it_speaks_the_customers_language(
    language: str, first: str, total: str, ready: str
) -> None:
    of = SAMPLES["short"](language=language, lead_time=LeadTime(weeks=7))
    told = mail(shown_of(of), CUSTOMERS).decode()
    assert told.startswith(f"{first}, Tern Cutter 82\n")
    assert total in told
    assert ready in told.replace("\xa0", " ")


@pytest.mark.parametrize("language", ["en", "en-US", "de", "fr", "nb", "es"])
@pytest.mark.parametrize("size", SAMPLES)
def test_its_lines_are_short_and_hold_no_blank_at_their_end(size: str, language: str) -> None:
    told = mail(shown_of(SAMPLES[size](language=language)), CUSTOMERS).decode()
    subject, *lines = told.splitlines()
    assert [row for row in lines if len(row) > WIDTH or row != row.rstrip()] == []
    assert subject == subject.strip()


def test_a_revision_says_whose_place_it_takes() -> None:
    told = mail(shown_of(SAMPLES["long"]()), CUSTOMERS).decode().replace("\n", " ")
    assert "It takes the place of quote 2026-0007-R1." in told


@pytest.mark.parametrize("size", SAMPLES)
def test_nothing_internal_is_in_it_and_it_follows_from_what_is_shown(size: str) -> None:
    of = SAMPLES[size]()
    told = mail(shown_of(of), CUSTOMERS)
    assert found_in(told.decode(), of) == []
    assert mail(shown_of(with_another_inside(of)), CUSTOMERS) == told


@pytest.mark.parametrize("plant", ["31,313.00", "Undercover dealer class", "0.1777"])
def test_what_is_planted_in_it_is_found(plant: str) -> None:
    of = SAMPLES["short"]()
    files = reprinted(of)
    files["mail.txt"] += f"It costs {plant}.\n".encode()
    with pytest.raises(LeakError) as caught:
        look_through_quote(files, of)
    assert "mail.txt:" in str(caught.value)
