"""Differences between two states of a kit, in a maker's words: on the terminal, on pages, in briefs and in the feed.

One function for each kind of change, named after it, takes what it was, what it is, and the
values of its record; it returns a sentence without its capital and its full stop.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from fractions import Fraction
from typing import Any

from kitwright.card.post import Limit
from kitwright.kit.model import Stage
from kitwright.labels import is_base
from kitwright.materials import Kind, Range
from kitwright.papers import NamedSize, Weight
from kitwright.release.both import Difference
from kitwright.release.changes import Differences
from kitwright.release.paths import Grade
from kitwright.release.values import Value
from kitwright.telling.folds import face_text, name_text
from kitwright.telling.materials import kind_text
from kitwright.telling.post import COMPARED, DEARER, LETTER, mass_text, thickness_text
from kitwright.telling.steps import TITLES
from kitwright.telling.supplies import area_text, run_text
from kitwright.telling.words import article, label_text, led, listed, number, runs, sheets_text, spelled
from kitwright.units import Length, Size, fraction_text, length_text, other_unit, size_text

GRADE_WORDS: dict[Grade, str] = {"cosmetic": "nothing to do", "write in": "write it in by hand", "recut": "cut again"}


def words(change: Difference) -> str:
    """A change in words."""
    tell: Callable[..., str] = globals()[change.kind.replace("-", "_")]
    said = tell(change.was, change.now, **change.values)
    return f"{change.design}: {said}" if change.design else said


def sentence(change: Difference) -> str:
    """A change as a sentence. A label that leads it is a capital already."""
    return led(words(change)) + "."


def quoted(change: Difference) -> tuple[str, str]:
    """How a step read and how it reads, where the author's own words were replaced by others; else nothing."""
    was, now = change.was, change.now
    return (" ".join(was), " ".join(now)) if change.kind == "step" and isinstance(was, tuple) and isinstance(now, tuple) else ("", "")


def besides(changes: Iterable[Difference]) -> str:
    """What changed besides, in one sentence; empty where nothing did."""
    found = list(dict.fromkeys(map(_besides, changes)))
    plain, slight = ([words for words, is_slight in found if is_slight == which] for which in (False, True))
    said = [*plain, *([f"by a trifle, {listed(slight)}"] if slight else [])]
    return f"Besides: {'; '.join(said)}." if said else ""


def told_lines(found: Differences) -> list[str]:
    """All changes as sentences, a line each; what changed besides at the end."""
    return [*map(sentence, found.told), *filter(None, [besides(found.besides)])]


def told_beside(found: Differences) -> list[str]:
    """The same in the unit that is not the kit's own."""
    return [*(sentence(c.told_in(other_unit(c.values.get("unit", "in")))) for c in found.told), *filter(None, [besides(found.besides)])]


# --- pieces and counts ----------------------------------------------------------------------------


def _are(n: int) -> str:
    return "is" if n == 1 else "are"


def _use(use: str, n: int) -> str:
    """What a label is for, as it is counted: `short panel`, `short panels`."""
    if is_base(use):
        return label_text(use, n)
    use = use or "piece"
    if n == 1:
        return use
    head, of, rest = use.partition(" of ")
    return f"{head if head.endswith('s') else f'{head}s'}{of}{rest}"


def _counted(use: str, n: int) -> str:
    return _use(use, n) if n == 1 else f"{spelled(n)} {_use(use, n)}"


def _bases(label: str, n: int) -> str:
    return label_text(label, n) if is_base(label) else label


def _named(label: str) -> str:
    return f"the {label}" if is_base(label) else label


def piece_gone(was: Size, now: None, label: str, unit: str) -> str:
    return f"there is no {label} any more"


def piece_new(was: None, now: Size, label: str, use: str, unit: str) -> str:
    return f"{label} is new: {_use(use, 1)}, {size_text(now, unit)}"


def renamed(was: str, now: str) -> str:
    return f"{was} is called {now} now"


