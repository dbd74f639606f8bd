"""Which edition of the price sheet holds on a day: its version, model year and validity."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date

from quoter.catalogue.records import Records
from quoter.catalogue.source import Text
from quoter.catalogue.tables import EditionRow
from quoter.problems import Problem, Problems, nearest, quoted


@dataclass(frozen=True, slots=True)
class Edition:
    """What a published price sheet says of itself; all of it is public."""

    version: str
    model_year: str
    valid_from: date
    valid_until: date


def edition_on(records: Records, day: date) -> Edition:
    """The newest edition that is valid from a day on or before `day`, else the first one."""
    rows = sorted(records.editions, key=lambda row: row.valid_from)
    if rows:
        begun = [row for row in rows if row.valid_from <= day]
        return _edition(begun[-1] if begun else rows[0])
    sheet = records.yard.price_sheet if records.yard is not None else None
    if sheet is None or sheet.valid_from is None or sheet.valid_until is None:
        return Edition("", "", day, day)  # told as a problem by `check_editions`
    version, year = str(sheet.version or ""), str(sheet.model_year or "")
    return Edition(version, year, sheet.valid_from, sheet.valid_until)


def _edition(row: EditionRow) -> Edition:
    return Edition(str(row.version), str(row.model_year), row.valid_from, row.valid_until)


def warn_edition(records: Records, day: date, problems: Problems) -> None:
    """Record that the edition in force has ended or not begun: its pages would say it is valid."""
    edition = edition_on(records, day)
    told = outside_edition(edition, day)
    if not told or records.yard is None:
        return
    ended = day > edition.valid_until
    row = next((row for row in records.editions if row.valid_from == edition.valid_from), None)
    if not ended:
        place = records.yard.price_sheet.place if row is None else row.place
        hint = "ask for a later day, or let an edition begin earlier"
        problems.warn(place, "not-in-force", told, hint)
    elif row is not None:
        hint = "add a line with the next edition to editions.csv"
        problems.warn(row.place, "expired", told, hint)
    else:
        hint = "write a later 'valid_until', or the next edition"
        problems.warn(records.yard.price_sheet.place, "expired", told, hint)


def outside_edition(edition: Edition, day: date) -> str:
    """That an edition has ended by a day or not begun on it, in words; nothing if it holds."""
    if day > edition.valid_until:
        return f"the price sheet was valid until {edition.valid_until}, and is out of date on {day}"
    if day < edition.valid_from:
        return f"the price sheet is valid from {edition.valid_from}, and not yet on {day}"
    return ""


def check_versions(records: Records) -> Iterator[Problem]:
    """What is new is new in an edition that there is; a slip would never be shown."""
    if records.yard is None or records.unread.touches("EditionRow"):
        return
    sheet = records.yard.price_sheet
    versions = {str(row.version) for row in records.editions} or {str(sheet.version)}
    told: list[Text | None] = [news.version for news in sheet.news]
    told += [option.new_in for option in records.options.values()]
    told += [package.new_in for package in records.packages.values()]
    for version in told:
        if version is not None and version not in versions:
            what = f"unknown version {quoted(version)} of the price sheet"
            yield Problem(version.place, "unknown-id", what, nearest(version, versions))


def earlier_edition(records: Records, day: date) -> Edition | None:
    """The edition that held before the one in force on `day`; None if that is the first."""
    now = edition_on(records, day)
    before = [row for row in records.editions if row.valid_from < now.valid_from]
    return _edition(max(before, key=lambda row: row.valid_from)) if before else None


def check_editions(records: Records) -> Iterator[Problem]:
    """The price sheet says how long it is valid, in one place, and begins before it ends."""
    for row in records.editions:
        if row.valid_until < row.valid_from:
            what = f"the price sheet ends on {row.valid_until}, before it begins"
            yield Problem(row.place, "date-order", what, f"expected a day after {row.valid_from}")
    if records.yard is None:
        return
    sheet = records.yard.price_sheet
    told = sum(value is not None for value in sheet.edition)
    if records.editions and told:
        what = "the price sheet's edition stands here and in editions.csv"
        yield Problem(
            sheet.place, "choose-one", what, "keep it in editions.csv, and only the terms here"
        )
    elif not records.editions and told < len(sheet.edition):
        what = "the price sheet lacks its version, model_year, valid_from or valid_until"
        if not records.unread.touches("EditionRow"):
            yield Problem(
                sheet.place, "missing-key", what, "write them here, or a line in editions.csv"
            )
    elif sheet.valid_from and sheet.valid_until and sheet.valid_until < sheet.valid_from:
        what = f"the price sheet ends on {sheet.valid_until}, before it begins"
        yield Problem(sheet.place, "date-order", what, f"expected a day after {sheet.valid_from}")
