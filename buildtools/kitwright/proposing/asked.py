"""A question as it was typed, made into a wish: options of the command and a short file, read alike, defaults filled in.

An option stands over the same word of the file. What is wrong is told with the file's line; what
was typed as an option, without one.
"""

from __future__ import annotations

import difflib
import re
from collections.abc import Iterator, Mapping
from dataclasses import replace
from fractions import Fraction
from functools import cache
from itertools import chain
from pathlib import Path
from typing import Any

from kitwright.card.notches import USUAL_MARGIN
from kitwright.errors import Place, Slips, UserError
from kitwright.kit.model import Club, Paper
from kitwright.kit.read import shown
from kitwright.kit.valid import looked_through
from kitwright.kit.yamltext import Document, Path_, look_at, text_only
from kitwright.labels import key_of
from kitwright.papers import ISO_216, ISO_269, NamedSize, envelope_named, sheet_named
from kitwright.proposing.against import against, against_card, too_much
from kitwright.proposing.faces import called
from kitwright.proposing.families import families
from kitwright.proposing.paper_typed import LEAST_SHEET, MOST_SHEETS, Known, SheetsOf, sheets_typed
from kitwright.proposing.question import QuestionSpec
from kitwright.proposing.usual import CARDS, HABITS, front_for
from kitwright.proposing.wish import CardWish, Made, Sharing, Stock, Unit, Wish
from kitwright.units import Length, Size

LEAST_CARD = Length(Fraction(3, 2))
LONGEST_KEY = 24
"""Signs of the key that a paper gets by its name."""


def read_question(typed: Mapping[str, Any], club: Club, file: Path | None = None) -> Wish:
    """The wish that was typed.

    Args:
        typed: entries of a question by their words (`QuestionSpec`), each a text or a list of texts; what was not typed is not there.
        club: whose papers and region hold where nothing is said.
        file: a short file with further entries.

    Raises:
        UserError: whatever can't be read, and wishes that contradict one another; nothing is searched then.
    """
    document = _document(typed, file)
    unit = _unit(document.data, club)
    slips = Slips()
    spec = looked_through(QuestionSpec, document, slips, unit)
    slips.stop()
    assert spec is not None, "nothing was read, and nothing is wrong"
    return wish_of(spec, club, document, unit)


class _Typed(Document):
    """A file with options over it: an option has no place of its own."""

    def place(self, path: Path_) -> Place:
        path = tuple(path)
        return super().place(path) if path[:1] in self.lines else Place()


def _document(typed: Mapping[str, Any], file: Path | None) -> Document:
    read = look_at(file, shown(file)) if file else Document(Path(), {})
    over = _Typed(**{name: getattr(read, name) for name in read.__dataclass_fields__})
    over.data = {**read.data, **typed}
    over.lines = {path: line for path, line in read.lines.items() if path and path[0] not in typed}
    # A file with nothing in it is no fault where everything is said by options.
    over.fault = read.fault if file and not typed else None
    for value in typed.values():
        for text in value if isinstance(value, (list, tuple)) else (value,):
            text_only(str(text), Place())
    return over


# --- the unit -----------------------------------------------------------------------------------

_METRIC = re.compile(r"\d[\s-]*(?:mm|cm)\b|^\s*mm\s*$", re.IGNORECASE)
_INCHES = re.compile(r"[\d½¼¾⅛⅜⅝⅞][\s-]*(?:in|inch|inches)\b|[\d½¼¾⅛⅜⅝⅞]\s*[\"″”]", re.IGNORECASE)
_UNITED = re.compile(f"{_METRIC.pattern}|{_INCHES.pattern}", re.IGNORECASE)
_MEASURES = ("paper", "card", "envelope", "mat", "border", "gap", "band", "grid", "punch", "die", "slack")


def _unit(data: Mapping[str, Any], club: Club) -> Unit:
    """What a bare number means: as typed, else the unit of a measure that has one, else the club's."""
    said = data.get("unit")
    if said == "in" or said == "mm":
        return "in" if said == "in" else "mm"
    # The ruler's step says it before the card does, and the card before a sheet, which is sold in the unit of its mill.
    for keys in (("grid",), ("card", "envelope"), _MEASURES):
        texts = [text for key in keys for text in _texts(data.get(key))]
        metric = any(_METRIC.search(text) for text in texts) or keys == ("card", "envelope") and any(map(_is_iso, texts))
        if metric != any(_INCHES.search(text) for text in texts):
            return "mm" if metric else "in"
    return "mm" if club.region == "metric" else "in"


