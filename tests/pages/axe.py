"""axe-core in a tab: rules of WCAG 2.2 up to AA and of good practice, run on a page as it is."""

from __future__ import annotations

from functools import cache
from typing import Any

from playwright.sync_api import Page as Tab

from tests.environment import node_modules

# Off by default, and of use here: large enough targets (2.5.8), cells that have heads (1.3.1),
# captions that are captions (1.3.1), seen words within names (2.5.3).
SWITCHED_ON = ("target-size", "td-has-header", "table-fake-caption", "label-content-name-mismatch")
TAGS = ("wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice")
RUN = """async ([tags, on]) => {
    const found = await axe.run({
        runOnly: {type: "tag", values: tags},
        rules: Object.fromEntries(on.map(name => [name, {enabled: true}])),
        resultTypes: ["violations"],
        preload: false,  // it would ask for styles again, which the policy refuses
    });
    // What stands in the page behind a line that stays in view is come to by scrolling.
    const fixed = [...document.querySelectorAll("body *")]
        .filter(each => getComputedStyle(each).position === "fixed");
    const covered = node => {
        const one = node.target.length === 1 && document.querySelector(node.target[0]);
        const box = one && one.getBoundingClientRect();
        return box && fixed.some(each => {
            const line = each.getBoundingClientRect();
            return !each.contains(one) && box.bottom > line.top && box.top < line.bottom
                && box.right > line.left && box.left < line.right;
        });
    };
    return {
        broken: found.violations.flatMap(rule => rule.nodes.filter(node =>
            rule.id !== "target-size" || !covered(node)).map(node =>
            `${rule.id} at ${node.target.join(" ")}: ${node.failureSummary}`)),
        held: found.passes.map(rule => rule.id),
    };
}"""


@cache
def _source() -> str:
    return (node_modules() / "axe-core" / "axe.min.js").read_text(encoding="utf-8")


def violations(tab: Tab) -> list[str]:
    """Every rule that something on the page breaks, with where and why."""
    return checked(tab)[0]


def checked(tab: Tab) -> tuple[list[str], list[str]]:
    """What breaks a rule, and the rules that something on the page is held to and keeps."""
    # Not as a script of the page, which its own policy would refuse.
    if not tab.evaluate("'axe' in window"):
        tab.evaluate(f"() => {{ {_source()} }}")
    result: Any = tab.evaluate(RUN, [[*TAGS], [*SWITCHED_ON]])
    return result["broken"], result["held"]
