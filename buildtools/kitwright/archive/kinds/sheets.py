"""The page of what one sheet gives without any kit: common sheets, common cards, a few plain layouts with their pictures."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from kitwright.archive.beforehand import Given, given, part
from kitwright.archive.kinds.paper import tried
from kitwright.archive.page import Kind, Page, Site
from kitwright.archive.picture import Image
from kitwright.proposing.wish import Unit
from kitwright.telling import beforehand as told


@dataclass(frozen=True, slots=True)
class Part:
    """A sheet's part of the page; what is said in both units, in the club's own first."""

    key: str
    names: tuple[str, ...]
    says: tuple[str, ...]
    fronts: Image
    layouts: tuple[tuple[Given, told.Told], ...]


def _pages(site: Site) -> Iterator[Page]:
    club = site.archive.club
    units: tuple[Unit, Unit] = ("mm", "in") if club.region == "metric" else ("in", "mm")
    found, files = given(club.palette, units)
    sheets = [
        Part(
            part(one.sheet.key),
            tuple(one.sheet.size(unit).name for unit in units),
            tuple(told.says([each.proposal for each in one.given if each.question.unit == unit]) for unit in units),
            one.fronts,
            tuple((each, told.layout(each.question, each.proposal)) for unit in units for each in one.given if each.question.unit == unit),
        )
        for one in found
    ]
    yield Page("sheets.md", told.TITLE, {"sheets": sheets, "finder": any(tried(site))}, description=told.DESCRIBED, files=files)


KIND = Kind("sheets.md", _pages, menu=told.TITLE, search=0.2, offered=True)
