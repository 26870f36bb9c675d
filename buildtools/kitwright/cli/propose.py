"""`kitwright propose`: from the sheets on the table to layouts."""

from __future__ import annotations

import json
import os
import sys
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, Any, NoReturn, TypeVar

import click

from kitwright import cache
from kitwright.cli.asked import kit_of, root_of, sound
from kitwright.cli.schemas import renew_schemas
from kitwright.cli.stopping import Stop, stoppable
from kitwright.cli.terminal import FINDINGS, OK, say, say_wrapped, tell_findings
from kitwright.cli.typed import typed_here
from kitwright.cli.worded import Worded
from kitwright.errors import Place, UserError
from kitwright.findings import Finding
from kitwright.kit.project import KITS
from kitwright.kit.read import check_id, read_club, shown
from kitwright.proposing.records import Answer, Proposal
from kitwright.telling import proposals as words
from kitwright.telling.proposals_json import plain_data

if TYPE_CHECKING:
    from kitwright.archive.proposals import LookedAt
    from kitwright.archive.proposed import PiecesOf
    from kitwright.kit.model import Club
    from kitwright.proposing.wish import Wish
    from kitwright.work.worked import Worked

Chosen = TypeVar("Chosen")
FOLDER = "proposals"
"""Where the pictures go when nothing else is asked for: the top of the archive."""


@click.command("propose", cls=Worded, prints=True)
@click.option("--paper", multiple=True, metavar="SHEETS")
@click.option("--card", multiple=True, metavar="SIZE")
@click.option("--cards", metavar="N")
@click.option("--fold", metavar="NAME")
@click.option("--envelope", metavar="NAME")
@click.option("--mat", metavar="LENGTH")
@click.option("--cardstock", metavar="SHEET")
@click.option("--designs", metavar="N")
@click.option("--pieces", metavar="N-M")
@click.option("--kinds", metavar="N")
@click.option("--family", multiple=True, metavar="NAME")
@click.option("--border", multiple=True, metavar="LENGTH")
@click.option("--gap", multiple=True, metavar="LENGTH")
@click.option("--band", metavar="LENGTH")
@click.option("--grid", metavar="STEP")
@click.option("--punch", multiple=True, metavar="SIZE")
@click.option("--die", multiple=True, metavar="SIZE")
@click.option("--share", is_flag=True)
@click.option("--whole", is_flag=True)
@click.option("--waste", metavar="PART")
@click.option("--slack", metavar="LENGTH")
@click.option("--unit", metavar="in|mm")
@click.option("--question", type=click.Path(path_type=Path), metavar="FILE")
@click.option("--pick", type=click.IntRange(1, 999), metavar="N")
@click.option("--into", metavar="KIT")
@click.option("--improve", metavar="KIT")
@click.option("--same-pieces", "same", metavar="KIT")
@click.option("--out", type=click.Path(path_type=Path, file_okay=False))
@click.option("--json", "as_json", is_flag=True)
@click.pass_context
def command(
    ctx: click.Context,
    question: Path | None,
    pick: int | None,
    into: str | None,
    improve: str | None,
    same: str | None,
    out: Path | None,
    as_json: bool,
    **wishes: Any,
) -> None:
    from kitwright.proposing.asked import read_question

    root = root_of(ctx)
    of = improve if improve is not None else same
    if of is not None:
        if (improve is not None and same is not None) or question or out or typed(wishes):
            raise UserError("proposing.of-a-kit-alone", option="improve" if improve is not None else "same-pieces")
    if (pick is None) != (into is None):
        raise UserError("proposing.pick-without-into" if into is None else "proposing.into-without-pick")
    name = kit_named(root, into) if into is not None else None
    if of is not None:
        worked = sound(ctx, kit_of(root, of, "planned"))
        if pick is not None and name is not None:
            (make_better if improve is not None else make_again)(root, worked, pick, name)
            ctx.exit(OK)
        of_kit(ctx, worked, improve is not None, as_json)
    club = read_club(root / KITS)
    wish = read_question(typed(wishes), club, question)
    folder = out or (shown(root / FOLDER) if Path.cwd().resolve().is_relative_to(root) else Path(FOLDER))
    drawn = out is not None or not as_json and pick is None
    again = line(ctx)
    look = looked_at(folder, club, root, again, question is not None) if drawn else None
    with cache.using(root / cache.FOLDER), stoppable() as stop:
        answer = answer_of(wish, stop, look)
        if not answer.proposals:
            if as_json:
                click.echo(json.dumps(plain_data(answer), indent=1, ensure_ascii=False))
            else:
                nothing(answer, question is not None)
        elif pick is not None and name is not None:
            make(root, answer, pick, name)
        elif as_json:
            click.echo(json.dumps(plain_data(answer), indent=1, ensure_ascii=False))
        else:
            told(answer, again, question is not None)
    if drawn and answer.proposals:
        say(words.pictured(folder / "index.html"), err=as_json)
    ctx.exit(128 + stop.number if stop.number is not None else OK if answer.proposals else FINDINGS)


