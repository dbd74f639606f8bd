"""Where quotes are put: a number is taken at the moment its whole quote appears, and not before.

    quotes/2026-0007/       quote.html  quote.pdf  quote.xlsx  quotation.xml  mail.txt
                            internal.xlsx  record.json
    quotes/2026-0007-R1/    the same of its first revision
    quotes/2026-0007-R1-order/    order.html  order.json: its order confirmed
    quotes/outcomes.csv     what became of them

A quote's folder appears by one rename, under a lock, so that no number is lost or given twice.
Nothing that stands there is ever changed, but for lines at the end of the table, and columns that
its first line lacks. What somebody may mean but rarely does needs a word, `even_so`; it is looked
for under the lock, so that of two at once the second is told of the first.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from datetime import date
from decimal import Decimal
from pathlib import Path

from quoter.catalogue.adding import replace_file, with_lines
from quoter.disk import sync, write_synced
from quoter.formats import RECORD_FILE, StrictError, read_json
from quoter.intake import IntakeError, read_file
from quoter.problems import UNPRINTABLE, quoted
from quoter.quotes import QuoteError
from quoter.quotes.kept.archive import (
    FILES,
    MAY_LACK,
    ORDER_FILES,
    OUTCOMES,
    UNFINISHED,
    clear,
    entries,
    existing,
    locked,
    names_of,
    read_record,
    taken,
    told,
)
from quoter.quotes.kept.numbering import (
    OrderName,
    QuoteName,
    named,
    names_one,
    next_number,
    next_revision,
    order_named,
)
from quoter.quotes.kept.outcomes import (
    COLUMNS,
    DECIDED,
    ID_HINT,
    Outcome,
    Result,
    as_row,
    is_id,
    last_of,
    read_outcomes,
    with_room,
)
from quoter.quotes.kept.record import Record
from quoter.quotes.kept.record_file import RecordError, changed_files, from_json
from quoter.quotes.kept.standing import OPEN, order_stands, standing

Files = Mapping[str, bytes]
EVEN_SO = "add --even-so"
# What the office says of a request and not the customer: the same wish may come with another.
OFFICE = {"date", "valid_until", "prepared_by", "internal_note"}


def issue(folder: Path, year: int, make: Callable[[str], Files], *, even_so: bool = False) -> Path:
    """Put a new quote into a folder under the next number of its year.

    Args:
        folder: of quotes; made if it is not there
        year: of the day of issue
        make: the quote's files under its number, by name. Others wait for it, so it is quick; if
            it raises, the number is not taken.
        even_so: whether it may be dated before the number before it, or be of a request that an
            open quote answers already
    Returns:
        the folder of the quote
    Raises:
        QuoteError: it is so and nobody means it, or the folder can't be written to.
        ValueError: the files are not those of a quote under its number and year.
    """
    with locked(folder):
        name = next_number(taken(folder), year)
        files = make(str(name))
        record = _record(files, name)
        if record.issued.year != year:
            raise ValueError(f"{name} was issued in another year")
        if not even_so:
            _stop_if_any((*_dated_before(folder, name, record), *_asked_twice(folder, record)))
        return _put(folder, name, files)


def _stop_if_any(doubts: Iterable[str]) -> None:
    if told := "\n".join(doubts):
        raise QuoteError(told)


def _dated_before(folder: Path, name: QuoteName, record: Record) -> Iterator[str]:
    """A doubt if the last number of the year that can be read is of a later day."""
    for before in reversed(taken(folder)):
        if before.year == name.year and not before.revision:
            try:
                issued = read_record(folder, before).issued
            except QuoteError:  # told by whoever lists or checks; numbers go on
                continue
            if record.issued < issued:
                what = f"the quote is dated {record.issued}, before {before} of {issued}"
                yield f"{what}; date it that day or later, or {EVEN_SO}"
            return


def _asked_twice(folder: Path, record: Record) -> Iterator[str]:
    """A doubt for each quote that answers the same request and is open on the day of the new one.

    Records are opened as plain data first: all of them are looked at while others wait.
    """
    names = taken(folder)
    newest = {name.first: name for name in names}
    for first, last in newest.items():
        if _wish(_request_in(folder, last)) != _wish(record.request):
            continue
        revisions = [name for name in names if name.first == first]
        try:
            records = [read_record(folder, name) for name in revisions]
        except QuoteError:  # told by whoever lists or checks
            continue
        issued = [each for each in records if each.issued <= record.issued]
        stands = standing(issued, read_outcomes(folder / OUTCOMES), record.issued)
        if stands and stands[-1].state in OPEN:
            there, state = stands[-1].record, stands[-1].state
            what = f"{there.name} of {there.issued} is for the same request, and still {state}"
            yield f"{what}; price that again with 'quoter requote', or for one more {EVEN_SO}"


def _request_in(folder: Path, name: QuoteName) -> object:
    try:
        found = read_json(read_file(folder / str(name) / RECORD_FILE))
    except (OSError, IntakeError, StrictError):
        return None
    return found.get("request") if isinstance(found, dict) else None


def _wish(request: object) -> object:
    """A request without what the office says of it."""
    if not isinstance(request, Mapping):
        return None
    return {key: value for key, value in request.items() if key not in OFFICE}


def revise(
    folder: Path, number: str, make: Callable[[int, Record], Files], *, even_so: bool = False
) -> Path:
    """Put the next revision of a quote beside it.

    Args:
        folder: of quotes
        number: of the quote, without a revision
        make: the files from the number of the revision and the record of the one before it; quick,
            as for `issue`
        even_so: whether what was lost or withdrawn may be offered again
    Returns:
        the folder of the revision
    Raises:
        QuoteError: there is no such quote, its latest record can't be read, the revision's date
            comes before it, it is won, or lost and nobody means to offer it again, or the folder
            can't be written to.
        ValueError: the files are not those of that revision.
    """
    with locked(existing(folder)):
        names = names_of(folder, number)
        latest = read_record(folder, max(names))
        _stop_if_any(_decided(folder, names, even_so))
        name = next_revision(names)
        files = make(name.revision, latest)
        issued = _record(files, name).issued
        if issued < latest.issued:
            what = f"the revision is dated {issued}, before {latest.name} of {latest.issued}"
            raise QuoteError(f"{what}; date it that day or later")
        return _put(folder, name, files)


def _decided(folder: Path, names: Sequence[QuoteName], even_so: bool) -> Iterator[str]:
    """Why a quote is not revised: it is an order, or nobody said that it is offered again."""
    results = last_of(read_outcomes(folder / OUTCOMES))
    found = [results[str(name)] for name in names if str(name) in results]
    won = [each for each in found if each.result == "won"]
    if won:
        yield order_stands(won[-1])
    elif found and found[-1].quote == str(names[-1]) and found[-1].result in DECIDED:
        last = found[-1]
        if not even_so:
            yield f"{last.quote} is {last.result}, since {last.date}; to offer it again, {EVEN_SO}"


def confirm(folder: Path, quote: QuoteName, make: Callable[[OrderName], Files]) -> Path:
    """Put the next confirmation of an order beside its quote.

    Args:
        folder: of quotes
        quote: what is confirmed
        make: its files under its name; quick, as for `issue`; if it raises, nothing is written
    Returns:
        the folder of the confirmation
    Raises:
        QuoteError: there is no such quote, or the folder can't be written to.
        ValueError: the files are not those of a confirmation.
    """
    with locked(existing(folder)):
        names_of(folder, quote.number)
        before = [name for entry in entries(folder) if (name := order_named(entry))]
        issue = max((name.issue for name in before if name.quote == quote), default=0) + 1
        name = OrderName(quote, issue)
        files = make(name)
        if not set(ORDER_FILES) - MAY_LACK <= set(files) <= set(ORDER_FILES):
            told = f"{', '.join(ORDER_FILES)}, not {', '.join(files)}"
            raise ValueError(f"a confirmation has {told}")
        return _put(folder, name, files)


def _record(files: Files, name: QuoteName) -> Record:
    """The record among a quote's files, which are those of its name."""
    if not {*FILES} - MAY_LACK <= {*files} <= {*FILES}:
        raise ValueError(f"a quote has {', '.join(FILES)}, not {', '.join(files)}")
    try:
        record = from_json(files[RECORD_FILE])
    except RecordError as fault:
        raise ValueError(f"the record of {name} {fault}") from fault
    if record.name != str(name):
        raise ValueError(f"the record of {name} says {record.name}")
    if changed := changed_files(record, files):
        raise ValueError(f"the record of {name} is not of these {', '.join(changed)}")
    return record


