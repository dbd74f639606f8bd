"""Whether a file is what the Office Open XML schemas allow, by a validator that is none of ours."""

from __future__ import annotations

from pathlib import Path

from openxml_audit import FileFormat, OpenXmlValidator


def schema_errors(book: Path) -> list[str]:
    """Every error and warning of the validator against the oldest format it knows of this kind."""
    validator = OpenXmlValidator(file_format=FileFormat.OFFICE_2007, max_errors=0)
    result = validator.validate(str(book))
    return [str(error) for error in result.errors]
