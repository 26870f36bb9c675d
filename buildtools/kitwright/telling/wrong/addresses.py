"""Printables whose code leads to where the site stood before."""

from __future__ import annotations

from collections.abc import Sequence

from kitwright.errors import Said
from kitwright.telling.words import listed, number

NAMED = 3
"""Kits that are named in one warning; `check` lists all."""


def many_lead_elsewhere(kits: Sequence[str], address: str) -> Said:
    more = len(kits) - NAMED
    named = listed([*kits[:NAMED], *([f"{more} more"] if more > 0 else [])])
    others = "  kitwright check  lists them." if more > 0 else ""
    return (
        f"{number(len(kits), 'kit has a printable', 'kits have printables')} whose code leads to {address}, where the site stood before: {named}.{others}",
        _remedy(address, ""),
    )


def leads_elsewhere(kit: str, address: str, revisions: Sequence[tuple[int, str]]) -> Said:
    which = listed([f"revision {revision} (code {code})" for revision, code in revisions])
    return f"the code on the printable of {kit} leads to {address}, where the site stood before: {which}", _remedy(address, f" {kit}")


def _remedy(address: str, kit: str) -> str:
    return (
        f"let {address} lead on to the new address, and say so below it with  former addresses: [{address}];  "
        f"what is on paper needs that in any case. Or publish a printable that leads to the new one with  kitwright release{kit} --new-address"
    )


def none() -> Said:
    return "the club has no address, so no code could lead there", "say  address: https://cards.example/"
