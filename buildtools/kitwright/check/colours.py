"""A club's own colours: which are drawn a little darker than they were typed."""

from __future__ import annotations

from collections.abc import Iterator

from kitwright.colours import hex_text, parts
from kitwright.findings import Finding
from kitwright.kit.model import Club


def of_club(club: Club) -> Iterator[Finding]:
    """A hint for each colour that can be read only a little darker; what can't be read at all stops the reading of the club."""
    for role, typed in club.typed_colours:
        drawn = club.palette.light["paper" if role == "page" else role]
        if parts(drawn) != typed:
            yield Finding("hint", club.place("colours", role), "colours.darker", role=role, colour=hex_text(typed), drawn=drawn)
