"""The offers of a price sheet in the words of schema.org, as JSON-LD: offers.jsonld, and a boat's.

An id leads to the place of the price sheet that tells of the thing. Rules between options have no
words there; prices.json has them.
"""

from __future__ import annotations

from dataclasses import dataclass

from babel import Locale
from markupsafe import Markup

from quoter.pages.public.data import OPENING, Data, caution, data_file, data_text, most_of
from quoter.pages.public.views import (
    GroupView,
    ModelView,
    OptionView,
    PackageView,
    PictureView,
    SheetView,
    StandardView,
)
from quoter.pricing.public import PublicMeasure, PublicPrice
from quoter.wording import wording

CONTEXT = "https://schema.org"
# Common codes of units, UN/CEFACT Recommendation 20: kilogram, metre, one.
KILOGRAM, METRE, ONE = "KGM", "MTR", "C62"
# What a price sheet offers is built when it is ordered; it says nothing of what stands in the yard.
AVAILABILITY = f"{CONTEXT}/MadeToOrder"


def offers_json_ld(sheet: SheetView) -> bytes:
    """The file offers.jsonld of a price sheet: every boat, and what can be added to it."""
    offered = _Offered(sheet, _root(sheet, ""))
    record: Data = {
        "@context": CONTEXT,
        "@type": "DataFeed",
        "name": f"{sheet.company.name} {sheet.version}",
        "inLanguage": sheet.head.tag,
        "version": sheet.version,
        "temporalCoverage": f"{sheet.valid_from.isoformat()}/{sheet.valid_until.isoformat()}",
        "publisher": offered.yard(),
        "dataFeedElement": [offered.boat(model) for model in sheet.models],
    }
    return data_file(record)


def boat_json_ld(sheet: SheetView, model: ModelView) -> Markup:
    """One boat of them for its own page, to stand in a script element of the type for JSON-LD.

    Such an element ends at the first `</script`, whatever stands around it (HTML Standard,
    "Restrictions for contents of script elements"), so no `<` is left in it.
    """
    offered = _Offered(sheet, _root(sheet, "../"))
    record: Data = {"@context": CONTEXT} | offered.boat(model)
    offer = record["offers"]
    if isinstance(offer, dict):
        offer["seller"] = offered.yard()
    return Markup(data_text(record).replace("<", "\\u003c"))


def _root(sheet: SheetView, relative: str) -> str:
    """What leads to the sheet's folder: its address where that is known."""
    return f"{sheet.address}{sheet.head.folder}/" if sheet.address else relative


