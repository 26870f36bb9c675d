"""Look over whatever of a kit may change after its release: moments, people, questions, codes, extras."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from pathlib import Path

from kitwright.errors import Place, UserError
from kitwright.findings import Finding, errors_in, in_order
from kitwright.kit.folder import files_below, own_file
from kitwright.kit.kit import Kit
from kitwright.kit.picture import ENDINGS, NoPicture, bare, decoded, read
from kitwright.kit.read import shown
from kitwright.release import calendar, people, team
from kitwright.release.answers import read_answers
from kitwright.release.codes import read_code
from kitwright.release.guard import club_drift, guard
from kitwright.release.members import extras_of
from kitwright.release.people import Person
from kitwright.release.readdress import astray_of
from kitwright.work.stages import stages_of
from kitwright.work.worked import Worked

PHOTOS = "photos"
"""The folder whose pictures the site shows whole."""
TRIED = 64
"""Pixels of a picture that is only tried: JPEG is decoded faster so."""
LITTER = {"thumbs.db", "desktop.ini"}
QUIET = {".txt", ".md"}
"""Notes that an author keeps beside her pictures: not published either, and nobody expects it."""


def look_over(worked: Worked, everybody: Mapping[str, Person], *, draft: bool = False) -> list[Finding]:
    """Every finding beside those of `check`, errors first.

    Args:
        worked: the kit as it is now, worked out.
        everybody: the people on file.
        draft: whether a released kit may differ from its last revision, as in the author's own preview.
    """
    kit = worked.kit
    found = [
        *calendar.findings(kit, kit.club),
        *people.findings(kit, everybody),
        *team.findings(kit, kit.club),
        *_codes(worked),
        *_video(worked),
        *_extras(worked),
        *_pictures(kit, everybody),
        *_unshown(kit),
    ]
    # The answers that are worked out can't be wrong, and working them out may take long.
    for tried in (lambda: read_answers(worked), lambda: extras_of(kit)):
        found += _tried(tried)
    if not draft:
        # Where something was touched, that is all there is to say.
        stopped = guard(kit)
        found += filter(None, (stopped, club_drift(kit), None if stopped else astray_of(kit)))
    return in_order(found)


def _tried(read: Callable[[], object]) -> list[Finding]:
    try:
        read()
    except UserError as error:
        return list(errors_in(error))
    return []


def _codes(worked: Worked) -> list[Finding]:
    found: list[Finding] = []
    for i, test in enumerate(worked.kit.spec.tested):
        try:
            read_code(test.code)
        except UserError as error:
            found += errors_in(error, worked.kit.place("tested", i))
    return found


def _pictures(kit: Kit, everybody: Mapping[str, Person]) -> list[Finding]:
    """Pictures that a build would stop at: the kit's own, the samples', and the portraits of whoever is named here, as far as she agreed to have them shown."""
    spec = kit.spec
    named = {task.who for task in (*spec.team, *spec.guests)} | {sample.by for sample in spec.samples} | {spec.by}
    said = [(kit.folder, photo.file, kit.place("photos", i, "file")) for i, photo in enumerate(spec.photos)]
    said += [
        (everybody[sample.by].folder, sample.photo, kit.place("samples", i, "photo"))
        for i, sample in enumerate(spec.samples)
        if sample.by in everybody and everybody[sample.by].agreed("samples") and sample.photo and sample.photo != people.NO_PICTURE
    ]
    found = [*portraits({key: everybody[key] for key in sorted(filter(None, named)) if key in everybody})]
    for i, sample in enumerate(spec.samples):
        if sample.photo and sample.photo != people.NO_PICTURE and not sample.alt:
            found.append(Finding("warning", kit.place("samples", i, "photo"), "pieces.photo-without-text", file=sample.photo))
    return [*found, *_unreadable(said)]


def portraits(everybody: Mapping[str, Person]) -> list[Finding]:
    """What is wrong with the pictures of people, as far as they agreed to have them shown."""
    shown_ones = [person for person in everybody.values() if person.agreed("photo") and person.spec.photo]
    said = [(person.folder, person.spec.photo or "", person.document.place(("photo",))) for person in shown_ones]
    wordless = [
        Finding("warning", place, "pieces.photo-without-text", file=name)
        for person, (_, name, place) in zip(shown_ones, said)
        if not person.spec.alt
    ]
    return [*_unreadable(said), *wordless]


def _unreadable(said: list[tuple[Path, str, Place]]) -> list[Finding]:
    """Files that can't be read as pictures: where they lie, how they are named, and where."""
    found = []
    for folder, name, place in said:
        try:
            file = own_file(folder, name, place)
        except UserError:
            # Missing, or elsewhere: told with the people.
            continue
        if wrong := no_picture(file):
            found.append(Finding("error", place, wrong.code, name=name, **wrong.values))
    return found


def no_picture(file: Path) -> NoPicture | None:
    """Why a file is no picture for a page; None where it is one."""
    try:
        decoded(bare(read(file)), TRIED)
    except NoPicture as error:
        return error
    return None


def _unshown(kit: Kit) -> list[Finding]:
    """What lies in the folder of photos and is not published, since it is no picture."""
    folder, named = kit.folder / PHOTOS, {kit.folder / photo.file for photo in kit.spec.photos}
    if folder.is_symlink() and not files_below(folder):
        return [Finding("warning", Place(shown(folder)), "lookover.linked-photos")]
    found = []
    for file in files_below(folder):
        if file in named or file.name.startswith(".") or file.name.lower() in LITTER or file.suffix.lower() in QUIET:
            continue
        if file.suffix.lower() not in ENDINGS:
            found.append(Finding("warning", Place(shown(file)), "pictures.another-file", name=file.name, endings=tuple(ENDINGS)))
        elif wrong := no_picture(file):
            found.append(Finding("warning", Place(shown(file)), wrong.code, name=file.name, published=False, **wrong.values))
    return found


def _video(worked: Worked) -> list[Finding]:
    there, video = stages_of(worked), worked.kit.spec.video
    if video is None:
        return []
    told = [stage for stage in there if stage in video.steps]
    early = [(one, before) for before, one in zip(told, told[1:]) if video.steps[one] < video.steps[before]]
    place = worked.kit.place
    return [
        *(Finding("hint", place("video", "steps", one), "lookover.video-out-of-order", stage=one, before=before) for one, before in early),
        *(
            Finding("warning", place("video", "steps", stage), "lookover.video-of-no-stage", stage=stage, stages=tuple(there))
            for stage in video.steps
            if stage not in there
        ),
    ]


def _extras(worked: Worked) -> list[Finding]:
    return [
        Finding("error", worked.kit.place("members", i, "file"), "lookover.members-in-photos", file=extra.file, folder=PHOTOS)
        for i, extra in enumerate(worked.kit.spec.members)
        if extra.file.replace("\\", "/").split("/")[0] == PHOTOS
    ]
