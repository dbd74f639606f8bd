"""A customer's data and letter, read element by element: what each says must be accounted for.

The elements of the data, their order, their attributes and the blanks between them are those that
the program writes for the quote, and nothing else. What stands in them is a text of the quote, an
amount of it, a count, a share, a day, or a code of the lists that the program knows.
"""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal, InvalidOperation

from lxml import etree

from quoter.catalogue.quoting import TAX_CATEGORIES
from quoter.leaks.allowed import MONEY, SHARE, Allowed
from quoter.leaks.reduction import Rest
from quoter.quotes.printed.quotation import (
    DELIVERY,
    OFFER,
    OTHER_TAX,
    TRANSFER,
    VAT,
    Sums,
    plain,
    quotation,
)
from quoter.quotes.printed.shown import Shown

_CODES = {
    "UBLVersionID": ("2.3",),
    "DocumentTypeCode": (OFFER,),
    "PaymentMeansCode": (TRANSFER,),
    "ChargeIndicator": ("true", "false"),
    "AllowanceChargeReasonCode": (DELIVERY,),
    "TaxCategory/ID": TAX_CATEGORIES,
    "ClassifiedTaxCategory/ID": TAX_CATEGORIES,
    "TaxScheme/ID": (VAT, OTHER_TAX),
}
_COUNTS = ("LineCountNumeric", "Quantity", "BaseQuantity", "DurationMeasure")
_NUMBERED = ("QuotationLine/ID", "LineItem/ID")


def allowed_data(quote: Shown, sums: Sums, allowed: Allowed) -> None:
    """Account for what the data join or part of a quote's texts."""
    allowed.add_texts(*(bank.iban.replace(" ", "") for bank in quote.yard.banks))
    lines = [line for section in quote.sections for line in section.lines]
    allowed.add_texts(*(" · ".join((line.name, *line.inside)) for line in lines))
    allowed.add_texts(*(plain(Decimal(line.quantity)) for line in lines))
    allowed.counts.update(range(len(sums.lines) + 1))


def data_rests(content: bytes, quote: Shown, allowed: Allowed) -> Iterator[Rest]:
    """What of a quotation nobody accounts for.

    Args:
        content: the file
        quote: as its customer sees it, which says what elements there are
        allowed: what its customer may see
    """
    parser = etree.XMLParser(resolve_entities=False, no_network=True)
    try:
        root = etree.fromstring(content, parser)
    except etree.XMLSyntaxError as fault:
        yield Rest(f"no XML: {fault.msg}", 0)
        return
    if b"<!" in content or root.getprevious() is not None or root.getnext() is not None:
        yield Rest("something that is no element of a quotation", 0)
    written = etree.fromstring(quotation(quote), parser)
    ours = list(written.iter())
    theirs = list(root.iter())
    for place, element in enumerate(theirs):
        if not isinstance(element.tag, str):
            yield Rest(str(element.text), 0)
            continue
        own = ours[place] if place < len(ours) else None
        if own is None or _frame(own) != _frame(element):
            yield Rest(f"<{_path(element)}> {element.text or ''}".strip(), 0)
        yield from _value(element, allowed)
    if len(theirs) < len(ours):
        yield Rest(f"no <{_path(ours[len(theirs)])}>", 0)
    elif etree.tostring(root, encoding="UTF-8", xml_declaration=True) + b"\n" != content:
        yield Rest("not laid out as the program does it", 0)


def _frame(element: etree._Element) -> tuple[object, ...]:
    """All of an element but the value it holds."""
    blank = element.text if len(element) else None
    attributes = sorted((str(key), str(value)) for key, value in element.attrib.items())
    return (element.tag, attributes, sorted(map(str, element.nsmap.items())), element.tail, blank)


def _value(element: etree._Element, allowed: Allowed) -> Iterator[Rest]:
    text, path = element.text or "", _path(element)
    if len(element) or not text:
        return
    name = path.rpartition("/")[2]
    codes = _CODES.get(path) or _CODES.get(name)
    if codes is not None:
        known = text in codes
    elif name.endswith("Amount"):
        known = _holds(text, MONEY, allowed)
    elif name == "Percent":
        known = _holds(text, SHARE, allowed)
    elif name in _COUNTS or path in _NUMBERED:
        known = text in allowed.texts or (text.isdecimal() and int(text) in allowed.counts)
    else:
        yield from allowed.rests(text)
        return
    if not known:
        yield Rest(text, 0)


def _holds(text: str, kind: str, allowed: Allowed) -> bool:
    try:
        value = Decimal(text)
    except InvalidOperation:
        return False
    return not value or (value.is_finite() and allowed.holds(value, kind))


def _path(element: etree._Element) -> str:
    """An element's name after that of what it is in."""
    names = [etree.QName(element).localname]
    if (above := element.getparent()) is not None:
        names.insert(0, etree.QName(above).localname)
    return "/".join(names)
