"""For whom a site is built: everybody, the team, or the members."""

from __future__ import annotations

from typing import Literal

from kitwright.kit.project import SITE

Audience = Literal["public", "team", "members"]
"""`public`: what is due, for everybody. `team`: upcoming kits too, never for search engines.
`members`: the files for members alone. The last two belong behind a password."""
AUDIENCES: tuple[Audience, ...] = ("public", "team", "members")
FOLDERS: dict[Audience, str] = {"public": SITE, "team": "site-team", "members": "site-members"}
"""Where each goes when nothing else is asked for, beside `kits/`."""