def _put(folder: Path, name: QuoteName | OrderName, files: Files) -> Path:
    """Have a whole quote or confirmation appear by one rename, after the disk has all of it."""
    target, aside = folder / str(name), folder / UNFINISHED
    with told(folder):
        try:
            aside.mkdir()
            for file, content in sorted(files.items()):
                write_synced(aside / file, content)
            sync(aside)
            aside.rename(target)
            _confirm(target, aside)
        finally:
            clear(folder)
    return target


def _confirm(target: Path, aside: Path) -> None:
    """Have the disk keep what appeared; what it may lose is taken back while nobody knows of it."""
    try:
        sync(target.parent)
    except OSError:
        target.rename(aside)
        raise


def settle(
    folder: Path,
    quote: str,
    result: Result | None,
    on: date,
    *,
    reason: str = "",
    by: str = "",
    chance: Decimal | None = None,
    option: str = "",
    again: bool = False,
    even_so: bool = False,
) -> Outcome:
    """Add to the folder's table what became of a quote, or what chance it has.

    Args:
        folder: of quotes
        quote: its number, or the name of its newest revision
        result: that it was sent, or what was decided; None for a chance alone
        on: the day of it; it is about the newest revision issued until then
        reason: in words, if known
        by: who writes it down
        chance: that the customer takes it, as a fraction, if somebody states one
        option: id of the option or package that lost it, if one did
        again: whether it may take the place of an outcome written before
        even_so: whether it may be an order after the last day of the offer, be sent after it was
            decided, or be about a revision that was superseded
    Raises:
        QuoteError: there is no such quote, it was issued later, or the folder can't be written to;
            it is said with what it can't go with; it needs a word; or a text holds a letter that
            nobody sees.
    """
    path = existing(folder) / OUTCOMES
    if bad := UNPRINTABLE.search(reason + by):
        raise QuoteError(f"a reason or name holds an unprintable character, #x{ord(bad[0]):04x}")
    _sound_together(result, chance, option)
    with locked(folder):
        name, superseded = _settled(folder, quote, on)
        before = last_of(read_outcomes(path)).get(str(name))
        doubts = [*_otherwise(before, str(name), result, again=again, even_so=even_so)]
        if not even_so:
            doubts += [*superseded, *_too_late(read_record(folder, name), result, on)]
        _stop_if_any(doubts)
        outcome = Outcome(on, str(name), result, reason, by, chance, option)
        with told(folder):
            content = path.read_bytes() if path.exists() else None
            row = as_row(outcome)
            try:
                longer = with_lines(with_room(content, row), COLUMNS, [row])
            except ValueError as fault:
                raise QuoteError(f"{path}: {fault}; add it to the first line") from fault
            replace_file(path, longer)
        return outcome


