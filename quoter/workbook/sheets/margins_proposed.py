"""Sheets of the margin review for what the policy of repricing would publish next."""

from __future__ import annotations

from quoter.analysis.live_prices import Proposed
from quoter.analysis.margin_review import Review
from quoter.pricing.proposals import deepest_discount
from quoter.workbook.sheets.margins import BOAT_WORDS, MODEL, NAME, WHAT, below
from quoter.workbook.table import Cell, Column, Row, Sheet, Table


def proposal_sheet(review: Review) -> Sheet:
    """What the policy would publish next, beside what is published."""
    parts = {
        "Would move": [p for p in review.proposals if p.change is not None and p.proposal.changes],
        "Not published yet, so they follow their cost": [
            p for p in review.proposals if p.change is None
        ],
        "Held": [p for p in review.proposals if p.change is not None and not p.proposal.changes],
    }
    rows: list[Row] = []
    for title, members in parts.items():
        if members:
            words = f"{title}, as of this build: {len(members)}"
            rows.append(Row((words,), kind="group"))
            rows += [_proposal(review, each) for each in members]
    columns = (
        Column(WHAT, width=NAME),
        Column("Model", width=MODEL),
        Column("Market", width=14),
        Column("List price published"),
        Column("Wanted at the target"),
        Column("Wanted is off by"),
        Column("Proposed"),
        Column("Change"),
        Column("Lowest margin of net now"),
        Column("Lowest margin of net then"),
        Column("Floor then"),
        Column("Why, as of this build", width=NAME),
    )
    heading = (
        f"List prices by the policy of repricing, without tax; margins at {review.buyer.name}, "
        "the lowest of the models a price holds for. The floor is that of every class of buyer"
    )
    notes = ("Nothing here changes a price: it is published when someone accepts it.",)
    return Sheet("Proposed prices", heading, (Table(columns, tuple(rows)),), notes=notes)


def _what(each: Proposed) -> str:
    return each.proposal.name if each.proposal.line[2] else BOAT_WORDS


def _where(review: Review, each: Proposed) -> str:
    markets = {str(m.id): str(m.name) for m in review.pricing.catalogue.yard.markets}
    return markets.get(each.proposal.line[0], "all")


def _proposal(review: Review, each: Proposed) -> Row:
    proposal, model = each.proposal, each.proposal.line[1]
    cells: tuple[Cell, ...] = (
        _what(each),
        str(review.pricing.models[model].model.name) if model else "all models",
        _where(review, each),
        proposal.published,
        proposal.wanted,
        proposal.moved,
        proposal.proposed,
        each.change,
        each.before,
        each.after,
        below(each.below),
        each.why,
    )
    return Row(cells, proposal.basis)


def by_model_sheet(review: Review) -> Sheet:
    """What each proposed price would leave on each model it holds for."""
    rows = tuple(
        Row(
            (
                _what(each),
                str(review.pricing.models[on.model].model.name),
                _where(review, each),
                each.proposal.proposed,
                None if on.before is None else on.before.first,
                on.after.first,
                on.after.least,
                on.after.breach,
            ),
            each.proposal.basis,
        )
        for each in review.proposals
        for on in each.proposal.covered
    )
    first, deepest = str(review.buyer.name), str(deepest_discount(review.pricing.terms).name)
    columns = (
        Column(WHAT, width=NAME),
        Column("Model", width=MODEL),
        Column("Market", width=14),
        Column("Proposed list price"),
        Column(f"Margin of net now, {first}"),
        Column(f"Margin of net then, {first}"),
        Column(f"Margin of net then, {deepest}"),
        Column("Below the floor then, 1 or 0"),
    )
    heading = (
        f"What the proposed prices would leave on each model they hold for, at {first} and at the "
        f"class with the deepest discount, {deepest}"
    )
    return Sheet("Proposed by model", heading, (Table(columns, rows),))