def size(was: Size, now: Size, label: str, unit: str) -> str:
    wide, high = now.width - was.width, now.height - was.height
    by = [
        f"{length_text(abs(d), unit)} {more if d.inches > 0 else less}"
        for d, more, less in ((wide, "wider", "narrower"), (high, "taller", "lower"))
        if d
    ]
    trim = "; pieces already cut can be trimmed" if wide.inches <= 0 and high.inches <= 0 else ""
    return f"{_named(label)} is {size_text(now, unit)}, not {size_text(was, unit)}: {listed(by)}{trim}"


def outline(was: None, now: Value, label: str) -> str:
    return f"{label} has another outline: see the new drawing"


def held(was: Value, now: Value, label: str) -> str:
    return f"{label} is fixed otherwise: see the new steps"


def held_on_the_front(was: Value, now: Value) -> str:
    return "something on the front is fixed otherwise: see the new steps"


def use(was: str, now: str, label: str) -> str:
    return f"{label} is called “{now}”, not “{was}”"


def may_turn(was: bool, now: bool, label: str) -> str:
    return f"{label} {'may be turned on the sheet' if now else 'must stay upright on the sheet'}"


def cards(was: int, now: int) -> str:
    return f"the batch is {number(now, 'card', 'cards')}, not {was}"


def count(was: int, now: int, label: str, paper: str) -> str:
    return f"the batch takes {now or 'no'} {_bases(label, now)} from {paper}, not {was or 'none'}"


def per_card(was: Fraction | int | None, now: Fraction | int | None, label: str, paper: str | None) -> str:
    # One to a card need not be said.
    before, after = (Fraction(1) if n is None else Fraction(n) for n in (was, now))
    return f"a card takes {fraction_text(after)} {label}{f' from {paper}' if paper else ''}, not {fraction_text(before)}"


# --- papers and guides ----------------------------------------------------------------------------


def paper_gone(was: Fraction, now: None, paper: str) -> str:
    return f"{paper} is not used any more"


def paper_new(was: None, now: Fraction, paper: str) -> str:
    return f"{paper} is new: {sheets_text(now)}"


def sheets(was: Fraction, now: Fraction, paper: str) -> str:
    return f"the batch takes {sheets_text(now)} of {paper}, not {sheets_text(was)}"


def sheet_size(was: NamedSize | Size | None, now: NamedSize | Size | None, paper: str, unit: str) -> str:
    return f"a sheet of {paper} is {_sheet(now, was, unit)}, not {_sheet(was, now, unit)}"


def _sheet(one: NamedSize | Size | None, other: NamedSize | Size | None, unit: str) -> str:
    """The size of a sheet; its name where the sizes are the same."""
    size, also = (each.size if isinstance(each, NamedSize) else each for each in (one, other))
    if size is None:
        return "none"
    return one.name if isinstance(one, NamedSize) and one.name and size == also else size_text(size, unit)


def paper_name(was: str | None, now: str | None, key: str) -> str:
    return f"the paper {was or key} is called {now or key}"


def paper_key(was: None, now: None, paper: str) -> str:
    return f"{paper} goes by another key in the kit file; nothing else of it changed by that"


def paper_kind(was: Kind, now: Kind, paper: str) -> str:
    return f"{paper} is {kind_text(now)}"


def weight(was: Weight | None, now: Weight | None, paper: str) -> str:
    if now is None:
        return f"no weight is given for {paper} any more"
    return f"{paper} is {now.text}" + (f", not {was.text}" if was else "")


def thickness(was: Length | None, now: Length | None, paper: str, unit: str) -> str:
    if now is None:
        return f"no thickness is given for {paper} any more"
    return f"a sheet of {paper} is {_thin(now, unit)} thick" + (f", not {_thin(was, unit)}" if was else "")


def _thin(length: Length, unit: str) -> str:
    """The thickness of a sheet or of foam: finer than any ruler shows."""
    return f"{float(length.millimetres):.3g} mm" if unit == "mm" else f"{float(length.inches):.3g} in"


