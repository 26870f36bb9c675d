"""Citations that name nothing, never end, or read wrong where they stand."""

from __future__ import annotations

from kitwright.errors import Said
from kitwright.telling.words import shortened

EXAMPLES = (
    "known: [[cards]], [[count of cards]], [[size of A]], [[pieces of A]], [[count of A]], [[count of A in PAPER]], [[sheets of PAPER]], "
    "[[count of sheets of PAPER]], [[A per sheet of PAPER]], [[name of PAPER]], [[sheet of PAPER]], [[size of base]], [[size of card]], [[score]], "
    "[[border]], [[gap]], [[band]], [[envelope]], [[sentiment]]; of a design or a face: [[score of DESIGN]], [[size of DESIGN base]], [[border of FACE]]"
)


def names_nothing(phrase: str) -> Said:
    return f"[[{shortened(phrase, 60)}]] names nothing", EXAMPLES


def none_here(phrase: str) -> Said:
    return f"[[{phrase}]] is cited, but this kit has none", "take the citation out, or add it to kit.yaml"


def which_design(phrase: str, designs: tuple[str, ...]) -> Said:
    return f"[[{phrase}]] is another in each design of this kit", f"say of which: [[{phrase} of {designs[0]}]]"


def no_such_piece(phrase: str, label: str, known: tuple[str, ...]) -> Said:
    return f"[[{phrase}]] names a piece {label} that this kit does not have", f"pieces here: {', '.join(known)}"


def not_cut_from(phrase: str, label: str, paper: str, papers: tuple[str, ...]) -> Said:
    return f"[[{phrase}]]: {label} is not cut from {paper}", f"it is cut from {', '.join(papers)}"


def none_on_a_sheet(phrase: str, label: str, paper: str, papers: tuple[str, ...]) -> Said:
    return f"[[{phrase}]]: no sheet of {paper} gives a piece {label}", f"papers here: {', '.join(papers)}"


def no_such_paper(phrase: str, papers: tuple[str, ...]) -> Said:
    return f"[[{phrase}]] names a paper that this kit does not use", f"papers here: {', '.join(papers)}"


def unended() -> Said:
    return "a citation begins here and does not end: the page would show the brackets", "end it with  ]]"


# --- where they stand ---------------------------------------------------------------------------------


def doubles_a_word(said: str, word: str) -> Said:
    return f"this reads “{said} {word}”", "take the second word out, or cite the bare number, such as [[count of cards]]"


def one_of_several(word: str) -> Said:
    return f"this reads “1 {word}”", "cite the phrase, such as [[cards]] or [[pieces of A]]; it takes the singular by itself"
