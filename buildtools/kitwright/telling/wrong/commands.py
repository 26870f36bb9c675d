"""What is wrong with how a command is called, or with what it meets on the way."""

from __future__ import annotations

import datetime as dt
from typing import Literal

from kitwright.errors import Said
from kitwright.telling.words import listed, number
from kitwright.units import Size, size_text

Purpose = Literal["computed", "planned", "arranged", "cut", "drawn", "pictured", "revised", "told"]
"""What a kit is read for that a past kit can't do."""
_SO: dict[Purpose, str] = {
    "computed": "nothing can be computed",
    "planned": "nothing can be planned",
    "arranged": "nothing can be arranged",
    "cut": "there is nothing to cut",
    "drawn": "there is nothing to draw",
    "pictured": "there is no card to show",
    "revised": "it has no revisions",
    "told": "there is no text to send of it",
}


def past_kit(kit: str, asked: Purpose) -> Said:
    return f"{kit} is a past kit: only its old printable exists, so {_SO[asked]}", ""


def not_letters() -> Said:
    return "what was typed holds bytes that are no letters", "type it in UTF-8; nothing was changed"


def output_lost(why: str | None) -> Said:
    return f"what was printed could not all be written ({why})", "make room, or print it elsewhere"


def no_such_paper(paper: str, papers: tuple[str, ...]) -> Said:
    return f"this kit does not use a paper {paper}", f"its papers: {', '.join(papers)}"


def which_sheet(given: str) -> Said:
    return f"“{given}” does not say which sheet", "write for example  --paper white=A4"


def two_sheets(paper: str) -> Said:
    return f"--paper gives two sheets for {paper}", "keep one of the two"


def no_cut_files(kit: str) -> Said:
    return f"{kit} says  cut files: none", "change that line to public or members"


def mat_too_small(kit: str, mat: Size, unit: str) -> Said:
    return f"no piece of {kit} fits on a mat of {size_text(mat, unit)}", "choose a larger one"


def no_folder() -> Said:
    return "this is no folder", "give a folder with --out"


def folder_in_use() -> Said:
    return "this folder holds something other than cut files", "choose an empty or a new one with --out"


def no_texts_here() -> Said:
    return "this folder holds something that  kitwright brief --all  did not put there", "choose an empty or a new one with --out"


def not_drawn_here() -> Said:
    return "this folder holds something that  kitwright draw  did not put there", "choose an empty or a new one with --out"


def no_pictures_here() -> Said:
    return "this folder holds something that  kitwright pictures  did not put there", "choose an empty or a new one with --out"


def not_proposed_here() -> Said:
    return "this folder holds something that  kitwright propose  did not put there", "choose an empty or a new one with --out"


def changed_by_hand() -> Said:
    return (
        "somebody changed this picture since it was drawn",
        "give it another name to keep it, or draw elsewhere with --out; nothing was written",
    )


def site_elsewhere(name: str) -> Said:
    return f"{name} is a link that leads elsewhere", "if you mean the place that it leads to, name that with --out"


def among_the_kits(name: str) -> Said:
    return "here among the kits it would be taken for one", f"give a folder elsewhere, such as  --out {name} ; nothing was written"


def no_picture(what: str, known: tuple[str, ...]) -> Said:
    return f"this kit has no picture {what}", f"its pictures: {', '.join(known)}"


def no_ratio(given: str, known: tuple[str, ...]) -> Said:
    return f"no picture is drawn {given or 'without a shape'}", f"ask for {listed(list(known), 'or')}"


def no_ground(given: str, known: tuple[str, ...]) -> Said:
    return f"there is no colour {given}", f"choose {listed(list(known), 'or')}, or any other as #rrggbb"


def no_design(kit: str, design: str, designs: tuple[str, ...]) -> Said:
    if not designs:
        return f"{kit} has one design, which needs no name", "leave --design out"
    return f"{kit} has no design {design}", f"its designs: {', '.join(designs)}"


def no_look(kit: str, look: str, looks: tuple[str, ...]) -> Said:
    if not looks:
        return f"the cards of {kit} all look alike", "leave --look out"
    return f"{kit} has no look {look}", f"its looks: {', '.join(looks)}"


def long_words(words: str, ratio: str) -> Said:
    return f"“{words}” is too long for a picture of {ratio}", "choose fewer or shorter words"


def no_letters(words: str, letters: str) -> Said:
    return f"our type has no {' '.join(letters)}, which stands in “{words}”", "leave that out; it can be added where the picture is shown"


def no_words() -> Said:
    return "--words is empty", "say what is to be set, or leave it out"


def no_cards(cards: int) -> Said:
    return f"{number(cards, 'card', 'cards')} can't be planned for", "ask for one or more"


def no_format(format: str, known: tuple[str, ...]) -> Said:
    return f"nothing is drawn as {format}", f"ask for {listed(list(known), 'or')}"


def pdf_alone(what: str) -> Said:
    return f"{what} is a PDF", "ask for it as pdf"


def dated_ahead(kit: str, revision: int, at: dt.datetime) -> Said:
    return (
        f"revision {revision} is dated {at:%Y-%m-%d %H:%M} UTC, which is still to come: until then the site does not show it",
        f"if that is not meant, take it back with  kitwright release {kit} --take-back,  and publish again with another --as-of",
    )