def _texts(value: Any) -> Iterator[str]:
    if isinstance(value, str):
        yield value
    elif isinstance(value, (list, tuple)):
        yield from (each for each in value if isinstance(each, str))


def _is_iso(text: str) -> bool:
    """Whether a card or envelope goes by a name of ISO's."""
    for named in (sheet_named, envelope_named):
        try:
            return named(text).source in (ISO_216, ISO_269)
        except UserError:
            continue
    return False


# --- the wish -----------------------------------------------------------------------------------


def wish_of(spec: QuestionSpec, club: Club, document: Document, unit: Unit) -> Wish:
    """What was typed with everything that goes without saying.

    Raises:
        UserError: a paper or a family that nobody knows, and all wishes that contradict one another, two by two.
    """
    slips, habits = Slips(), HABITS[unit]

    def at(*path: str | int) -> Place:
        return document.place(path)

    if not spec.paper:
        slips.add(UserError("proposing.no-paper", place=at("paper"), unit=unit))
    stocks: list[Stock] = []
    known = _known(club, unit)
    lines = [
        (line, at("paper", i))
        for i, text in enumerate(spec.paper)
        for line in slips.trying(_typed, text, known, unit, at("paper", i)) or ()
    ]
    for line, place in lines:
        stock = slips.trying(_stock, line, club, unit, tuple(stocks), len(lines) > 1, place)
        stocks += [stock] if stock else []
    if sum(stock.sheets for stock in stocks) > MOST_SHEETS:
        slips.add(UserError("proposing.too-many-sheets", place=at("paper"), sheets=sum(s.sheets for s in stocks), most=MOST_SHEETS))
    sorts = [slips.trying(_family, text, at("family", i)) for i, text in enumerate(spec.family)]
    cards = slips.trying(_cards, spec, unit, at)
    if not stocks or not cards:
        slips.stop()
    assert cards, "no card, and nothing is wrong"
    margin = USUAL_MARGIN[unit] * 2
    made = [Made(size, Size(size.width + margin, size.height + margin), "punch") for size in chain(*spec.punch)]
    made += [Made(size, Size(size.width + margin, size.height + margin), "die") for size in chain(*spec.die)]
    wish = Wish(
        unit=unit,
        step=spec.grid or habits.step,
        stocks=called(stocks),
        cards=spec.cards,
        cards_of=cards,
        borders=_each(spec.border, habits.border),
        gaps=_each(spec.gap, habits.gap),
        designs=2 if spec.designs == 2 else 1,
        families=tuple(dict.fromkeys(filter(None, sorts))),
        pieces=spec.pieces,
        band=spec.band,
        made=tuple(made),
        sharing=_sharing(spec),
        slack=spec.slack or None,
        even=None if spec.grid or len(cards) == 1 else habits.even,
        hold=club.trimmer.least_hold,
    )
    wish = replace(wish, **{key: said for key in ("kinds", "waste") if (said := getattr(spec, key)) is not None})
    if not spec.card:
        # Of usual cards those that can't be are left out.
        sound = tuple(card for card in wish.cards_of if not any(against_card(wish, card)))
        wish = replace(wish, cards_of=sound or wish.cards_of[:1])
    for keys, error in against(wish, spec):
        said = [key for key in keys if (key,) in document.lines]
        slips.add(error.at(at(said[-1]) if said else Place()))
    slips.stop()
    if much := too_much(wish):
        raise much.at(at("border" if len(wish.borders) >= len(wish.gaps) else "gap"))
    return wish


def _each(typed: tuple[Length, ...] | None, usual: Length) -> tuple[Length, ...]:
    return tuple(dict.fromkeys(typed)) if typed else (usual,)


def _sharing(spec: QuestionSpec) -> Sharing:
    return "share" if spec.share else "whole" if spec.whole else "free"


def _family(text: str, place: Place) -> str:
    names = tuple(families())
    if text.casefold() in names:
        return text.casefold()
    near = next(iter(difflib.get_close_matches(text.casefold(), names, 1, 0.5)), None)
    raise UserError("proposing.no-such-family", place=place, text=text, near=near, known=names)


# --- papers -------------------------------------------------------------------------------------