def of_kit(ctx: click.Context, worked: Worked, improved: bool, as_json: bool) -> NoReturn:
    """The small questions about a kit that is there: nearest sizes that better it, or what else its pieces make."""
    lines: list[str]
    if improved:
        from kitwright.proposing.improve import improve
        from kitwright.telling import improving

        nearby = improve(worked)
        some, data, lines = bool(nearby.nearby), improving.as_json(nearby), improving.improve_text(nearby)
        option = "--improve"
    else:
        from kitwright.proposing.same import same_pieces
        from kitwright.telling import same_pieces as telling

        same = same_pieces(worked)
        some, data, lines = bool(same.found), telling.as_json(same), telling.same_text(same)
        option = "--same-pieces"
    if some:
        lines.append(words.picks(typed_here().line("propose", option, worked.kit.id, "--pick", "1", "--into", words.SOME_KIT)))
    click.echo(json.dumps(data, indent=1, ensure_ascii=False) if as_json else "\n".join(lines))
    ctx.exit(OK if some else FINDINGS)


def typed(wishes: dict[str, Any]) -> dict[str, Any]:
    """What was typed, by the words of a question: an option that was not typed says nothing."""
    found = {key: value for key, value in wishes.items() if value not in (None, (), False)}
    return {key: "yes" if value is True else list(value) if isinstance(value, tuple) else value for key, value in found.items()}


def line(ctx: click.Context) -> Callable[[int], str]:
    """How one of the answers is taken: the question again, since the same question gives the same answers, and its number."""
    said: list[str] = []
    for param in ctx.command.params:
        value = ctx.params.get(param.name or "")
        if param.name in ("pick", "into", "out", "as_json") or value in (None, (), False):
            continue
        for each in value if isinstance(value, tuple) else (value,):
            said += [param.opts[0], *([] if each is True else [str(each)])]
    return lambda number: typed_here().line("propose", *said, "--pick", str(number), "--into", words.SOME_KIT)


# --- searching ------------------------------------------------------------------------------------


def looked_at(folder: Path, club: Club, root: Path, again: Callable[[int], str], in_file: bool) -> LookedAt:
    """The folder of pictures.

    Raises:
        UserError: it holds something else.
    """
    # Loaded late: what is only printed needs no drawing.
    from kitwright.archive.proposals import LookedAt
    from kitwright.kit.theme import read_theme

    return LookedAt(folder, club, read_theme(root), again, in_file)


def answer_of(wish: Wish, stop: Stop, look: LookedAt | None = None) -> Answer:
    """What was kept of the very same question, or what is found now; pictures are drawn as soon as there is something to see."""
    from kitwright.proposing.answered import answered

    key = cache.digest("proposals", wish)
    answer = cache.known("proposals", key)
    if not isinstance(answer, Answer):
        with progress(look) as told:
            answer = answered(wish, told, stop.asked)
        if not stop.asked():
            cache.note("proposals", key, answer)
    if look and answer.proposals:
        look.put(answer)
    return answer


@contextmanager
def progress(look: LookedAt | None) -> Iterator[Callable[[Answer], None]]:
    """Tells on a terminal how far it is, and has the first layouts drawn while the rest is looked for."""
    drawn: list[Answer] = []

    def first(answer: Answer) -> None:
        if look and answer.proposals and not drawn:
            drawn.append(answer)
            look.put(answer, done=False)

    if not sys.stderr.isatty():
        yield first
        return
    # Loaded late: only a terminal shows how far it is.
    from kitwright.cli.tables import console

    with console(stderr=True).status(words.LOOKING) as status:

        def told(answer: Answer) -> None:
            status.update(words.so_far(answer))
            first(answer)

        yield told


