"""The Nu Html Checker of the W3C, over many files in one run."""

from __future__ import annotations

import json
import re
import subprocess
from collections.abc import Iterable
from pathlib import Path

from tests.environment import node_modules

IGNORED = {
    # A file has no address that 'self' could mean; the tests in a browser hear every violation.
    "a policy's own address": r"Resource violates Content Security .*(?: external|: image) ",
    # Both are properties by SVG 2 (8.12, 13.8), which the checker's list is older than.
    "a property of drawings": r"CSS: .(?:vector-effect|paint-order).: Property .* doesn.t exist",
    # CSS Conditional Rules 5, "Container Queries": the checker's list is older than that too.
    "a container": r"CSS: (?:.container-type.: Property .* doesn.t exist|.*at-rule .@container)",
    # A policy is asked about scripts; a block of data is none (HTML Standard, "prepare the script
    # element"), and a browser says nothing of it.
    "a block of data": r"Inline script violates Content Security Policy",
}
_IGNORED = re.compile("|".join(IGNORED.values()))


def faults(files: Iterable[Path]) -> list[str]:
    """What the checker says of HTML, CSS and SVG files: errors and warnings with file and line."""
    jar = node_modules() / "vnu-jar" / "build" / "dist" / "vnu.jar"
    command = ["java", "-jar", str(jar), "--also-check-css", "--also-check-svg", "--stdout"]
    paths = [str(path) for path in files]
    assert paths, "there are files to check"
    found = subprocess.run(
        [*command, "--exit-zero-always", "--format", "json", *paths],
        capture_output=True,
        text=True,
        check=True,
    )
    return [
        f"{message['url']}:{message.get('lastLine', '')}: {message['message']}"
        for message in json.loads(found.stdout)["messages"]
        if not _IGNORED.match(message["message"])
    ]
