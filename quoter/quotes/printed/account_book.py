"""The workbook of one quote for the yard: costs as given, discounts and margins live."""

from __future__ import annotations

from quoter.figures import Figure, constant, plain_number, stated
from quoter.figures.graph import input_behind
from quoter.phrases import phrase
from quoter.pricing.margin import fraction_of_price, left_after
from quoter.pricing.sale import Terms
from quoter.quotes.account import Account, Item
from quoter.quotes.approval import approval_said
from quoter.quotes.kept.record import Record
from quoter.quotes.seen import seen_words
from quoter.workbook.sheets.proof import CAUTIONS
from quoter.workbook.table import (
    AS_USUAL,
    Book,
    Column,
    Flag,
    InputCell,
    OnPaper,
    Paragraphs,
    Row,
    Sheet,
    Table,
)

HOW_TO_READ = (
    "List prices and costs are those of the day of issue, in home currency without tax. Discounts, "
    "provisions and quantities are yours to change in the framed cells; all else follows.",
    "What delivery is charged at is left out: it is taken to cost what it brings. The customer's "
    "amounts are rounded line by line, so they may differ from these by cents.",
)
TAKEN_IN = (
    "What something taken in is worth counts as paid, so that the yard loses only what is credited "
    "beyond it.",
)


def account_book(
    account: Account,
    terms: Terms,
    record: Record,
    on_paper: OnPaper = AS_USUAL,
    before: Record | None = None,
) -> Book:
    """The workbook of a quote's costs and margins, before it becomes a file.

    Args:
        account: what it leaves
        terms: of the sale
        record: the quote
        on_paper: how it is printed
        before: the revision before it or the order that it changes, if there is one
    """
    since = (_since(account, before),) if before and _alike(before, record) else ()
    taken = TAKEN_IN if any(item.worth is not None for item in account.items) else ()
    front = Sheet(
        "Margin",
        phrase(
            "Quote {name}: what it leaves, in {home}. How its costs come about is in the workbook "
            "of its model.",
            name=record.name,
            home=record.inside.home,
        ),
        (
            Paragraphs(tuple(_told(record))),
            _whole(account, terms),
            *since,
            _items(account, terms),
            Paragraphs((*HOW_TO_READ, *taken)),
            Paragraphs(CAUTIONS, "caution"),
        ),
    )
    names = {"quote_net": account.net, "quote_margin": account.margin}
    footer = phrase(
        "Quote {name}, internal. Made from build {mark}", name=record.name, mark=record.source.mark
    )
    return Book(
        phrase("Quote {name}: internal", name=record.name),
        (front,),
        footer,
        record.inside.home,
        names,
        on_paper=on_paper,
    )


def _told(record: Record) -> list[str]:
    inside, customer = record.inside, record.customer
    who = ", ".join(word for word in (customer.name, customer.company, customer.country) if word)
    lines: list[str] = [
        phrase(
            "{title} for {who}. Issued {issued}, valid until {valid_until}, market "
            "{market}, sold to {buyer_name}.",
            title=record.title,
            who=who,
            issued=record.issued,
            valid_until=record.valid_until,
            market=record.market,
            buyer_name=inside.buyer_name,
        ),
        phrase(
            "The customer pays {total} {currency}, {net} without tax.",
            total=record.total,
            currency=record.currency,
            net=record.net,
        ),
        phrase(
            "Price list of {price_list}, costs as of {as_of}.",
            price_list=record.source.price_list,
            as_of=record.source.as_of,
        ),
    ]
    lines += approval_said(inside)
    if record.changes_order:
        lines.append(phrase("It changes the order {order}.", order=record.changes_order))
    if inside.delivery is not None:
        lines.append(phrase("Delivery was exchanged: {delivery}.", delivery=inside.delivery))
    if seen := seen_words(record):
        lines.append(f"{seen[0].upper()}{seen[1:]}.")
    if inside.note:
        lines.append(phrase("Note: {note}", note=inside.note))
    return lines


