"""What a kit's page says besides its drawings, as readers meet it: everything within reach, nothing for members alone."""

from __future__ import annotations

from pathlib import Path

import pytest
from archive.everybody import faults
from archive.reading import DESKTOP, PHONE
from kitwright.archive.gather import Archive
from kitwright.work.worked import Worked


def shaped(archive: Archive) -> str:
    """The page of a demo kit with shaped or notched pieces."""
    kit = next(entry.kit for entry in archive.entries if isinstance(entry, Worked) and any(p.notch for p in entry.kit.spec.pieces.values()))
    return f"kits/{kit.id}/index.html"


def test_every_kit_offers_six_printables_and_its_cut_files(site: Path, archive: Archive):
    for entry in archive.entries:
        if not isinstance(entry, Worked):
            continue
        kit = entry.kit
        folder, names = (
            site / "kits" / kit.id,
            [f"{kit.id}-{edition}{ink}.pdf" for edition in ("letter", "a4") for ink in ("", "-light", "-outline")],
        )
        text = (folder / "index.html").read_text(encoding="utf-8")
        for name in names:
            assert f'href="{name}"' in text and (folder / name).read_bytes().startswith(b"%PDF")
        public = kit.spec.cut_files == "public"
        assert (folder / f"{kit.id}-cut-files.zip").is_file() == public
        assert not list(folder.rglob("*.dxf"))
        assert text.count('class="kw-button"') == 2, "the printable in both editions leads"


@pytest.mark.browser
@pytest.mark.parametrize("viewport, scheme", [(PHONE, "light"), (DESKTOP, "dark")], ids=["phone", "desktop"])
def test_what_is_folded_away_opens_by_the_keyboard_and_is_sound(reader, address: str, archive: Archive, viewport, scheme):
    one = reader(viewport, scheme)
    page = one.open(address + shaped(archive))
    summaries = page.locator("details.kw-inks > summary, details.kw-how > summary")
    assert summaries.count() >= 3
    for i in range(summaries.count()):
        summaries.nth(i).focus()
        page.keyboard.press("Enter")
    assert page.evaluate("[...document.querySelectorAll('details.kw-inks, details.kw-how')].every(d => d.open)")
    page.wait_for_load_state("networkidle")
    assert page.evaluate("document.documentElement.scrollWidth") <= viewport["width"]
    assert faults(page, "folded out") == []
    assert one.complaints == []