@dataclass(frozen=True, slots=True)
class _Offered:
    """The things of a price sheet as schema.org describes them; `root` leads to its folder."""

    sheet: SheetView
    root: str

    def yard(self) -> Data:
        """Who sells."""
        company = self.sheet.company
        found: Data = {"@type": "Organization"} | self._yard_id() | {"name": company.name}
        if company.address:
            found["address"] = company.address
        if company.email_link:
            found["email"] = company.email
        if company.phone:
            found["telephone"] = company.phone
        if company.website_link:
            found["url"] = company.website_link
        return found

    def boat(self, model: ModelView) -> Data:
        """A boat, its price and what can be added.

        Its length is no `depth`, which is another measure of a boat (ISO 8666, from memory).
        """
        say = wording(Locale.parse(self.sheet.head.tag, sep="-"))
        length = {"@type": "PropertyValue", "propertyID": "length", "name": say("Length")}
        return {
            "@type": "Product",
            "@id": self._at(model, "boat"),
            "url": self._page(model),
            "productID": model.id,
            "name": model.name,
            "description": model.text,
            "brand": {"@type": "Brand", "name": self.sheet.yard},
            **self._image(model.picture),
            "weight": _quantity(model.mass, KILOGRAM),
            "width": _quantity(model.beam, METRE),
            "additionalProperty": length | {"value": model.length, "unitCode": METRE},
            "offers": self._boat_offer(model),
        }

    def _boat_offer(self, model: ModelView) -> Data:
        offer = self._offer(*self._boat_price(model))
        if model.standard:
            offer["includesObject"] = [self._standard(model, item) for item in model.standard]
        if any(item.kind == OPENING for item in model.standard):
            offer["description"] = caution(self.sheet)
        added = [
            self._option(model, group, option) for group in model.groups for option in group.options
        ]
        added += [self._package(model, package) for package in model.packages]
        return offer | ({"addOn": added} if added else {})

    def _boat_price(self, model: ModelView) -> tuple[PublicPrice, object]:
        """What the page tells as the price of a boat, and what it is made of."""
        boat, delivery = self._asked(model.price), self.sheet.delivery
        if delivery is None:
            return model.price, boat
        apart = self._asked(delivery.price, "DeliveryChargeSpecification", delivery.words)
        if not self.sheet.taxed:
            return model.price, [boat, apart]
        together = model.price + delivery.price  # a buyer sees what is paid in the end
        parts = [boat | {"name": model.name}, apart]
        whole = self._asked(together, "CompoundPriceSpecification")
        return together, whole | {"priceComponent": parts}

    def _standard(self, model: ModelView, item: StandardView) -> Data:
        thing: Data = {
            "@type": "Product",
            "@id": self._at(model, f"option-{item.id}"),
            "productID": item.id,
            "name": item.name,
            "description": item.text,
            **self._image(item.picture),
        }
        return _one_of(thing)

    def _option(self, model: ModelView, group: GroupView, option: OptionView) -> Data:
        thing = self._extra(model, "option", option) | {"category": group.name}
        thing |= self._image(option.picture)
        offer = self._offer(option.price, self._asked(option.price)) | {"itemOffered": thing}
        if option.kind == OPENING:
            offer["description"] = caution(self.sheet)
        if most_of(option) > 1:
            most = {"@type": "QuantitativeValue", "maxValue": most_of(option), "unitCode": ONE}
            offer["eligibleQuantity"] = most
        return offer

    def _package(self, model: ModelView, package: PackageView) -> Data:
        thing = self._extra(model, "package", package)
        offer = self._offer(package.price, self._asked(package.price)) | {"itemOffered": thing}
        held = (self._at(model, f"option-{option.id}") for option in package.options)
        return offer | {"includesObject": [_one_of({"@id": id}) for id in held]}

    def _extra(self, model: ModelView, where: str, item: OptionView | PackageView) -> Data:
        thing: Data = {
            "@type": "Product",
            "@id": self._at(model, f"{where}-{item.id}"),
            "productID": item.id,
            "name": item.name,
            "description": item.text,
            "isAccessoryOrSparePartFor": {"@id": self._at(model, "boat")},
        }
        if item.mass.amount > 0:  # what takes some off weighs nothing by itself
            thing["weight"] = _quantity(item.mass, KILOGRAM)
        return thing

    def _offer(self, price: PublicPrice, asked: object) -> Data:
        return {
            "@type": "Offer",
            "price": price,
            "priceCurrency": self.sheet.currency,
            "validFrom": self.sheet.valid_from.isoformat(),
            "priceValidUntil": self.sheet.valid_until.isoformat(),
            "availability": AVAILABILITY,
            "seller": self._yard_id(),
            "priceSpecification": asked,
        }

    def _asked(
        self, price: PublicPrice, kind: str = "UnitPriceSpecification", name: str | None = None
    ) -> Data:
        named = {} if name is None else {"name": name}
        return {
            "@type": kind,
            **named,
            "price": price,
            "priceCurrency": self.sheet.currency,
            "valueAddedTaxIncluded": self.sheet.taxed,
        }

    def _image(self, picture: PictureView | None) -> Data:
        return {} if picture is None else {"image": f"{self.root}{picture.large.file}"}

    def _yard_id(self) -> Data:
        return {"@id": f"{self.root}index.html#yard"}

    def _page(self, model: ModelView) -> str:
        return f"{self.root}models/{model.id}.html"

    def _at(self, model: ModelView, place: str) -> str:
        return f"{self._page(model)}#{place}"


def _quantity(value: PublicMeasure, unit: str) -> Data:
    return {"@type": "QuantitativeValue", "value": value, "unitCode": unit}


def _one_of(thing: Data) -> Data:
    return {"@type": "TypeAndQuantityNode", "amountOfThisGood": 1, "typeOfGood": thing}
