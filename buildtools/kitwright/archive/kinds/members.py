"""The members' folder: files that are never in the public site, with a page for each kit.

A static site can't keep a file from anybody, so these go to a folder of their own, for a
place that a password guards. Only kits that are public already are in it.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from kitwright.archive.given import FILES as FILES
from kitwright.archive.given import Given
from kitwright.archive.given import files_for_members as files_for_members
from kitwright.archive.page import Kind, Page, Site
from kitwright.kit.project import ARCHIVE_PAGE, public_address


def _given(site: Site) -> list[tuple[str, Given]]:
    """Of every kit that has any, newest last."""
    return [(one.id, replace(one.listing.given, kit=one.kit)) for one in site.kits if one.listing.given]


def _home(site: Site) -> Iterator[Page]:
    kits = [given for _, given in reversed(_given(site))]
    yield Page("index.md", "", {"kits": kits, "public": public_address(site.archive.club, ARCHIVE_PAGE)})


def _of_kit(site: Site) -> Iterator[Page]:
    for one in site.kits:
        if given := one.listing.given:
            shown = replace(given, kit=one.kit)
            yield Page(
                f"kits/{one.id}/index.md",
                one.kit.spec.title,
                {"one": shown},
                kit=one.id,
                given=given.data,
                again=one.again,
                key=one.listing.key,
            )


HOME = Kind("members.md", _home, audiences=("members",), menu="For members")
OF_KIT = Kind("memberkit.md", _of_kit, audiences=("members",))
