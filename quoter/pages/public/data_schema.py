"""What the keys of prices.json mean: a JSON Schema, the same for every market and language.

The keys stand in the order of the file.
"""

from __future__ import annotations

import json
from typing import Any

from quoter.catalogue.options import Option
from quoter.formats import PRICES

Schema = dict[str, Any]

DIALECT = "https://json-schema.org/draft/2020-12/schema"
TITLE = "Prices of boats and their options"
WORDS = (
    "One market's price sheet in one language. Texts are in that language; keys, ids and kinds are "
    "the same in all of them. Amounts of money are texts with a decimal point, so that no reader "
    "makes binary fractions of them."
)
# The kinds of options, as the catalogue has them.
KINDS = Option.model_json_schema()["properties"]["kind"]["enum"]


def schema_file() -> bytes:
    """The file prices.schema.json, which is the same for every sheet."""
    schema = {"$schema": DIALECT, "title": TITLE} | _whole() | {"$defs": _definitions()}
    return (json.dumps(schema, indent=1, ensure_ascii=False) + "\n").encode()


def _whole() -> Schema:
    keys = {
        "$schema": text_of("Where this description of the keys stands."),
        "format": {
            "const": PRICES.newest,
            "description": "Format of the file: within one, a key never changes its meaning.",
        },
        "company": _company(),
        "builder": text_of("Name of the yard that builds the boats, where a dealer sells them."),
        "market": object_of(
            "Where and to whom these prices are offered.",
            {"id": _id("Id of the market."), "name": text_of("What the market is called.")},
        ),
        "language": text_of(
            "Language of the texts, as a tag of BCP 47.",
            pattern="^[a-z]{2,3}(-[A-Za-z0-9]{2,8})*$",
        ),
        "edition": _edition(),
        "currency": text_of("Currency of all amounts, by its three letters.", pattern="^[A-Z]{3}$"),
        "tax": _tax(),
        "delivery": object_of(
            "What is charged for delivery with every boat, on top of its price; left out where "
            "nothing is.",
            {
                "text": text_of("The term of delivery and its place."),
                "price": _amount("Price of the delivery of one boat."),
            },
        ),
        "terms": _texts("What holds for all prices, in whole sentences."),
        "units": object_of(
            "Units of all lengths and masses.",
            {
                "length": {"const": "m", "description": "Metres."},
                "mass": {"const": "kg", "description": "Kilograms."},
            },
        ),
        "models": _list("The boats, in the order of the price sheet.", _ref("model")),
    }
    return object_of(WORDS, keys, optional=("builder", "delivery"))


def _company() -> Schema:
    return object_of(
        "Who publishes the prices, and builds the boats where `builder` is left out.",
        {
            "name": text_of("Name of the company."),
            "address": text_of("Where it is; empty where nothing was said."),
            "email": text_of("Its address for mail; empty where nothing was said."),
            "phone": text_of("Its telephone number; empty where nothing was said."),
            "website": text_of(
                "Its site, an address with http or https; empty where none was said.",
                pattern="^(https?://.+)?$",
            ),
        },
    )


def _edition() -> Schema:
    return object_of(
        "Which price sheet this is and when it holds.",
        {
            "version": text_of("Version of the price sheet."),
            "model_year": text_of("Model year of the boats."),
            "valid_from": _day("First day on which the prices hold."),
            "valid_until": _day("Last day on which the prices hold."),
        },
    )


def _tax() -> Schema:
    return object_of(
        "The tax of the market.",
        {
            "name": text_of("What the tax is called."),
            "rate": _amount(
                "Its rate as a fraction of the price without tax, on all but options with a tax of "
                "their own."
            ),
            "included": {
                "type": "boolean",
                "description": "Whether all amounts include the tax; if not, none does.",
            },
        },
    )


def _definitions() -> Schema:
    return {
        "model": _model(),
        "standard": object_of(
            "Equipment that the price of the boat includes.", _what() | _in_detail()
        ),
        "group": object_of(
            "Options that belong together.",
            {
                "name": text_of("What the group is called."),
                "options": _list("Its options, in the order of the price sheet.", _ref("option")),
            },
        ),
        "option": _option(),
        "package": _package(),
        "amount": {"type": "string", "pattern": "^-?[0-9]+([.][0-9]+)?$"},
        "id": {"type": "string", "pattern": "^[a-z][a-z0-9_]*$"},
    }


