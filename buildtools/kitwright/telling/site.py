"""What is said of a site: in its folder, and of its pages to those who list them."""

from __future__ import annotations

from typing import Literal

MARKS: dict[Literal["public", "team", "members"], str] = {
    "public": "Made by kitwright build. The next build replaces this whole folder.\n",
    "team": "Made by kitwright build --for team. Not public: keep it behind a password. The next such build replaces this whole folder.\n",
    "members": "Made by kitwright build --for members. Not public: keep it behind a password. The next such build replaces this whole folder.\n",
}
"""What marks a folder as a site of ours, by whom it is for. Sites that stand somewhere carry these very bytes: they never change."""


def your_paper_described(title: str) -> str:
    """What the page of other paper and other batches is about."""
    return f"{title} for any number of cards and from other sheets, such as A4, Letter and 12 × 12 in."


def old_picture(title: str) -> str:
    """What a past kit's picture shows, where its author does not say it."""
    return f"A picture from the printable of {title}"


ADDRESSES = """\
# Addresses that readers were led to, with the places in each page. kitwright publish writes them; keep this file.
# Of a page that is gone, say where it stands now:  kits/old/index.html -> kits/new/index.html
# or that it is gone for good:                      kits/old/index.html -> gone
"""
"""How the file of addresses begins that readers were led to."""
