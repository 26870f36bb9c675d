"""Briefs that can't be written yet."""

from __future__ import annotations

from kitwright.errors import Said


def no_revision(kit: str) -> Said:
    return (
        f"{kit} has no revision yet, and what viewers and members read must not change silently",
        f"release it first:  kitwright release {kit}",
    )


def no_address() -> Said:
    return (
        "the club has no public address, so there is no link in this text",
        "write  address: https://…  into club.yaml, where the site will stand",
    )


def no_guest(kit: str) -> Said:
    return f"{kit} has no guest", "name one under  guests"