def _typed(text: str, known: Known, unit: Unit, place: Place) -> tuple[SheetsOf, ...]:
    try:
        return sheets_typed(text, known, unit)
    except UserError as error:
        raise error.at(place) from None


def _known(club: Club, unit: Unit) -> Known:
    """Papers of the club, sheets by name and by measure."""

    @cache
    def known(text: str) -> Size | UserError | None:
        if of_club := _of_club(text, club):
            return of_club[1].size.size
        try:
            return sheet_named(text, unit).size
        except UserError as error:
            return error if error.code in ("papers.two-meanings", "papers.too-large") else None

    return known


def _stock(line: SheetsOf, club: Club, unit: Unit, before: tuple[Stock, ...], several: bool, place: Place) -> Stock:
    found = _of_club(line.sheet, club)
    if found:
        key, paper = found
        if not paper.material.printed:
            raise UserError("proposing.not-patterned", place=place, paper=paper.name)
        sheet, up = paper.size, paper.front.up
        name, face, one_way = line.name or paper.name, paper.front, line.one_way or up is not None
        if up in ("left", "right"):
            sheet = NamedSize(sheet.name, sheet.size.turned, sheet.source)
        if one_way and up != "top":
            # The sheet lies with its up at the top from here on; a scan shows it as it lay.
            face = face.as_scanned(None).model_copy(update={"up": "top"})
    else:
        try:
            sheet = sheet_named(line.sheet, unit)
        except UserError as error:
            raise _no_sheet(error, line.sheet, club, unit).at(place) from None
        if min(sheet.size.width, sheet.size.height) < LEAST_SHEET:
            raise UserError(
                "proposing.tiny-sheet",
                place=place,
                text=line.sheet,
                size=sheet.size,
                least=LEAST_SHEET,
                bare=not _UNITED.search(line.sheet),
                unit=unit,
            )
        number = sum(1 for stock in before if not stock.face) + 1
        standing_in = f"paper-{number}" if several else "paper"
        key, name, face, one_way = "" if line.name else standing_in, line.name, None, line.one_way
    named = bool(found or line.name)
    return Stock(_key(key or key_of(name, "paper", LONGEST_KEY), before), name, sheet, line.sheets, one_way, face, named)


def _of_club(text: str, club: Club) -> tuple[str, Paper] | None:
    wanted = " ".join(text.casefold().split())
    return next(((key, paper) for key, paper in club.papers.items() if wanted in (key, paper.name.casefold())), None)


def _no_sheet(error: UserError, text: str, club: Club, unit: Unit) -> UserError:
    """A sheet that can't be read; a mere word may have been meant for a paper of the club."""
    if error.code != "papers.unknown-name":
        return error
    papers = tuple(key for key, paper in club.papers.items() if paper.material.printed)
    near = next(iter(difflib.get_close_matches(text.casefold(), papers, 1, 0.6)), None)
    return UserError("proposing.no-such-paper", text=text, near=near, papers=papers, unit=unit)


def _key(wanted: str, before: tuple[Stock, ...]) -> str:
    taken = {stock.key for stock in before}
    return next(key for n in range(1, len(taken) + 2) if (key := wanted if n == 1 else f"{wanted}-{n}") not in taken)


# --- cards --------------------------------------------------------------------------------------


def _cards(spec: QuestionSpec, unit: Unit, at: Any) -> tuple[CardWish, ...]:
    """The card that was named, or the usual ones."""
    stock = spec.cardstock or HABITS[unit].cardstock
    # Under a fold at the top, usual cards lie.
    fronts: tuple[tuple[Size, NamedSize | None], ...]
    if spec.card:
        for i, sizes in enumerate(spec.card):
            for size in sizes:
                if min(size.width, size.height) < LEAST_CARD:
                    raise UserError("proposing.tiny-card", place=at("card", i), size=size, least=LEAST_CARD, unit=unit)
        fronts = tuple((size, spec.envelope) for size in dict.fromkeys(chain(*spec.card)))
    elif spec.envelope:
        front = front_for(spec.envelope)
        if front is None:
            raise UserError("proposing.no-usual-front", place=at("envelope"), envelope=spec.envelope, unit=unit)
        fronts = ((front, spec.envelope),)
    else:
        fronts = CARDS[unit]
    if not spec.card and spec.fold == "top":
        fronts = tuple((front.turned, envelope) for front, envelope in fronts)
    return tuple(CardWish(front, spec.fold, envelope, spec.mat, stock) for front, envelope in fronts)
