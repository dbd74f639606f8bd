"""Small sound quotes for tests of where quotes are kept. Everything in them is invented."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import date, timedelta
from decimal import Decimal
from pathlib import Path

from quoter.formats import RECORD_FILE
from quoter.quotes.kept.archive import FILES, read_record
from quoter.quotes.kept.inside import Inside, InsideLine
from quoter.quotes.kept.numbering import named
from quoter.quotes.kept.party import Party
from quoter.quotes.kept.record import Delivery, QuoteLine, Record, Scheme, Source
from quoter.quotes.kept.record_file import to_json
from quoter.quotes.kept.store import issue, revise

ISSUED = date(2026, 11, 10)
BOAT = InsideLine(
    id="",
    name="Punt",
    quantity=1,
    list_price=Decimal(9000),
    net=Decimal(8000),
    cost=Decimal(6000),
    variable=Decimal(5000),
)


def item(id: str, net: int, cost: int, quantity: int = 1) -> InsideLine:
    """An option at what one of it leaves and costs, in home currency."""
    return InsideLine(
        id=id,
        name=id.title(),
        quantity=quantity,
        list_price=Decimal(net),
        net=Decimal(net),
        cost=Decimal(cost),
        variable=Decimal(cost),
    )


def inside_of(lines: Sequence[InsideLine], provisions: Decimal, home: str) -> Inside:
    net = sum((line.net * line.quantity for line in lines), Decimal(0))
    cost = sum((line.cost * line.quantity for line in lines), Decimal(0))
    margin = net * (1 - provisions) - cost
    return Inside(
        buyer="dealer",
        buyer_name="Dealer",
        class_discount=Decimal(0),
        extra_discount=Decimal(0),
        home=home,
        lines=tuple(lines),
        net=net,
        cost=cost,
        variable=cost,
        contribution=margin,
        margin=margin,
        margin_fraction=margin / net if net else Decimal(0),
        floor=Decimal("0.1"),
        below_floor=False,
    )


def made(
    number: str = "2026-0001",
    revision: int = 0,
    issued: date = ISSUED,
    *,
    valid_until: date | None = None,
    net: int = 8000,
    currency: str = "EUR",
    home: str = "EUR",
    options: Sequence[InsideLine] = (),
    provisions: str = "0.05",
    prepared_by: str = "Ilsabet Harrow",
    request: dict[str, object] | None = None,
    changes_order: str = "",
) -> Record:
    """A record of a boat with options: `net` is its price in `currency`, the rest is inside."""
    price = Decimal(net)
    return Record(
        number=number,
        revision=revision,
        changes_order=changes_order,
        issued=issued,
        valid_until=valid_until or issued + timedelta(days=30),
        language="en",
        market="home",
        model="punt",
        currency=currency,
        yard=Party(name="Tern Quay Boats"),
        customer=Party(name="Mirelle Astrup"),
        prepared_by=prepared_by,
        title="Punt",
        lines=(QuoteLine(kind="boat", id="", name="Punt", price=price, amount=price),),
        with_tax=False,
        net=price,
        taxes=(),
        scheme=Scheme(id="export"),
        total=price,
        delivery=Delivery(term="EXW", place="Sundby", edition="Incoterms 2020"),
        source=Source(
            mark="f00d",
            as_of=issued,
            price_list=date(2026, 11, 1),
            edition="2026-3",
            model_year="2027",
            version="0.0.0-sample",
        ),
        request=request or {"date": str(issued), "note": f"asked for as {number}"},
        inside=inside_of((BOAT, *options), Decimal(provisions), home),
    )


def files(record: Record) -> dict[str, bytes]:
    """The files of a quote; each tells its name, and none fits in one small write."""
    text = f"{record.name} by {record.prepared_by}\n".encode() * 500
    beside = {name: text for name in FILES if name != RECORD_FILE}
    return {name: beside.get(name) or to_json(record, beside) for name in FILES}


def making(issued: date = ISSUED, **other: object) -> Callable[[str], dict[str, bytes]]:
    """What `issue` asks for."""
    return lambda number: files(made(number, issued=issued, **other))  # type: ignore[arg-type]


def put(folder: Path, issued: date = ISSUED, *, even_so: bool = False, **other: object) -> str:
    """A quote issued into a folder; its number."""
    return issue(folder, issued.year, making(issued, **other), even_so=even_so).name


def put_revision(
    folder: Path, number: str, issued: date = ISSUED, *, even_so: bool = False, **other: object
) -> str:
    """A revision of a quote; its name."""

    def make(revision: int, latest: Record) -> dict[str, bytes]:
        told = made(latest.number, revision, issued, **other)  # type: ignore[arg-type]
        return files(told)

    return revise(folder, number, make, even_so=even_so).name


def put_beside(folder: Path, record: Record) -> None:
    """A quote that stands in a folder, as an older version put it there or a person did."""
    (folder / record.name).mkdir(parents=True)
    for name, content in files(record).items():
        (folder / record.name / name).write_bytes(content)


def whole(folder: Path) -> list[str]:
    """The quotes in a folder, each with all of its files as they were made, and nothing else.

    Raises:
        AssertionError: there is half a quote.
    """
    names = sorted(path.name for path in folder.iterdir() if named(path.name))
    for name in names:
        found = {path.name: path.read_bytes() for path in (folder / name).iterdir()}
        parsed = named(name)
        assert parsed is not None
        assert found == files(read_record(folder, parsed))
    return names


def hidden(folder: Path) -> list[str]:
    """What is hidden in a folder, the lock aside."""
    return sorted(p.name for p in folder.iterdir() if p.name.startswith(".") and p.name != ".lock")
