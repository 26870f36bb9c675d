"""Every kind of page, in the order of the menu. A new one is a module here, its template, and its line below."""

from kitwright.archive.kinds import (
    asked,
    errata,
    gallery,
    kit,
    members,
    mycopy,
    overview,
    paper,
    people,
    plain,
    replaced,
    team,
    your_paper,
    yours,
)
from kitwright.archive.page import Kind

KINDS: tuple[Kind, ...] = (
    overview.HOME,
    team.HOME,
    overview.ALL_KITS,
    paper.KIND,
    asked.KIND,
    plain.WORDS,
    plain.CARE,
    errata.ALL,
    mycopy.KIND,
    people.KIND,
    plain.NUMBERS,
    overview.BY_TAG,
    kit.KIND,
    kit.PAST,
    gallery.KIND,
    your_paper.KIND,
    errata.OF_KIT,
    replaced.KIND,
    team.OF_KIT,
    yours.KIND,
    members.HOME,
    members.OF_KIT,
)
