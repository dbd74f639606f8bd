"""The browser scripts are one dialect, by the ESLint of npm: written ones and generated ones."""

from __future__ import annotations

import os
import subprocess
from collections.abc import Mapping
from pathlib import Path

import pytest

from quoter.pages.margins import formulas
from quoter.pages.public.site import public_pages
from quoter.pages.surcharges import surcharge_pages
from quoter.pricing.price import Pricing
from tests.environment import MODULES, PROJECT, node_modules

RULES = PROJECT / "tests" / "eslint.config.mjs"
# What is generated has the same helpers and arguments everywhere, whether or not they are needed.
GENERATED = ("--rule", "{no-unused-vars: off, object-shorthand: off}")


def faults_of(folder: Path, *more: str) -> str:
    """What the linter says of every script below a folder; nothing where all is well."""
    modules = node_modules()
    eslint = str(modules / ".bin" / "eslint")
    command = [eslint, "--config", str(RULES), "--no-config-lookup", *more, "."]
    run = subprocess.run(
        command,
        cwd=folder,
        env={**os.environ, MODULES: str(modules)},
        capture_output=True,
        text=True,
        check=False,
    )
    return run.stdout + run.stderr


def written(folder: Path, scripts: Mapping[str, bytes]) -> Path:
    for name, content in scripts.items():
        path = folder / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(content)
    return folder


@pytest.mark.slow
def test_scripts_of_the_templates_are_one_dialect() -> None:
    assert faults_of(PROJECT / "templates") == ""


@pytest.mark.slow
def test_generated_scripts_are_of_the_same_dialect(tmp_path: Path, demo_pricing: Pricing) -> None:
    public = {n: c for n, c in public_pages(demo_pricing).items() if "/models/" in n}
    scripts = {name: content for name, content in public.items() if name.endswith(".js")}
    scripts |= {n: c for n, c in surcharge_pages(demo_pricing).items() if n.endswith(".js")}
    scripts["formulas.js"] = formulas(demo_pricing)
    assert len(scripts) > 3
    assert faults_of(written(tmp_path, scripts), *GENERATED) == ""


@pytest.mark.slow
def test_the_linter_tells_another_dialect(tmp_path: Path) -> None:
    written(
        tmp_path, {"old.js": b'(function () {\n  "use strict";\n  var a = 1;\n  alert(a);\n}());\n'}
    )
    assert "no-var" in faults_of(tmp_path)