def grain(was: str | None, now: str | None, paper: str) -> str:
    return f"the grain of {paper} runs along its {now} side" if now else f"the grain of {paper} is not given any more"


def at_hand(was: Fraction | None, now: Fraction | None, paper: str) -> str:
    if now is None:
        return f"how many sheets of {paper} are at hand is not said any more"
    return f"of {paper}, {sheets_text(now)} {'is' if now <= 1 else 'are'} at hand" + (f", not {sheets_text(was)}" if was else "")


def one_way(was: str | None, now: str | None, paper: str) -> str:
    return f"{paper} {'is one-way: mind its up' if now else 'has no up'}"


def look(was: Value, now: Value, paper: str) -> str:
    return f"{paper} is drawn with another look"


def usual_papers(was: Value, now: Value) -> str:
    return "the club’s usual papers are described anew; sizes and cuts are unchanged"


def label_on_sheet(was: str, now: str, sheet: int, name: str, use: str, pieces: int, sized: bool) -> str:
    same = "; sizes and cuts unchanged" if sized else ""
    return f"on sheet {sheet}, {name}, the {_counted(use, pieces)} {_are(pieces)} {now}, not {was}{same}"


def cut_at(was: Length, now: Length, sheet: int, name: str, cuts: tuple[int, ...], unit: str) -> str:
    which = f"cut{'s' if len(cuts) > 1 else ''} {_runs(cuts)} {_are(len(cuts))}"
    return f"on sheet {sheet}, {name}, {which} at {length_text(now, unit)}, not {length_text(was, unit)}"


def _runs(numbers: tuple[int, ...]) -> str:
    """Numbers in words, neighbours drawn together: `3, 5 and 13 to 30`."""
    return listed(
        [
            part
            for first, last in runs(numbers)
            for part in ([f"{first} to {last}"] if last > first + 1 else dict.fromkeys((str(first), str(last))))
        ]
    )


def cut_otherwise(was: int, now: int, sheet: int, name: str, fine: bool) -> str:
    tail = "; the pieces keep their sizes" if fine else ""
    many = f": {number(now, 'cut', 'cuts')}, not {was}" if now != was else ""
    return f"on sheet {sheet}, {name}, the cuts go another way{many}{tail}"


def sheet_gives(was: tuple[tuple[str, int], ...], now: tuple[tuple[str, int], ...], sheet: int, name: str) -> str:
    before, after = (listed([f"{n} {_bases(label, n)}" for label, n in given]) or "nothing" for given in (was, now))
    return f"sheet {sheet}, {name}, gives {after}, not {before}"


def sheet_name(was: str, now: str, sheet: int) -> str:
    return f"sheet {sheet} is called “{now}”, not “{was}”"


def sheet_number(was: int, now: int, sheet: int, name: str) -> str:
    return f"{name} is sheet {now}, not sheet {was}; its cuts are unchanged"


def guide_new(was: None, now: str, sheet: int) -> str:
    return f"sheet {sheet}, {now}, is a guide of its own"


def guide_gone(was: str, now: None) -> str:
    return f"the guide of {was} is gone"


def worked_anew(was: Value, now: Value) -> str:
    return "the sheets were worked out anew, with another outcome: see the new guides"


# --- the card -------------------------------------------------------------------------------------


def label_on_card(was: str, now: str, use: str, pieces: int) -> str:
    if pieces == 1:
        return f"on the card, the {_use(use, 1)} is {now}, not {was}; its place is unchanged"
    return f"on the card, the {_counted(use, pieces)} are {now}, not {was}; their places are unchanged"


def paper_on_card(was: Value, now: Value, label: str, look: str, before: tuple[str, bool], paper: tuple[str, bool]) -> str:
    return f"on the card{f' ({look})' if look else ''}, {label} is {_shown(paper)}, not {_shown(before)}"


def _shown(paper: tuple[str, bool]) -> str:
    return f"the back of {paper[0]}" if paper[1] else paper[0]


