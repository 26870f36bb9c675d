"""The demo archive's kits, read once in each test process and worked out once; no test changes them."""

from __future__ import annotations

from functools import cache
from pathlib import Path

from kitwright.kit.kit import Kit
from kitwright.kit.read import kit_folders, read_club, read_kit
from kitwright.otherwise.arrangements import arrangements_of
from kitwright.otherwise.arrangements.found import Arrangements
from kitwright.work.worked import Worked
from kitwright.work.working import work

KITS = Path(__file__).parents[1] / "kits"
CLUB = read_club(KITS)
READ = [read_kit(folder, CLUB) for folder in kit_folders(KITS)]
"""All of them, those of which only an old printable is left too."""
OWN = [kit for kit in READ if isinstance(kit, Kit)]
BY_ID = {kit.id: kit for kit in OWN}


@cache
def worked(kit_id: str) -> Worked:
    """A demo kit, worked out."""
    return work(BY_ID[kit_id])


@cache
def arranged(kit_id: str) -> Arrangements:
    """How else its pieces go."""
    return arrangements_of(worked(kit_id))
