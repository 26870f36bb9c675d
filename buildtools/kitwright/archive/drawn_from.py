"""What a drawing of a kit is drawn from: a digest of all that it may show, and rather too much than too little."""

from __future__ import annotations

from kitwright import cache
from kitwright.kit.model import LIVING, Club
from kitwright.work.worked import Worked

BESIDE = ("tagline", "about", "former_addresses", "team_site", "team", "share_picture", "links", "publish")
"""What of a club nothing that is drawn of a kit shows: the pages around it have it."""
ASKED = ("cut_files",)
"""What of a kit may change after its release and counts all the same for what readers are handed."""


def drawn_from(worked: Worked, *, living: bool = True) -> str:
    """A digest of all that a drawing of a kit may show, notes aside.

    Args:
        worked: the kit.
        living: whether what may change after a release counts too; no printable shows anything of that.
    """
    kit, club = worked.kit, worked.kit.club
    spec = {name: getattr(kit.spec, name) for name in type(kit.spec).model_fields if living or name not in LIVING or name in ASKED}
    arrangements = [(sample.design, sample.arrangement) for sample in kit.spec.samples]
    whose = {name: getattr(club, name) for name in Club.model_fields if name not in BESIDE}
    designs = [(design.base, design.faces) for design in worked.designs]
    results = (designs, worked.plans, worked.layouts, worked.troubles)
    return cache.digest(kit.id, spec, arrangements, kit.papers, whose, club.mark, results)