def moved(
    was: Value,
    now: Value,
    label: str,
    turned: bool | None,
    otherwise: bool,
    raised: bool | None,
    far: dict[str, tuple[Length, Length]],
    ground: str,
    unit: str,
    pieces: int,
) -> str:
    said, (lies, stands) = [], ("lies", "stands") if pieces == 1 else ("lie", "stand")
    if turned is not None:
        said.append(f"{lies} {'turned' if turned else 'upright'}")
    if otherwise:
        said.append(f"{lies} another way round, as the new sketch shows")
    if raised is not None:
        said.append(f"{stands} on foam" if raised else f"{lies} flat")
    said += [
        f"{lies} {length_text(b, unit)} from the {edge} of {_named(ground)}, not {length_text(a, unit)}" for edge, (a, b) in far.items()
    ]
    which = "" if pieces == 1 else "both " if pieces == 2 else f"{spelled(pieces)} "
    return f"on the card, {which}{label} {listed(said)}"


def fewer_on_card(was: None, now: None, label: str, pieces: int, use: str) -> str:
    return f"on the card, {number(pieces, f'{label} is', f'{label} are')} left out: see the new sketch"


def more_on_card(was: None, now: None, label: str, pieces: int, use: str) -> str:
    return f"on the card, {number(pieces, f'{label} is', f'{label} are')} added: see the new sketch"


def look_cards(was: int, now: int, before: str, name: str) -> str:
    rest = f"{was} {before}" if before else f"{was}"
    return f"{number(now, 'card', 'cards')} of the batch {_are(now)} {name or 'alike'}, not {rest}"


def look_counts(was: int, now: int) -> str:
    return f"{number(now, 'card', 'cards')} of the batch {_are(now)} alike, not {was}"


def looks(was: int, now: int) -> str:
    return f"the batch has {number(now, 'look', 'looks')}, not {was}"


def looks_in_order(was: None, now: None) -> str:
    return "the looks of the batch stand in another order"


def sentiment(was: Value, now: Value) -> str:
    if was is None or now is None:
        return f"the card has {'a' if was is None else 'no'} sentiment"
    return "the sentiment has another place or size: see the new sketch"


def sentiment_text(was: str | None, now: str | None) -> str:
    return f"the sentiment reads “{now}”, not “{was}”"


def decoration(was: int, now: int, moved: bool) -> str:
    if not was or not now:
        return "a place is kept for decoration: see the new sketch" if now else "no place is kept for decoration any more"
    return f"the decoration {'has another place' if moved else 'is told otherwise'}: see the new sketch"


def decoration_thickness(was: Length | None, now: Length | None, name: str, unit: str) -> str:
    if now is None:
        return f"how far “{name}” stands up is not said any more"
    return f"“{name}” stands up {length_text(now, unit)}" + (f", not {length_text(was, unit)}" if was else "")


def drawn_as(was: str | None, now: str | None, name: str) -> str:
    return f"“{name}” is drawn otherwise"


def other_faces(was: Value, now: Value, faces: tuple[tuple[str, tuple[str, ...]], ...]) -> str:
    told = [f"{listed(labels)} on {face_text(name)}" for name, labels in faces]
    return f"moved or changed: {listed(told)}; see the new sketch"


def further_words(was: int, now: int) -> str:
    if was == now:
        return "further words have another place or size: see the new sketch"
    return f"the card has {number(now, 'further line of words', 'further lines of words')}, not {was}"


def layers(was: tuple[str, ...], now: tuple[str, ...]) -> str:
    return f"the layers on the base are {listed(now) or 'none'}"


def inside(was: Value, now: Value, before: str | None, label: str | None) -> str:
    if label is None:
        return "there is no panel inside the card any more"
    if before is None:
        return f"{label} lies inside the card"
    return f"the panel inside is {label}, not {before}" if before != label else f"the panel inside, {label}, is set otherwise"


def places(was: Value, now: Value) -> str:
    return "the card was worked out anew, with other places: see the new sketch"