# --- telling, writing -----------------------------------------------------------------------------


def told(answer: Answer, again: Callable[[int], str], file: bool) -> None:
    """The dozen as a table, how much was looked at, and how one is taken."""
    from kitwright.cli.tables import print_tables

    say_wrapped(words.asked(answer.wish))
    print_tables([words.table(answer)])
    say()
    for text in (*words.ways_out(answer, file), *words.completeness(answer)):
        say_wrapped(text)
    say(words.picks(again(answer.proposals[0].number)))


def kit_named(root: Path, into: str) -> str:
    """The id of a kit that is not there yet.

    Raises:
        UserError: it is among no kits, no name of a kit, or there already.
    """
    kits = root / KITS
    name = Path(into).name
    if name != into and Path(into).absolute().parent.resolve() not in (kits.resolve(), Path.cwd() / KITS):
        raise UserError("proposing.into-elsewhere", into=into)
    check_id(name, Place())
    if os.path.lexists(kits / name):
        raise UserError("kits.taken", folder=shown(kits / name))
    return name


def make(root: Path, answer: Answer, pick: int, name: str, title: str | None = None) -> None:
    """Write the kit of one proposal, whole.

    Raises:
        UserError: no such number, or something is there by now.
    """
    put(root, answer.wish, picked(answer.proposals, pick), name, title)


def make_better(root: Path, worked: Worked, pick: int, name: str) -> None:
    """Write a kit with a few sizes changed for the better as a kit of its own.

    Raises:
        UserError: no such offer, or something is there by now, or a size is not typed where it could be changed.
    """
    from kitwright.archive.bettered import write_bettered
    from kitwright.proposing.improve import improve

    nearby = improve(worked).nearby
    if not nearby:
        raise UserError("proposing.nothing-better", title=worked.kit.spec.title)
    _, found = write_bettered(root / KITS, name, worked, picked(nearby, pick))
    tell_written(root, found, pick, name)


def make_again(root: Path, worked: Worked, pick: int, name: str) -> None:
    """Write the kit of another card that the pieces of one make.

    Raises:
        UserError: no such card, or something is there by now.
    """
    from kitwright.proposing.again import as_proposed, whose
    from kitwright.proposing.same import same_pieces

    same = same_pieces(worked)
    if not same.found:
        raise UserError("proposing.no-other-card", title=worked.kit.spec.title)
    picked(same.found, pick)
    put(root, *as_proposed(same, pick), name, pieces_of=(worked, whose(same, pick)))


def picked(some: Sequence[Chosen], pick: int) -> Chosen:
    """The one of a number, which is its place from 1.

    Raises:
        UserError: no such number.
    """
    if pick > len(some):
        raise UserError("proposing.no-such-layout", pick=pick, most=len(some))
    return some[pick - 1]


def tell_written(root: Path, found: list[Finding], pick: int, name: str) -> None:
    """What there is to tell of a kit that was written."""
    renew_schemas(root / KITS)
    tell_findings(found)
    say(words.picked(pick, name))


def put(root: Path, wish: Wish, proposal: Proposal, name: str, title: str | None = None, pieces_of: PiecesOf | None = None) -> None:
    """Write the kit, and tell what there is to tell of it."""
    from kitwright.archive.proposed import kept_whole, write_proposed

    _, found = write_proposed(root / KITS, name, wish, proposal, title, pieces_of)
    tell_written(root, found, proposal.number, name)
    for paper, left in kept_whole(root / KITS, name):
        say(words.stays_whole(paper, left))


def first_of(ctx: click.Context, question: Path, name: str, title: str | None) -> None:
    """A new kit of the first layout that a question in a file gives; where it gives none, why, and the command ends.

    Raises:
        UserError: the question can't be read, or the kit can't be called so.
    """
    from kitwright.proposing.asked import read_question

    root = root_of(ctx)
    name = kit_named(root, name)
    wish = read_question({}, read_club(root / KITS), question)
    with cache.using(root / cache.FOLDER), stoppable() as stop:
        answer = answer_of(wish, stop)
    if not answer.proposals:
        nothing(answer, True)
        ctx.exit(FINDINGS)
    first = answer.proposals[0].number
    make(root, answer, first, name, title)


def nothing(answer: Answer, file: bool) -> None:
    """Why there is none."""
    for text in words.none_found(answer, file):
        say_wrapped(text)
