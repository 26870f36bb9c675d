"""What keeps a folded card from closing, or from opening."""

from __future__ import annotations

from kitwright.errors import Said
from kitwright.folding.scored import Runs, Side
from kitwright.materials import Range
from kitwright.telling.post import thickness_text
from kitwright.telling.words import listed
from kitwright.units import ABOUT, MM, ZERO, Length, figure, length_text


def doors_overlap(doors: tuple[str, str], by: Length, each: Length, score: Length | None, unit: str) -> Said:
    return f"the {doors[0]} and the {doors[1]} overlap by {length_text(by, unit)}", _met(each, score, "overlap", unit)


def doors_apart(doors: tuple[str, str], gap: Length, each: Length, score: Length | None, unit: str) -> Said:
    return f"the {doors[0]} and the {doors[1]} do not meet: {length_text(gap, unit)} is free between them", _met(each, score, "gap", unit)


def _met(each: Length, score: Length | None, meant: str, unit: str) -> str:
    half = f"two doors that meet are {length_text(each, unit)} wide each"
    how = f"write  score: {figure(score, unit, plain=True)}  or leave it out" if score is not None else half
    return f"{how}; or say  meant: {meant}  under card:"


def nothing_shows(panel: str, side: Side, at: Length, usual: Length, unit: str) -> Said:
    """`side`: the face of that panel that a fold of this name shows on the closed card."""
    face = f"the inside of the {panel}" if side == "inside" else f"the {panel}"
    return (
        f"scored at {length_text(at, unit)}, nothing of {face} shows on the closed card",
        f"write  score: {figure(usual, unit, plain=True)}  or leave it out; or take another fold",
    )


def rolled_in_tight(panel: str, room: Length, at: Length, thick: Range, least: Length, unit: str) -> Said:
    most = Length(thick.high * MM)
    return (
        f"rolled in, the {panel} has {length_text(room, unit) if room.inches else 'no'} room to the fold at {length_text(at, unit)}"
        + (f", and what lies in that fold is {thickness_text(thick, unit)} thick" if most > room else ""),
        f"make that panel shorter, so that {length_text(max(least, most), unit)} is free, or take out what is thick; or say  meant: tight  under card:",
    )


def near_the_fold(label: str, on: str, gap: Length, least: Length, raised: bool, faced: bool, unit: str) -> Said:
    why = " on foam, over which more foam closes" if raised and faced else " on foam" if raised else ""
    off, near = length_text(gap, unit), length_text(least, unit)
    lies = "right at" if gap == ZERO else f"less than {near} from" if off.removeprefix(ABOUT) == near else f"{off} from"
    return (
        f"{label}{why} lies {lies} a fold that closes over {_face(on)}",
        f"keep it {length_text(least, unit)} from that fold, or say  meant: overhang",
    )


def past_the_fold(label: str, on: str, by: Length, unit: str) -> Said:
    return (
        f"{label} reaches {length_text(by, unit)} past a fold that closes over {_face(on)}, and the card would not close",
        "move it in or make it smaller, or say  meant: overhang",
    )


def _face(on: str) -> str:
    return "the inside" if on == "inside" else f"“{on}”"


def decoration_across(name: str, panels: tuple[str, ...]) -> Said:
    return (
        f"{name} lies across {listed([f'the {panel}' for panel in panels])}, and glues them shut",
        "move it onto one of them, or lay it on a piece that is fixed to one",
    )


def thick(at: Length, thick: Range, unit: str) -> Said:
    return (
        f"the fold at {length_text(at, unit)} closes over {thickness_text(thick, unit)} of paper and foam",
        "score it twice, that far apart, so that it closes flat",
    )


def against_the_grain(paper: str, runs: Runs) -> Said:
    way = "up and down" if runs == "down" else "across"
    return (
        f"as it is cut, the grain of {paper} does not run {way}, along the folds",
        "cut the base the other way on its sheet, or from paper with its grain the other way; else crease firmly",
    )