def band(was: Value, now: Value) -> str:
    return "the free band is another: see the new sketch"


def fold(was: str | None, now: str | None) -> str:
    if {was, now} == {"side", "top"}:
        return f"the card folds at the {now}, not at the {was}"
    return f"the card has {_folded(now)}, not {_folded(was)}"


def _folded(name: str | None) -> str:
    return "a fold of its own" if name is None else "no fold" if name == "flat" else f"a {name_text(name)}"


def scored_otherwise(was: object, now: object) -> str:
    return "the base is scored and folded otherwise"


def score(was: Length, now: Length, unit: str) -> str:
    return f"the base is scored at {length_text(now, unit)}, not {length_text(was, unit)}"


def finished(was: Size, now: Size, unit: str) -> str:
    return f"the folded card is {size_text(now, unit)}, not {size_text(was, unit)}"


def envelope(was: NamedSize | None, now: NamedSize | None, unit: str) -> str:
    return f"the envelope is {_enveloped(now, unit)}, not {_enveloped(was, unit)}"


def _enveloped(one: NamedSize | None, unit: str) -> str:
    return (one.name or size_text(one.size, unit)) if one else "none"


def envelope_weight(was: Weight | None, now: Weight | None) -> str:
    if now is None:
        return "no weight is given for the envelope any more"
    return f"the envelope’s paper is {now.text}" + (f", not {was.text}" if was else "")


def foam(was: Length | None, now: Length | None, unit: str) -> str:
    if now is None:
        return "no thickness is given for the foam any more"
    # Foam is sold by the millimetre, whatever else a maker measures in.
    told = [f"{_thin(each, 'in')} ({_thin(each, 'mm')})" if unit == "in" else _thin(each, unit) for each in (now, was) if each]
    return f"the foam is {', not '.join([f'{told[0]} thick', *told[1:]])}"


# --- the post, and what a batch takes -------------------------------------------------------------


def room(was: Size | None, now: Size | None, unit: str) -> str:
    if now is None:
        return "no room in an envelope is told any more"
    return f"the envelope leaves {size_text(now, unit)} of room" + (f", not {size_text(was, unit)}" if was else "")


def post_thickness(was: Range | None, now: Range | None, unit: str) -> str:
    if now is None:
        return "no thickness in its envelope is told any more"
    return f"the card in its envelope is {thickness_text(now, unit)} thick" + (f", not {thickness_text(was, unit)}" if was else "")


def post_mass(was: Range | None, now: Range | None) -> str:
    if now is None:
        return "no weight in its envelope is told any more"
    return f"the card in its envelope weighs {mass_text(now)}" + (f", not {mass_text(was)}" if was else "")


def post_step(was: tuple[int, int] | None, now: tuple[int, int] | None, letters: str) -> str:
    return f"as a {LETTER[letters]} the card is in price step {_step(now)}, not {_step(was)}"


def _step(step: tuple[int, int] | None) -> str:
    return "none" if step is None else str(step[0]) if step[0] == step[1] else f"{step[0]} to {step[1]}"


def post_limits(was: tuple[tuple[Limit, bool | None], ...] | None, now: tuple[tuple[Limit, bool | None], ...] | None, letters: str) -> str:
    gone, came = set(was or ()) - set(now or ()), set(now or ()) - set(was or ())
    kind = f"{article(LETTER[letters])} {LETTER[letters]}"
    said = [f"{_limit(about, kind)}{'' if within is False else ', perhaps'}" for about, within in sorted(came, key=str)]
    if said:
        return f"mind for the post: {'; '.join(said)}"
    return f"this no longer holds for the post: {'; '.join(_limit(about, kind) for about, _ in sorted(gone, key=str))}"


def _limit(about: Limit, kind: str) -> str:
    return DEARER.get(about) or f"the card is {COMPARED[about]} than {kind} may be"


def adhesive(was: Length, now: Length, unit: str) -> str:
    return f"the batch takes {run_text(now, unit)} of adhesive, not {run_text(was, unit)}"


