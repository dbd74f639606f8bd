"""The sound catalogue with two jobs at work, and how its clock, store and ledger are read."""

from __future__ import annotations

from pathlib import Path
from textwrap import dedent

from quoter.catalogue.csv_cells import csv_rows
from quoter.importing.actuals import ActualsImport, import_actuals
from quoter.importing.writing import write
from tests.catalogue.broken import SOUND
from tests.catalogues.written import write_catalogue

JOBS = """\
job,model,options,boats,quote,started,finished,note
2026-0007,tarn_31,hatch; side_door,1,,2026-08-03,2026-09-11,
2026-0008,tarn_26,hatch,1,,2026-08-05,,
"""
EXPORTS = """\
exports:
  - id: clock
    of: hours
    headings:
      {reference: Nr., date: Datum, code: Scan, station: Platz, hours: Std., group: Lohngruppe,
       rework: Nacharbeit, note: Bemerkung}
    codes:
      station: {LAM: laminating, "4711": assembly}
      group: {L3: laminator}
      rework: {"": no}
    bare: {hours: h}
    decimal: comma
    passed_over: [Übertrag]
  - id: plain
    of: hours
    headings: {date: Day, job: Job, station: Station, hours: Paid}
    bare: {hours: h}
    days: day month
  - id: store
    of: issues
    headings:
      {reference: No, date: Date, kind: Move, job: Job, material: Article, quantity: Qty,
       unit: UoM, price: Price, per: Per}
    codes:
      kind: {Rückgabe: return, Entnahme: issue}
      material: {"70011": resin_lam}
    units: [{word: Fl, means: each}]
    bare: {quantity: kg, price: kg}
  - id: ledger
    of: purchases
    headings:
      {reference: Invoice, date: Date, supplier: Vendor, material: Article, quantity: Qty,
       price: Price, freight: Carriage, rate: Rate}
    codes: {supplier: {V1: fjordglas, V2: westpoly}}
    bare: {quantity: kg, price: kg}
  - id: spent
    of: overhead
    headings: {reference: Doc, month: Period, station: Centre, kind: Account, spent: Amount}
    codes:
      kind: {"6100": variable, "6200": fixed}
  - id: pieces
    of: pulls
    headings: {reference: No, date: Date, part: Part, good: OK, scrapped: Scrap}
    codes: {part: {F-1: frame}}
  - id: orders
    of: jobs
    headings: {job: Order, model: Boat, options: Built with, started: Begun, finished: Done}
    codes:
      model: {T26: tarn_26}
      options: {HA: hatch, BH: blue_hull}
"""
HEADS = "Nr.;Datum;Scan;Platz;Std.;Lohngruppe;Nacharbeit;Bemerkung\n"


def yard(folder: Path, exports: str = EXPORTS) -> Path:
    """The sound catalogue with exports, and two jobs."""
    catalogue = write_catalogue(folder, {}, base=SOUND)
    with (catalogue / "yard.yaml").open("a", encoding="utf-8") as file:
        file.write(dedent(exports))
    (catalogue / "actuals").mkdir()
    (catalogue / "actuals/jobs.csv").write_text(JOBS)
    return catalogue


def sent(folder: Path, text: str, name: str = "clock.csv", encoding: str = "utf-8") -> Path:
    """A file as it was handed out."""
    (folder / name).write_bytes(text.encode(encoding))
    return folder / name


def imported(catalogue: Path, file: Path, export: str, **more: object) -> ActualsImport:
    """An import that is written; it has no faults."""
    made = import_actuals(catalogue, file, export, **more)  # type: ignore[arg-type]
    assert [str(fault) for fault in made.faults] == []
    write(catalogue, made.files, made.replaced)
    return made


def table(catalogue: Path, name: str) -> list[dict[str, str]]:
    """The rows of a table of `actuals/`, without what they have empty."""
    text = (catalogue / f"actuals/{name}.csv").read_text("utf-8")
    head, *rows = csv_rows(text)
    names = [cell.text for cell in head]
    pairs = [zip(names, row, strict=True) for row in rows]
    return [{name: cell.text for name, cell in pair if cell.text} for pair in pairs]


def told(made: ActualsImport) -> list[str]:
    """The first line of each fault."""
    return [str(fault).split("\n")[0] for fault in made.faults]