def _sound_together(result: Result | None, chance: Decimal | None, option: str) -> None:
    if result is None and chance is None:
        raise QuoteError("nothing is said: name an outcome, or state a chance")
    if result in DECIDED and chance is not None:
        raise QuoteError(f"what is {result} has no chance: state one with 'sent', or alone")
    if option and result != "lost":
        raise QuoteError("only what is lost has an option that lost it")
    if option and not is_id(option):
        raise QuoteError(f"{quoted(option)} is no id; {ID_HINT}")


def _otherwise(
    before: Outcome | None, name: str, result: Result | None, *, again: bool, even_so: bool
) -> Iterator[str]:
    """Doubts about what goes against an outcome written before; a quote that was sent goes on."""
    if before is None:
        return
    what = f"{name} is {before.result} already, since {before.date}"
    decided = before.result in DECIDED
    if result is None and decided:
        yield f"{what}: it has no chance any more"
    elif result == "sent" and decided and not even_so:
        yield f"{what}; to say that it was sent after that, and is open again, {EVEN_SO}"
    elif not again and (result == before.result or (result in DECIDED and decided)):
        yield f"{what}; to say otherwise, add --again"


def _too_late(record: Record, result: Result | None, on: date) -> Iterator[str]:
    """A doubt about an order after the last day of its offer."""
    if result == "won" and on > record.valid_until:
        what = f"{record.name} was valid until {record.valid_until}, and the order is of {on}"
        yield f"{what}; to take it at that price all the same, {EVEN_SO}"


def _settled(folder: Path, quote: str, on: date) -> tuple[QuoteName, list[str]]:
    """The revision that a decision of a day is about, and the doubt if it was superseded then."""
    asked = named(quote)
    names = names_of(folder, asked.number if asked else quote)
    revision = asked if asked and names_one(quote) else None
    if revision and revision not in names:
        raise QuoteError(f"there is no {revision} in {folder}: the newest is {names[-1]}")
    issued = {name: read_record(folder, name).issued for name in names}
    wanted = revision or names[0]
    if issued[wanted] > on:
        what = f"{wanted} was issued on {issued[wanted]}, after {on}"
        raise QuoteError(f"{what}; an outcome comes on that day or later")
    newest = [name for name in names if issued[name] <= on][-1]
    if revision is None or revision == newest:
        return newest, []
    what = f"{revision.own} was superseded by {newest}: name that, or {newest.number}"
    return revision, [f"{what}; if it is meant, {EVEN_SO}"]
