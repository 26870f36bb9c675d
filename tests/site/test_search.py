"""The finder, in a real browser, over http and from a folder: a kit is found by whatever a maker remembers of it."""

from __future__ import annotations

from pathlib import Path

import pytest
from kitwright.archive.gather import Archive, kit_of
from kitwright.kit.kit import PastKit
from kitwright.units import Size, figure
from kitwright.work.worked import Worked

pytestmark = pytest.mark.browser


@pytest.fixture(scope="module", params=["http", "folder"])
def start(request, site: Path, address: str) -> str:
    """The home page, over http and from a folder."""
    return address + "index.html" if request.param == "http" else (site / "index.html").as_uri()


def typed_sizes(size: Size, unit: str) -> list[str]:
    """A size as the pages write it, and as people type it."""
    written = f"{figure(size.width, unit)} × {figure(size.height, unit)}"
    plain = [figure(length, unit, plain=True).replace("≈", "") for length in (size.width, size.height)]
    return [written.replace("≈", ""), " x ".join(plain), "x".join(p.replace(" ", "-") for p in plain)]


def test_every_kit_is_found_by_title_tag_size_and_paper(reader, start: str, archive: Archive):
    one = reader()
    one.open(start)
    missed = []
    for entry in archive.entries:
        kit = kit_of(entry)
        asked = [kit.spec.title, kit.spec.title.lower(), *kit.spec.tags[:2]]
        if isinstance(entry, Worked):
            asked += typed_sizes(entry.base.finished, kit.spec.unit)
            asked += [kit.papers[plan.paper].name for plan in entry.plans[:2]]
            first = next(iter(kit.spec.pieces.values()))
            asked.append(typed_sizes(first.size, kit.spec.unit)[1])
        missed += [(kit.id, words) for words in asked if kit.spec.title not in one.search(words)]
    assert missed == []
    assert one.complaints == []


@pytest.mark.parametrize(
    "ways",
    [("5½", "5 1/2", "5-1/2", '5-1/2"', "5½ in"), ("4¼ × 5½", "4 1/4 x 5 1/2", "4-1/4x5-1/2"), ("105 × 148 mm", "105x148", "105 x 148")],
)
def test_a_size_is_found_however_it_is_typed(reader, start: str, ways: tuple[str, ...]):
    one = reader()
    one.open(start)
    found = [one.search(way) for way in ways]
    assert found[0] and all(titles == found[0] for titles in found)


def test_a_title_leads_to_its_page(reader, start: str, archive: Archive):
    one = reader()
    page = one.open(start)
    kit = kit_of(archive.entries[-1])
    assert one.search(kit.spec.title)[0] == kit.spec.title
    page.keyboard.press("Enter")
    page.wait_for_url(f"**/kits/{kit.id}/index.html*")
    assert page.locator("article h1").inner_text() == kit.spec.title


def test_a_past_kit_is_found_too(reader, start: str, archive: Archive):
    past = [kit_of(e) for e in archive.entries if isinstance(e, PastKit)]
    assert past
    one = reader()
    one.open(start)
    assert past[0].spec.title in one.search(past[0].spec.title)
