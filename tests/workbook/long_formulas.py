"""Figures whose formulas no spreadsheet would take in one cell."""

from __future__ import annotations

from quoter.figures import Figure, dot, total
from tests.workbook.operations import given


def deep_chain(links: int) -> Figure:
    """Unnamed additions and products, one inside the other."""
    step = given("1.01", "step", "chain.step")
    result = step
    for _ in range(links):
        result = result * 0.99 + step
    return result.named("chain", "deep chain")


def long_sum(count: int) -> Figure:
    """A sum of unnamed products of two inputs each."""
    terms = [
        given(f"{i}.5", f"factor {i}", f"sum.{i}") * given(f"0.{i + 1:04}", f"share {i}", f"of.{i}")
        for i in range(count)
    ]
    return total(terms, terms[0]).named("sum", "long sum")


def wide_tree(levels: int) -> Figure:
    """Unnamed sums of a figure with itself: written out, twice as long at every level."""
    result = given("0.25", "leaf", "tree.leaf")
    for _ in range(levels):
        result = result + result
    return result.named("tree", "wide tree")


def long_products(count: int) -> Figure:
    """A sum of products over two lists that lie in no order."""
    left = [given(f"{i + 1}", f"left {i}", f"left.{i}") for i in range(count)]
    right = [given(f"{i}.25", f"right {i}", f"right.{i}") for i in range(count)]
    mixed = [right[(7 * i) % count] + 1 for i in range(count)]
    return dot(left, mixed).named("products", "long products")