def _model() -> Schema:
    keys = {
        "id": _id("Id of the model; it stays the same from edition to edition."),
        "name": text_of("What the model is called."),
        "text": text_of("What it is, in a sentence or two."),
        "length": _measure("Length of the boat [m].", above=True),
        "beam": _measure("Beam of the boat [m].", above=True),
        "mass": _measure("Mass of the boat with its standard equipment [kg].", above=True),
        "price": _amount("Price with standard equipment, without delivery."),
        "caution": text_of(
            "What must be shown with the prices of openings cut in a hull; left out where the "
            "model has none."
        ),
        "standard": _list("What its price includes.", _ref("standard")),
        "groups": _list("What can be added, by group.", _ref("group")),
        "packages": _list("What can be added together for less.", _ref("package")),
    }
    return object_of("A boat, and what can be had with it.", keys, optional=("caution",))


def _what() -> Schema:
    return {
        "id": _id("Id of the option, the same on every model."),
        "name": text_of("What the option is called."),
        "kind": {"enum": KINDS, "description": "What kind of thing the option is."},
        "text": text_of("What it is, in a sentence or two."),
    }


def _in_detail() -> Schema:
    return {
        "includes": _texts("What comes with it."),
        "excludes": _texts("What one might expect with it and must buy apart."),
    }


def _option() -> Schema:
    keys = (
        _what()
        | {
            "price": _amount("Price on this model; below zero where it takes something off."),
            "mass": _measure("Mass that it adds [kg]; below zero where it takes some off."),
            "lead_time": text_of("Its lead time, in words."),
        }
        | _in_detail()
        | {
            "needs": _ids("Options that must be on the boat with it."),
            "not_with": _ids("Options that can't be on the boat with it."),
            "instead_of": _ids("Standard options of this model whose place it takes."),
            "most": {
                "type": "integer",
                "minimum": 1,
                "description": "How many of it a boat can have at most.",
            },
            "tax": object_of(
                "Its own tax in place of the usual one; left out where it has none.",
                {
                    "name": text_of("What the tax is called."),
                    "rate": _amount("Its rate as a fraction of the price without tax."),
                },
            ),
            "surcharges": _list(
                "What is charged on top of both prices where it is on one boat with a hull colour; "
                "left out where nothing is.",
                object_of(
                    "A surcharge.",
                    {
                        "with": _id("Id of the option that brings the colour."),
                        "price": _amount("Price for each of the option on the boat."),
                    },
                ),
            ),
            "minimum_length": _measure(
                "Length of boat from which on it is offered [m]; left out where there is none.",
                above=True,
            ),
            "new": _new(),
        }
    )
    return object_of(
        "An option on this model.", keys, optional=("tax", "surcharges", "minimum_length")
    )


def _package() -> Schema:
    return object_of(
        "Options sold together. It counts as its options wherever these have rules.",
        {
            "id": _id("Id of the package, the same on every model."),
            "name": text_of("What the package is called."),
            "text": text_of("What it is, in a sentence or two."),
            "price": _amount("Price on this model."),
            "saving": _amount("What that saves against the options' own prices."),
            "mass": _measure("Mass that it adds [kg]."),
            "options": _ids("Options that it holds, one of each."),
            "new": _new(),
        },
    )


def object_of(words: str, keys: Schema, optional: tuple[str, ...] = ()) -> Schema:
    """A block that has these keys and no others."""
    return {
        "description": words,
        "type": "object",
        "properties": keys,
        "required": [key for key in keys if key not in optional],
        "additionalProperties": False,
    }


def _list(words: str, items: Schema) -> Schema:
    return {"description": words, "type": "array", "items": items}


def _texts(words: str) -> Schema:
    return _list(words, {"type": "string"})


def _ids(words: str) -> Schema:
    return _list(words, _ref("id"))


def _ref(name: str) -> Schema:
    return {"$ref": f"#/$defs/{name}"}


def _id(words: str) -> Schema:
    return {"description": words} | _ref("id")


def _amount(words: str) -> Schema:
    return {"description": words} | _ref("amount")


def text_of(words: str, pattern: str | None = None) -> Schema:
    """A text, of a pattern or any."""
    found = {"description": words, "type": "string"}
    return found if pattern is None else found | {"pattern": pattern}


def _day(words: str) -> Schema:
    return {"description": words, "type": "string", "format": "date"}


def _measure(words: str, above: bool = False) -> Schema:
    """A length or mass, above zero or any."""
    found: Schema = {"description": words, "type": "number"}
    return found | {"exclusiveMinimum": 0} if above else found


def _new() -> Schema:
    return {
        "type": "boolean",
        "description": "Whether this edition is the first to offer it.",
    }
