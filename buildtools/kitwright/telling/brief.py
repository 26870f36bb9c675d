"""Text that is ready to send: the announcement, posts, the text under the video, the members' note, the team's brief and the guest's.

The wording stands in `theme/briefs/`, one template each; every size, count and time comes
from the kit. One template gives both Markdown and plain text.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable, Collection, Mapping
from dataclasses import dataclass, replace
from typing import Any, Literal, get_args

from kitwright.errors import Place, UserError
from kitwright.kit.kit import Kit
from kitwright.kit.model import Anniversaries
from kitwright.kit.theme import BRIEFS, Theme
from kitwright.release.calendar import moments
from kitwright.release.people import Person, guests_of, team_of
from kitwright.release.public import published_at
from kitwright.release.revisions import current
from kitwright.release.state import preview_code
from kitwright.release.team import parts_of
from kitwright.telling.members import names_for_members
from kitwright.telling.moments import when_text
from kitwright.telling.month.forms import Form, thinned
from kitwright.telling.month.mail import Mail
from kitwright.telling.month.members import Reading, readings
from kitwright.telling.month.posts import LENGTHS, PostLength, kept_to
from kitwright.telling.month.said import Share, the_card, values
from kitwright.telling.team import asked_of, clocks_of, posts_of
from kitwright.telling.templates import faults_told, sandbox
from kitwright.work.cite import refuse
from kitwright.work.worked import Worked
from kitwright.work.working import work

Whom = Literal["team", "guest", "mail", "posts", "viewers", "members"]
WHOM: tuple[Whom, ...] = get_args(Whom)
PUBLIC: tuple[Whom, ...] = ("mail", "posts", "viewers", "members")
"""What is told from a published revision alone, since it must not change silently."""


@dataclass(frozen=True)
class Post:
    """A text for a social post."""

    length: PostLength
    text: str

    @property
    def too_long(self) -> bool:
        """Whether not even its first and its last paragraph keep to its length."""
        return len(self.text) > self.length.most


class Texts:
    """All texts of a kit at an instant.

    Those for the public are told from the newest revision; before the moment at which the kit
    shows, each has a line on top that says so, which no template can leave out.
    """

    def __init__(
        self,
        kit: Kit,
        theme: Theme,
        people: Mapping[str, Person],
        private: Anniversaries,
        as_of: dt.datetime,
        before: dt.date | None = None,
        share: Share = the_card,
    ) -> None:
        """Take the kit.

        Args:
            kit: the kit as it is now.
            theme: the program's theme, with hers over it.
            people: everybody on file.
            private: members and their days of joining.
            as_of: the instant; what is public by then is told from the newest revision.
            before: the day on which the kit before was shown; None where there is none.
            share: finds the picture that goes with a link to the kit's page.
        """
        self.kit, self.club, self.theme, self.people, self.private = kit, kit.club, theme, people, private
        self.as_of, self.before, self.share = as_of, before, share
        self._published = current(kit, as_of)
        self._values: dict[bool, dict[str, Any]] = {}

    # --- what may be told ------------------------------------------------------------------------

    @property
    def released(self) -> bool:
        """Whether there is a revision, so that the public may be told of it."""
        return self._published is not None

    @property
    def held(self) -> str:
        """The line on top of what is not to be sent yet; empty from the moment on at which the kit shows."""
        shown = published_at(self.kit, self.club)
        if shown is None or shown <= self.as_of:
            return ""
        local = shown.astimezone(moments(self.kit, self.club)[0].local.tzinfo)
        return f"HOLD THIS BACK until {when_text(local)}. Until then nothing of the kit is public."

    # --- for the public ----------------------------------------------------------------------------

    def mail(self, plain: bool = True) -> Mail:
        """The announcement.

        Args:
            plain: its text part as plain text, which a mail has; else as Markdown.

        Raises:
            UserError: the kit has no revision, or a template of hers can't be filled in.
        """
        said = self._said("mail")
        subject = " ".join(self._filled("mail-subject.md", said, plain=True).split())
        html = self._filled("mail.html", said | {"held": self.held}, plain=True)
        return Mail(f"HOLD: {subject}" if self.held else subject, self._kept("mail.md", said, plain), thinned(html))

    def posts(self, plain: bool = True) -> tuple[Post, ...]:
        """A post in each length, without the line that holds it back.

        Raises:
            UserError: as for `mail`.
        """
        said = self._said("posts")
        return tuple(Post(length, kept_to(thinned(self._filled(f"post-{length.name}.md", said, plain)), length.most)) for length in LENGTHS)

    def picture_text(self) -> str:
        """What the picture that goes with a link shows, for those who can't see it; and where its papers are from, if that has to be told."""
        picture = self._said("posts")["picture"]
        return "\n\n".join(filter(None, (picture.alt, picture.caption)))

    def viewers(self, plain: bool = True) -> str:
        """The text under the video.

        Raises:
            UserError: as for `mail`.
        """
        return self._kept("viewers.md", self._said("viewers"), plain)

    def members(self, plain: bool = True) -> tuple[tuple[Reading, str], ...]:
        """The members' note, for each group with something of its own to be told.

        Raises:
            UserError: as for `mail`.
        """
        said, found = self._said("members"), {}
        for reading in readings(self.private, self.kit, self.before):
            more = {"reading": reading, "anniversaries": reading.anniversaries, "extras": names_for_members(self._told(True))}
            # A template of hers that tells no groups apart has one note for all.
            found[self._kept("members.md", said | more, plain)] = reading
        return tuple((reading, text) for text, reading in found.items())

    # --- for the team ------------------------------------------------------------------------------

    def team(self, plain: bool = True) -> str:
        """The team's brief.

        Raises:
            UserError: an unknown person or moment, or a template of hers can't be filled in.
        """
        return self._brief("team", {}, plain)

    def guests(self, plain: bool = True) -> tuple[tuple[str, str], ...]:
        """The brief of each guest, by her key.

        Raises:
            UserError: the kit has none, and as for `team`.
        """
        keys = dict.fromkeys(person.key for person, _ in guests_of(self.kit, self.people))
        if not keys:
            raise UserError("briefs.no-guest", kit=self.kit.id, place=Place(self.kit.document.file))
        return tuple((key, self._brief("guest", self._asked(self._told(False), {key}), plain)) for key in keys)

    def _brief(self, whom: Whom, more: Mapping[str, Any], plain: bool) -> str:
        return thinned(self._filled(f"{whom}.md", {**self._said(whom), **more}, plain))

    def _asked(self, kit: Kit, keys: Collection[str]) -> dict[str, Any]:
        """What is asked of these for a kit whose prose is filled in."""
        parts = parts_of(kit, self.club, self.people)
        asked = asked_of(kit, self.club, [part for part in parts if part.person.key in keys])
        # Everybody once, however much is asked of her.
        each = list({(one.name, one.times, one.post, one.post_from): one for one in asked}.values())
        idle = [part.person.name for part in parts if not part.tasks and part.person.agreed("name")]
        return {"asked": asked, "each": each, "clocks": clocks_of(each), "posts": posts_of(each), "idle": idle}

    # --- filled in -----------------------------------------------------------------------------------

    def _said(self, whom: Whom) -> dict[str, Any]:
        """What a template is given. The team works from the kit as it stands; everybody else from what was published."""
        public = whom in PUBLIC
        if public and self._published is None:
            raise UserError("briefs.no-revision", kit=self.kit.id, place=Place(self.kit.document.file))
        if public not in self._values:
            worked, kit = self._worked(public), self._told(public)
            said = values(worked, kit, self.club, self.people, self.as_of, self.share if public else the_card)
            code = preview_code(worked) if self._published is None else ""
            team = self._asked(kit, {person.key for person, _ in team_of(self.kit, self.people)})
            self._values[public] = said | team | {"code": code, "anniversaries": (), "extras": ()}
        return self._values[public]

    def _worked(self, public: bool) -> Worked:
        """The kit as it was published, or as it stands."""
        worked = self._published if public and self._published else work(self.kit)
        refuse(worked)
        return worked

    def _told(self, public: bool) -> Kit:
        """The kit as it is now, with its prose filled in."""
        return replace(self.kit, spec=self._worked(public).kit.spec)

    def _kept(self, name: str, said: Mapping[str, Any], plain: bool) -> str:
        """A text for the public, with the line on top that holds it back."""
        return thinned("\n\n".join(filter(None, (self.held, self._filled(name, said, plain)))))

    def _filled(self, name: str, said: Mapping[str, Any], plain: bool) -> str:
        given = {**said, "form": Form(plain)}

        def filled(theme: Theme) -> str:
            return sandbox(theme, BRIEFS, autoescape=_is_html).get_template(name).render(given)

        mine = {str(file.path): file for file in self.theme.hers_in(BRIEFS).values()}
        with faults_told(mine, lambda: filled(Theme(self.theme.program))):
            return filled(self.theme)