def foam_area(was: Fraction, now: Fraction, unit: str) -> str:
    return f"the batch takes {area_text(now, unit)} of foam, not {area_text(was, unit)}"


def envelopes(was: int, now: int) -> str:
    return f"the batch takes {number(now, 'envelope', 'envelopes')}, not {was}"


def spare(was: int | None, now: int | None, paper: str, label: str) -> str:
    return f"{paper} gives {now or 'no'} {_bases(label, now or 0)}, not {was or 'none'}"


# --- designs --------------------------------------------------------------------------------------


def designs(was: Value, now: Value) -> str:
    if not isinstance(was, int) or not isinstance(now, int):
        return "the designs stand in another order"
    return f"the kit holds {number(now, 'design', 'designs')}, not {spelled(was)}: take everything from the new page"


def design_renamed(was: str, now: str) -> str:
    return f"the design {was} is called {now}; nothing on its cards is changed"


def design_gone(was: Value, now: Value, name: str) -> str:
    return f"the design {name} is gone: its cards are not made"


def design_new(was: Value, now: Value, name: str) -> str:
    return f"the design {name} is new"


# --- words ----------------------------------------------------------------------------------------


def title(was: str, now: str) -> str:
    return f"the kit is called “{now}”, not “{was}”"


def reworded(was: Value, now: Value, what: str) -> str:
    return f"the {what} {'were' if what.endswith('s') else 'was'} reworded"


def unit(was: str | None, now: str | None) -> str:
    return f"{'millimetres' if now == 'mm' else 'inches'} are shown first"


def step(was: Value, now: Value, stage: Stage) -> str:
    return f"the step “{TITLES[stage]}” was reworded"


def terms(was: str, now: str) -> str:
    return "the terms of use are new: read them before you share the printable"


def cautions(was: Value, now: Value) -> str:
    return "the cautions were reworded"


def trimmer(was: Value, now: Value) -> str:
    return "the steps are told for another trimmer"


def also_from(was: Value, now: Value) -> str:
    before, sheets = (listed(list(map(str, value))) if isinstance(value, tuple) else "" for value in (was, now))
    return f"it may also be cut from {sheets}, with guides for that" if sheets else f"its guides are no longer made for {before} too"


def entry(was: Value, now: Value, key: str) -> str:
    return f"“{key.replace('_', ' ')}” of the kit says something else; sizes, cuts and places are unchanged"


# --- besides --------------------------------------------------------------------------------------


def _besides(change: Difference) -> tuple[str, bool]:
    """What changed besides, in a few words, with both figures where there are some; and whether they round to the same."""
    was, now, values = change.was, change.now, change.values
    quoted: dict[str, tuple[str, Callable[[Any], str]]] = {
        "finished": ("the folded card", lambda v: size_text(v, values["unit"])),
        "room": ("room in the envelope", lambda v: size_text(v, values["unit"])),
        "post-thickness": ("thickness in the envelope", lambda v: thickness_text(v, values["unit"])),
        "post-mass": ("weight in the envelope", mass_text),
        "adhesive": ("adhesive", lambda v: run_text(v, values["unit"])),
        "foam-area": ("foam", lambda v: area_text(v, values["unit"])),
        "envelopes": ("envelopes", str),
        "score": ("the score", lambda v: length_text(v, values["unit"])),
    }
    if change.kind in quoted:
        name, text = quoted[change.kind]
        if was is None or now is None:
            return (f"{name} {text(now)}" if now is not None else f"no {name} any more"), False
        before, after = text(was), text(now)
        return (f"{name} {after}, not {before}", False) if before != after else (name, True)
    bare = {
        "count": "the counts of the pieces",
        "look-counts": "the counts of the pieces",
        "spare": "spare pieces",
        "band": "the free band",
        "places": "places on the card",
        "worked-anew": "the guides",
        "post-step": "its price step",
        "post-limits": "limits of the post",
    }
    return bare[change.kind] if change.kind in bare else words(change), False
