"""Variances against published worked examples; unfavourable is positive."""

from __future__ import annotations

from typing import Any

from quoter.engineering.variances import (
    absorption_variance,
    budget_variance,
    mix_variance,
    mix_yield_variance,
    price_variance,
    quantity_variance,
)
from quoter.figures import total
from tests.checks import table
from tests.checks.table import Check

BOOK = "OpenStax, Principles of Accounting vol. 2"
MATERIAL = f"{BOOK}, 8.2: 8 oz at 0.85, 11,000 made, 89,000 oz for 74,760"
LABOUR = f"{BOOK}, 8.3: 1.5 h at 35, 11,000 made, 16,000 h for 565,600"
SLIP = f"{LABOUR}; 11,900 F is 5,600 U and 17,500 F, the book's figure prints U for it: a slip"
VARIABLE = f"{BOOK}, 8.4: 2,500 h and 7,000 spent, 2,000 h at 2.00 should have been"
UNROUNDED = f"{BOOK}, 8.4: 1,800 h and 3,500 spent; -108 there after rounding 1.944 to 1.94"
APPLIED = f"{BOOK}, 4.6: 209,250 spent, 6,240 h at 33.50"
MIXED = (
    "P. Dunn, Direct material mix and yield variance explained, PQ Magazine, Nov. 2020: 60/30/10 %"
    " at 75, 60 and 40 a tonne, 100 t made of 65, 28 and 11 t; amounts by hand"
)
MIX_OF_THREE = (
    "accountingexplained.com, direct material yield variance: 1:2:2, 21,510 g in all, standards"
    " 4,310, 8,620, 8,620 g at 0.04, 0.03, 0.02; by hand"
)
PLANNED_5000 = (
    "worked answer of a homework page, recomputed: budget 50,000 for 5,000 units, 57,000 spent,"
    " 6,000 made"
)
PLANNED_25000 = (
    "worked answer of a homework page, recomputed: budget 100,000 for 25,000 units, 102,000 spent,"
    " 24,000 made"
)
EXAMINED = (
    "certified management accountants' examination question, at gaodun.com q/a06io0: budget 600,000"
    " for 200,000 units, 190,000 made"
)

PRICES = (
    Check(
        (price_variance, "0.84 USD/oz", "0.85 USD/oz", "89000 oz"),
        "-890 USD",
        MATERIAL,
        "published",
        exact=True,
    ),
    Check(
        (price_variance, "35.35 USD/h", "35 USD/h", "16000 h"),
        "5600 USD",
        LABOUR,
        "published",
        exact=True,
    ),
)
QUANTITIES = (
    Check(
        (quantity_variance, "89000 oz", "88000 oz", "0.85 USD/oz"),
        "850 USD",
        MATERIAL,
        "published",
        exact=True,
    ),
    Check(
        (quantity_variance, "16000 h", "16500 h", "35 USD/h"),
        "-17500 USD",
        LABOUR,
        "published",
        exact=True,
    ),
    Check(
        (
            total,
            [
                (price_variance, "35.35 USD/h", "35 USD/h", "16000 h"),
                (quantity_variance, "16000 h", "16500 h", "35 USD/h"),
            ],
            "0 USD",
        ),
        "-11900 USD",
        SLIP,
        "published",
        exact=True,
    ),
    Check(
        (quantity_variance, "2500 h", "2000 h", "2 USD/h"),
        "1000 USD",
        VARIABLE,
        "published",
        exact=True,
    ),
    Check(
        (quantity_variance, "1800 h", "2000 h", "2 USD/h"),
        "-400 USD",
        UNROUNDED,
        "published",
        exact=True,
    ),
)
Mixed = tuple[str, str, str, str]  # share, actual quantity, standard quantity, price


def of_mix(mixed: list[Mixed], all_of_it: str) -> list[tuple[Any, ...]]:
    """The mix variance of each material of a mix: its share, actual quantity and price."""
    return [(mix_variance, actual, all_of_it, share, price) for share, actual, _, price in mixed]


def of_yield(mixed: list[Mixed], all_of_it: str) -> list[tuple[Any, ...]]:
    """The yield variance of each: its share, standard quantity and price."""
    return [
        (mix_yield_variance, all_of_it, share, standard, price)
        for share, _, standard, price in mixed
    ]


FEED = [
    ("60 %", "65 t", "60 t", "75 GBP/t"),
    ("30 %", "28 t", "30 t", "60 GBP/t"),
    ("10 %", "11 t", "10 t", "40 GBP/t"),
]
THREE = [
    ("20 %", "4670 g", "4310 g", "0.04 USD/g"),
    ("40 %", "8450 g", "8620 g", "0.03 USD/g"),
    ("40 %", "8390 g", "8620 g", "0.02 USD/g"),
]
MIXES = (
    Check(of_mix(FEED, "104 t")[0], "195 GBP", MIXED, "derived", exact=True),
    Check(of_mix(FEED, "104 t")[1], "-192 GBP", MIXED, "derived", exact=True),
    Check((total, of_mix(FEED, "104 t"), "0 GBP"), "27 GBP", MIXED, "derived", exact=True),
    Check((total, of_yield(FEED, "104 t"), "0 GBP"), "268 GBP", MIXED, "derived", exact=True),
    Check((total, of_yield(THREE, "21510 g"), "0 USD"), "-1.12 USD", MIX_OF_THREE, "derived"),
)
FIXED = (
    Check((budget_variance, "57000 USD", "50000 USD"), "7000 USD", PLANNED_5000, "derived", True),
    Check(
        (absorption_variance, "50000 USD", "10 USD/each", "6000 pcs"),
        "-10000 USD",
        PLANNED_5000,
        "derived",
        exact=True,
    ),
    Check(
        (budget_variance, "102000 USD", "100000 USD"), "2000 USD", PLANNED_25000, "derived", True
    ),
    Check(
        (absorption_variance, "100000 USD", "4 USD/each", "24000 pcs"),
        "4000 USD",
        PLANNED_25000,
        "derived",
        exact=True,
    ),
    Check(
        (absorption_variance, "600000 USD", "3 USD/each", "190000 pcs"),
        "30000 USD",
        EXAMINED,
        "published",
        exact=True,
    ),
)
ABSORBED = (
    Check(
        (absorption_variance, "7000 USD", "2 USD/h", "2500 h"),
        "2000 USD",
        VARIABLE,
        "published",
        exact=True,
    ),
    Check(
        (absorption_variance, "3500 USD", "2 USD/h", "1800 h"),
        "-100 USD",
        UNROUNDED,
        "derived",
        exact=True,
    ),
    Check(
        (absorption_variance, "209250 USD", "33.50 USD/h", "6240 h"),
        "210 USD",
        APPLIED,
        "published",
        exact=True,
    ),
)
CHECKS = PRICES + QUANTITIES + MIXES + FIXED + ABSORBED


@table.each(CHECKS)
def test_variances(check: Check) -> None:
    table.verify(check)