def _is_html(name: str | None) -> bool:
    return bool(name and name.endswith(".html"))


def brief(
    kit: Kit,
    whom: Whom,
    theme: Theme,
    people: Mapping[str, Person],
    private: Anniversaries,
    as_of: dt.datetime,
    before: dt.date | None = None,
    *,
    plain: bool = False,
) -> str:
    """The text for somebody, as a command prints it.

    Args:
        kit: the kit as it is now.
        whom: for whom.
        theme: the program's theme, with hers over it.
        people: everybody on file.
        private: members and their days of joining.
        as_of: the instant; what is public by then is told from the newest revision.
        before: the day on which the kit before was shown; None where there is none.
        plain: plain text instead of Markdown.

    Raises:
        UserError: a text for the public before the kit has a revision, or one for guests that a kit does not have;
            or a template of hers can't be filled in.
    """
    return printed(Texts(kit, theme, people, private, as_of, before), whom, plain)


def printed(texts: Texts, whom: Whom, plain: bool) -> str:
    """A text as a command prints it; several, each with its heading."""
    told: dict[Whom, Callable[[], str]] = {
        "team": lambda: texts.team(plain),
        "guest": lambda: "\n".join(text for _, text in texts.guests(plain)),
        "mail": lambda: _mail(texts.mail(plain)),
        "posts": lambda: _posts(texts, Form(plain)),
        "viewers": lambda: texts.viewers(plain),
        "members": lambda: _notes(texts.members(plain), Form(plain)),
    }
    return told[whom]()


def subject_line(subject: str) -> str:
    """The line above a mail's text."""
    return f"Subject: {subject}"


def _mail(mail: Mail) -> str:
    return f"{subject_line(mail.subject)}\n\n{mail.text}"


def _posts(texts: Texts, form: Form) -> str:
    said = [texts.held] if texts.held else []
    for post in texts.posts(form.plain):
        said += [form.heading(f"{post.length.name.capitalize()}: {len(post.text)} of {post.length.most} characters"), post.text]
    said += [form.heading("The picture, for those who can’t see it"), texts.picture_text()]
    return thinned("\n\n".join(said))


def _notes(notes: tuple[tuple[Reading, str], ...], form: Form) -> str:
    if len(notes) == 1:
        return notes[0][1]
    return thinned("\n\n".join(f"{form.heading(note_for(reading))}\n\n{text}" for reading, text in notes))


def note_for(reading: Reading) -> str:
    """For whom a note is."""
    match reading.group:
        case "joined":
            return f"For who joined since the last kit: {reading.them}"
        case "year":
            return f"For who joined in this month a year or more ago: {reading.them}"
        case _:
            return "For everybody else"
