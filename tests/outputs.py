"""What a build makes of all models of a costing at once, for tests that look at all of it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from quoter.analysis.findings import Findings
from quoter.pages.papers import model_papers, paper_index
from quoter.pages.questions import option_pages, plan_page
from quoter.pages.review import review_files
from quoter.pricing.price import Pricing
from quoter.problems import Problem
from quoter.workbook import Book
from quoter.workbook.margin_book import MARGIN_REVIEW, margin_book
from quoter.workbook.model_book import model_book
from quoter.workbook.plan_book import plan_book
from quoter.workbook.writer import write_book


def question_pages(findings: Findings) -> dict[str, bytes]:
    """The page of the planned year, and that of every option on every model."""
    pages = plan_page(findings)
    for model in findings.pricing.models.values():
        pages |= option_pages(findings.of(model))
    return pages


def whole_review(findings: Findings, warnings: Sequence[Problem]) -> dict[str, bytes]:
    """Every page of the review."""
    return review_files(findings, warnings) | question_pages(findings)


def paper_pages(pricing: Pricing) -> dict[str, bytes]:
    """The index of shop papers, and all that it leads to."""
    pages = paper_index(pricing)
    for model in pricing.models.values():
        pages |= model_papers(pricing, model)
    return pages


def books_of(findings: Findings) -> Iterator[tuple[str, Book]]:
    """Every workbook that may be asked of a costing, by name, before it becomes a file."""
    for id, model in findings.pricing.models.items():
        yield f"{id}.xlsx", model_book(findings.of(model))
    yield MARGIN_REVIEW, margin_book(findings)
    if findings.plan.boats:
        yield "plan.xlsx", plan_book(findings)


def every_book(findings: Findings) -> Iterator[tuple[str, bytes]]:
    """Name and bytes of every workbook that may be asked of a costing."""
    for name, book in books_of(findings):
        yield name, write_book(book)
