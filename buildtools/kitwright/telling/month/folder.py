"""All texts of the month as files of one folder, and a list of what each is."""

from __future__ import annotations

from kitwright.errors import UserError
from kitwright.release.calendar import moments
from kitwright.release.public import published_at
from kitwright.telling.brief import Texts, note_for, subject_line
from kitwright.telling.month.mail import message, sender_of
from kitwright.telling.month.members import Group
from kitwright.telling.words import month_text

CONTENTS = "contents.txt"
_NOTES: dict[Group, str] = {"joined": "members-joined.txt", "year": "members-year.txt", "others": "members.txt"}


def files_of(texts: Texts) -> dict[str, bytes]:
    """Every text that there is, by the name of its file: what is for the public once the kit is released, a guest's brief where there is one.

    Raises:
        UserError: an unknown person or moment, or a template of hers can't be filled in.
    """
    found: dict[str, tuple[str, bytes]] = {"team.txt": ("The team’s brief", texts.team().encode())}
    if texts.kit.spec.guests:
        for key, text in _guests(texts):
            found[f"guest-{key}.txt"] = ("The brief of a guest", text.encode())
    if texts.released:
        found |= _public(texts)
    return {CONTENTS: _contents(texts, {name: what for name, (what, _) in found.items()}).encode()} | {
        name: data for name, (_, data) in found.items()
    }


def _guests(texts: Texts) -> tuple[tuple[str, str], ...]:
    try:
        return texts.guests()
    except UserError as error:
        if error.code == "briefs.no-guest":
            # All of them asked to be forgotten.
            return ()
        raise


def _public(texts: Texts) -> dict[str, tuple[str, bytes]]:
    mail, shown = texts.mail(), published_at(texts.kit, texts.club)
    found = {
        "mail.txt": ("The announcement, its subject on the first line", f"{subject_line(mail.subject)}\n\n{mail.text}".encode()),
        "mail.html": ("The same with a picture, to paste into a mail program", mail.html.encode()),
    }
    if sender_of(texts.club) and shown:
        local = shown.astimezone(moments(texts.kit, texts.club)[0].local.tzinfo)
        found["mail.eml"] = ("The same as a whole mail, to open in a mail program", message(mail, texts.club, local))
    for post in texts.posts():
        said = "\n\n".join(filter(None, (texts.held, post.text)))
        found[f"post-{post.length.name}.txt"] = (f"A post of up to {post.length.most:,} characters", f"{said}\n".encode())
    found["picture.txt"] = (
        "What the picture that goes with the link shows, for those who can’t see it",
        f"{texts.picture_text()}\n".encode(),
    )
    found["video.txt"] = ("The text under the video", texts.viewers().encode())
    for reading, text in texts.members():
        what = f"The members’ note. {note_for(reading)}" if reading.names else "The members’ note"
        found[_NOTES[reading.group]] = (what, text.encode())
    return found


def _contents(texts: Texts, found: dict[str, str]) -> str:
    kit = texts.kit
    lines = [f"{kit.spec.title}: the texts for {month_text(kit.month)}", ""]
    if texts.held:
        lines += [texts.held, ""]
    elif not texts.released:
        lines += ["What is for the public comes once the kit is released.", ""]
    return "\n".join([*lines, *(f"{name}: {what}" for name, what in found.items()), ""])
