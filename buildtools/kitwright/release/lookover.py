"""Look over whatever of a kit may change after its release: moments, people, questions, codes, extras."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from kitwright.errors import UserError
from kitwright.findings import LEVELS, Finding
from kitwright.release import calendar, people
from kitwright.release.answers import answers
from kitwright.release.codes import read_code
from kitwright.release.members import extras_of
from kitwright.release.people import Person
from kitwright.release.revisions import club_drift, guard
from kitwright.steps import steps_of
from kitwright.worked import Worked

PHOTOS = "photos"
"""The folder of pictures that the site shows whole."""


def look_over(worked: Worked, everybody: Mapping[str, Person], *, draft: bool = False) -> list[Finding]:
    """Every finding beside those of `kitwright.check`, errors first.

    Args:
        worked: the kit as it is now, worked out.
        everybody: the people on file.
        draft: whether a released kit may differ from its last revision, as in the author's own preview.
    """
    kit = worked.kit
    found = [*calendar.findings(kit, kit.club), *people.findings(kit, everybody), *_codes(worked), *_video(worked), *_extras(worked)]
    for read in (lambda: answers(worked), lambda: extras_of(kit)):
        found += _tried(read)
    if not draft:
        found += filter(None, (guard(kit), club_drift(kit)))
    return sorted(dict.fromkeys(found), key=lambda f: (LEVELS.index(f.level), str(f.place.file), f.place.line or 0))


def _tried(read: Callable[[], object]) -> list[Finding]:
    try:
        read()
    except UserError as error:
        return [Finding("error", error.place, error.problem, error.remedy)]
    return []


def _codes(worked: Worked) -> list[Finding]:
    found = []
    for i, test in enumerate(worked.kit.spec.tested):
        try:
            read_code(test.code)
        except UserError as error:
            found.append(Finding("error", worked.kit.place("tested", i), error.problem, error.remedy))
    return found


def _video(worked: Worked) -> list[Finding]:
    video, there = worked.kit.spec.video, {step.stage for step in steps_of(worked)}
    return [Finding("warning", worked.kit.place("video", "steps", stage), f"the video has a time for “{stage}”, a step that this kit does not have", "take it out, or name it under  chapters")
            for stage in (video.steps if video else {}) if stage not in there]


def _extras(worked: Worked) -> list[Finding]:
    return [Finding("error", worked.kit.place("members", i, "file"), f"{extra.file} is for members, and everything in {PHOTOS} is in the public site", "keep it in another folder, such as extras")
            for i, extra in enumerate(worked.kit.spec.members) if extra.file.replace("\\", "/").split("/")[0] == PHOTOS]
