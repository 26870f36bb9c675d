"""The schemas for editors, renewed beside what was asked for."""

from __future__ import annotations

from pathlib import Path

from kitwright.archive.schemas import write_schemas
from kitwright.cli.terminal import tell_findings
from kitwright.errors import Place, UserError
from kitwright.findings import Finding


def renew_schemas(kits: Path) -> None:
    """Put the schemas for editors in place; what was asked for is done, with or without them."""
    try:
        write_schemas(kits)
    except UserError as error:
        tell_findings([Finding("warning", error.place or Place(kits), error.code, **error.values)])
