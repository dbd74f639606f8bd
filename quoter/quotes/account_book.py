"""The workbook of one quote for the yard: costs as given, discounts and margins live."""

from __future__ import annotations

from quoter.figures import Figure
from quoter.figures.graph import input_behind
from quoter.pricing.margin import fraction_of_price, left_after
from quoter.pricing.sale import Terms
from quoter.quotes.account import Account, Item
from quoter.quotes.record import Record
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


def account_book(
    account: Account, terms: Terms, record: Record, on_paper: OnPaper = AS_USUAL
) -> Book:
    """The workbook of a quote's costs and margins, before it becomes a file."""
    front = Sheet(
        "Margin",
        f"Quote {record.name}: what it leaves, in {record.inside.home}. How its costs come about "
        "is in the workbook of its model.",
        (
            Paragraphs(tuple(_told(record))),
            _whole(account, terms),
            _items(account, terms),
            Paragraphs(HOW_TO_READ),
            Paragraphs(CAUTIONS, "caution"),
        ),
    )
    names = {"quote_net": account.net, "quote_margin": account.margin}
    footer = f"Quote {record.name}, internal. Made from build {record.source.mark}"
    title, home = f"Quote {record.name}: internal", record.inside.home
    return Book(title, (front,), footer, home, names, on_paper=on_paper)


def _told(record: Record) -> list[str]:
    inside, customer = record.inside, record.customer
    who = ", ".join(word for word in (customer.name, customer.company, customer.country) if word)
    lines = [
        f"{record.title} for {who}. Issued {record.issued}, valid until {record.valid_until}, "
        f"market {record.market}, sold to {inside.buyer_name}.",
        f"The customer pays {record.total} {record.currency}, {record.net} without tax.",
        f"Price list of {record.source.price_list}, costs as of {record.source.as_of}.",
    ]
    if inside.approval is not None:
        approval = inside.approval
        lines.append(f"Below the floor, let pass by {approval.name}: {approval.reason}.")
    if inside.delivery is not None:
        lines.append(f"Delivery was exchanged: {inside.delivery}.")
    if seen := seen_words(record):
        lines.append(f"{seen[0].upper()}{seen[1:]}.")
    if inside.note:
        lines.append(f"Note: {inside.note}")
    return lines


def _whole(account: Account, terms: Terms) -> Table:
    entries = [("Class of buyer's discount", account.class_discount)]
    if account.discount.op != "const":
        entries.append(("Discount on top", account.discount))
    entries.append(("Floor of the margin", terms.floor))
    results: list[tuple[str, Figure]] = [
        ("List price", account.list_price),
        ("Net price", account.net),
        ("Provisions, of the net price", terms.provisions),
        ("Full cost", account.cost),
        ("of which variable", account.variable),
        ("Contribution", account.contribution),
        ("of the net price", account.contribution_fraction),
        ("Margin", account.margin),
        ("of the net price", account.margin_fraction),
        ("Largest discount on top that keeps the floor", account.most),
    ]
    rows = [Row((words, InputCell(input_behind(figure)))) for words, figure in entries]
    rows += [Row((words, figure)) for words, figure in results]
    verdict = Flag(account.breach, yes="BELOW FLOOR", no="holds", alarm="yes")
    rows.append(Row(("Margin against the floor", verdict), kind="total"))
    return Table((Column("Whole quote", width=44), Column("Amount")), tuple(rows), name="whole")


def _items(account: Account, terms: Terms) -> Table:
    columns = (
        Column("Boat, option or package", width=34),
        Column("Quantity", decimals=0),
        Column("List price of one"),
        Column("Net price of one"),
        Column("Cost of one"),
        Column("of which variable"),
        Column("Margin of one"),
        Column("of net"),
    )
    rows = tuple(_item(item, terms) for item in account.items)
    return Table(columns, rows, title="Line by line", name="items")


def _item(item: Item, terms: Terms) -> Row:
    key = f"quote.{item.id or 'boat'}"
    margin = left_after(item.net, terms.provisions, item.cost)
    margin = margin.named(f"{key}.margin", f"{item.name}: margin of one")
    quantity = InputCell(item.quantity) if item.quantity.op == "input" else item.quantity
    cells: tuple[Figure | InputCell | str | None, ...] = (
        item.name,
        quantity,
        item.list_price,
        item.net,
        item.cost,
        item.variable,
        margin,
    )
    if not item.net.value:
        return Row((*cells, None))
    fraction = fraction_of_price(margin, item.net)
    return Row(
        (*cells, fraction.named(f"{key}.fraction", f"{item.name}: margin of net", "percent"))
    )
