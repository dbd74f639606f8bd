"""What strangers write into the price sheet's page arrives as they wrote it, or is refused."""

from __future__ import annotations

from pathlib import Path

import pytest
import yaml
from click.testing import CliRunner
from openpyxl import load_workbook
from python_calamine import CalamineWorkbook

from quoter.cli import main
from quoter.problems import CatalogueError
from quoter.quotes.kept.record_file import from_json
from quoter.quotes.request import read_request
from tests.demo import DEMO
from tests.pages.parsed import Page
from tests.quotes.asked import BY, asked, in_quotes, saved


@pytest.mark.parametrize(
    "text",
    [
        'Jörg "Jo" O\'Brien # not a comment',
        "Zoë: boats & more",
        "back\\slash \\n",
        "=1+1",
        "@home",
        "- dash",
        "&anchor *alias !tag %percent |> `tick`",
        "{brace} [bracket], comma",
        "no",
        "12:30",
        "2026-11-26",
        "~",
        "Ægir Ðóra Łukasz Šárka",
        "帆船 יעל",
        "sailing \N{SAILBOAT}\N{VARIATION SELECTOR-16} \N{GRINNING FACE}",
        "family \N{MAN}\N{ZERO WIDTH JOINER}\N{GIRL}",
        "<b>bold</b>",
        "x" * 200,
    ],
)
def test_a_text_arrives_as_it_was_written(tmp_path: Path, text: str) -> None:
    """Another reader of YAML finds the same in the file, so it is no matter of this one's."""
    path = saved(tmp_path, asked({"name": text, "email": text}, f"{BY}note: {in_quotes(text)}\n"))
    request = read_request(path).request
    assert (request.customer.name, request.customer.email, request.note) == (text, text, text)
    other = yaml.safe_load(path.read_text("utf-8"))
    assert (other["customer"]["name"], other["note"]) == (text, text)


@pytest.mark.parametrize(
    ("written", "arrives"),
    [
        ('"line one\\nline two"', "line one\nline two"),
        ('"line one\\r\\nline two"', "line one\nline two"),
        ('"line one\\u2028line two"', "line one\nline two"),
        # Unescaped it is a line end of YAML 1.1, which folds those within quotes to a blank.
        ('"line one\u2028line two"', "line one line two"),
        ('"a\\ttab"', "a\ttab"),
        ('"a\\/slash"', "a/slash"),
    ],
)
def test_line_ends_of_a_note_are_kept_and_those_of_a_name_are_blanks(
    tmp_path: Path, written: str, arrives: str
) -> None:
    text = asked({}, f"  name: {written}\n{BY}note: {written}\n")
    request = read_request(saved(tmp_path, text)).request
    assert request.note == arrives
    assert request.customer.name == " ".join(arrives.split())


def test_what_was_not_filled_in_is_left_out_and_only_a_name_is_needed(tmp_path: Path) -> None:
    customer = read_request(saved(tmp_path, asked({"name": "Jo"}))).request.customer
    left_out = (customer.company, customer.country, customer.email, customer.phone)
    assert (*left_out, customer.tax_number) == (None,) * 5
    assert customer.address == ()


@pytest.mark.parametrize(
    ("name", "says"),
    [
        (
            '"' + "x" * 10_000 + '"',
            f"name '{'x' * 59}…' has 10000 characters; at most 200 characters fit on its line",
        ),
        (
            '"bell \\u0007"',
            "the escape of an unprintable character, #x07; remove it",
        ),
        ('"null \\u0000"', "the escape of an unprintable character, #x00; remove it"),
        ('"\\u001b[2J"', "the escape of an unprintable character, #x1b; remove it"),
        (
            '"\u202eteiuq"',
            "name holds a mark that turns the direction of writing, #x202e; remove it",
        ),
        (
            '"\\ud83d"',
            "an escape that means nothing; write a backslash in double quotes twice",
        ),
        ('""', "name has no value; write a text"),
        ('"\\u00a0 \\n"', "name has no value; write a text"),
    ],
)
def test_a_name_that_is_none_is_refused_at_its_place(tmp_path: Path, name: str, says: str) -> None:
    with pytest.raises(CatalogueError) as fault:
        read_request(saved(tmp_path, asked({}, f"  name: {name}\n{BY}")))
    (problem,) = fault.value.problems
    assert (problem.place.file, problem.place.line) == ("request.yaml", 13)
    assert f"{problem.what}; {problem.hint}" == says