def _whole(account: Account, terms: Terms) -> Table:
    entries = [(phrase("Class of buyer's discount"), account.class_discount)]
    if account.discount.op != "const":
        entries.append((phrase("Discount on top"), account.discount))
    entries.append((phrase("Floor of the margin"), terms.floor))
    results: list[tuple[str, Figure]] = [("List price", account.list_price)]
    if any(not item.discounted for item in account.items):
        results.append((phrase("Net price of what no discount is for"), account.besides))
    results += [
        ("Net price", account.net),
        (phrase("Provisions, of the net price"), terms.provisions),
        ("Full cost", account.cost),
        ("of which variable", account.variable),
        ("Contribution", account.contribution),
        (phrase("of the net price"), account.contribution_fraction),
        ("Margin", account.margin),
        (phrase("of the net price"), account.margin_fraction),
        (phrase("Largest discount on top that keeps the floor"), account.most),
    ]
    rows = [Row((words, InputCell(input_behind(figure)))) for words, figure in entries]
    rows += [Row((words, figure)) for words, figure in results]
    verdict = Flag(account.breach, yes="BELOW FLOOR", no="holds", alarm="yes")
    rows.append(Row(("Margin against the floor", verdict), kind="total"))
    return Table((Column("Whole quote", width=44), Column("Amount")), tuple(rows), name="whole")


def _alike(before: Record, record: Record) -> bool:
    """Whether both are told of in one currency."""
    return before.inside.home == record.inside.home


def _since(account: Account, before: Record) -> Table:
    """What the quote left before, and what has changed since."""
    inside = before.inside
    rows = []
    for what, then, now in (
        ("Net price", inside.net, account.net),
        ("Full cost", inside.cost, account.cost),
        ("Contribution", inside.contribution, account.contribution),
        ("Margin", inside.margin, account.margin),
        (phrase("of the net price"), inside.margin_fraction, account.margin_fraction),
    ):
        number = constant(float(then), inside.home if now.form != "percent" else "")
        key = f"quote.before.{now.key.removeprefix('quote.')}"
        was = stated(number, key, phrase("{name}: {what}", name=before.name, what=now.label))
        was = was.named(key, was.label, now.form)
        change = (now - was).named(
            f"{key}.change", phrase("{what}: change", what=now.label), now.form
        )
        rows.append(Row((what, was, now, change)))
    columns = (
        Column(phrase("Since {name}", name=before.name), width=44),
        Column(phrase("Before")),
        Column(phrase("Now")),
        Column(phrase("Change")),
    )
    return Table(columns, tuple(rows), name="since")


def _items(account: Account, terms: Terms) -> Table:
    counts = [plain_number(item.quantity).normalize().as_tuple().exponent for item in account.items]
    decimals = max(-int(exponent) for exponent in (*counts, 0))
    taken = any(item.worth is not None for item in account.items)
    columns = (
        Column("Boat, option or package", width=34),
        Column("Quantity", decimals=decimals),
        Column("List price of one"),
        *((Column("Worth to the yard"),) if taken else ()),
        Column("Net price of one"),
        Column("Cost of one"),
        Column("of which variable"),
        Column("Margin of one"),
        Column("of net"),
    )
    rows = tuple(_item(item, terms, taken) for item in account.items)
    return Table(columns, rows, title="Line by line", name="items")


def _item(item: Item, terms: Terms, taken: bool) -> Row:
    key = f"quote.{item.id or 'boat'}"
    margin = left_after(item.net, terms.provisions, item.cost)
    margin = margin.named(f"{key}.margin", phrase("{name}: margin of one", name=item.name))
    quantity = InputCell(item.quantity) if item.quantity.op == "input" else item.quantity
    cells: tuple[Figure | InputCell | str | None, ...] = (
        item.name,
        quantity,
        item.list_price,
        *((item.worth,) if taken else ()),
        item.net,
        item.cost,
        item.variable,
        margin,
    )
    if not item.net.value or (item.own and item.net.value < 0):
        return Row((*cells, None))
    fraction = fraction_of_price(margin, item.net)
    return Row(
        (
            *cells,
            fraction.named(
                f"{key}.fraction", phrase("{name}: margin of net", name=item.name), "percent"
            ),
        )
    )