@pytest.mark.parametrize(
    ("note", "says"),
    [
        ("x" * 10_000, r"has 10000 characters on 1 line \[too-much\]\n"),
        ("x\n" * 1000, r"has 2000 characters on 1000 lines \[too-much\]"),
    ],
)
def test_a_note_longer_than_a_page_bears_is_refused(tmp_path: Path, note: str, says: str) -> None:
    with pytest.raises(CatalogueError, match=says):
        read_request(saved(tmp_path, asked({"name": "Jo"}, f"{BY}note: {in_quotes(note)}\n")))


HOSTILE = {
    "name": '=HYPERLINK("https://example.com","pay here")',
    "company": "<script>alert(1)</script></title>\"'>",
    "country": "@SUM(1)",
    "email": "a@example.com?bcc=all",
    "phone": "+1+1",
    "tax_number": "-2+3",
}
NOTE = "=cmd()\n<img src=x onerror=alert(1)>"


@pytest.fixture(scope="module")
def hostile(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with the quote of somebody who means harm, and the yard's list of quotes."""
    folder = tmp_path_factory.mktemp("hostile")
    request = saved(folder, asked(HOSTILE, f"{BY}note: {in_quotes(NOTE)}\n"))
    for words in (
        ("quote", DEMO, request, "--quotes", folder),
        ("quotes", "--quotes", folder, "--html", folder / "quotes.html"),
    ):
        result = CliRunner().invoke(main, [str(word) for word in words])
        assert result.exit_code == 0, result.output
    return folder


def test_hostile_words_stay_words_on_pages(hostile: Path) -> None:
    record = from_json((hostile / "2026-0001" / "record.json").read_bytes())
    assert record.customer.model_dump(include=set(HOSTILE)) == HOSTILE
    page = Page((hostile / "2026-0001" / "quote.html").read_bytes())
    assert page.faults == []
    assert [e.tag for e in page.elements if e.tag in ("script", "img")] == []
    assert all("bcc" not in a.attributes["href"] for a in page.all("a"))
    receiver = page.one("section", class_="to").text
    for text in HOSTILE.values():
        assert text in receiver
    assert page.one("p", class_="note").text == " ".join(NOTE.split())
    listed = Page((hostile / "quotes.html").read_bytes())
    assert listed.faults == []
    assert not list(listed.all("script"))
    assert any(HOSTILE["name"] in cell.text for cell in listed.all("td"))


def test_hostile_words_stay_words_in_workbooks(hostile: Path) -> None:
    """A cell that begins like a formula is text, and is told to stay it when it is edited."""
    book = hostile / "2026-0001" / "quote.xlsx"
    cells = {
        cell.value: cell
        for sheet in load_workbook(book).worksheets
        for row in sheet.iter_rows()
        for cell in row
        if isinstance(cell.value, str)
    }
    first, second = NOTE.split("\n")
    for text in (*HOSTILE.values(), first, second):
        (value,) = (value for value in cells if value.endswith(text))
        assert cells[value].data_type == "s"
        assert cells[value].quotePrefix == value.startswith(("=", "+", "-", "@"))
    rows = CalamineWorkbook.from_path(book).get_sheet_by_index(0).to_python()
    assert HOSTILE["name"] in [cell for row in rows for cell in row]
    front = load_workbook(hostile / "2026-0001" / "internal.xlsx").worksheets[0]
    told = [str(cell.value) for row in front.iter_rows() for cell in row if cell.value]
    (line,) = (text for text in told if HOSTILE["name"] in text)
    assert line.startswith("Orvesund 6.8 Open for =HYPERLINK")
    assert "The customer saw 62,570.40 EUR on price sheet 2026-11; " in "\n".join(told)
