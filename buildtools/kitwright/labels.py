"""What the card base is called on sheets and in lists: of one design, and of several."""

import re
import unicodedata

BASE = "base"
"""The label of the card base itself, in a kit of one design; and how an entry of a design names its own."""

PINWHEEL = "pinwheel"
"""What eight triangles around one point are called, as something to lie on."""


def base_label(design: str) -> str:
    """What the card base of a design is called; the name is empty in a kit of one."""
    return f"{design} {BASE}" if design else BASE


def is_base(label: str | None) -> bool:
    """Whether a label is that of a card base, of any design. No piece has a label of two words."""
    return label is not None and (label == BASE or label.endswith(f" {BASE}"))


def dashed(text: str, signs: str) -> str:
    """The runs of some signs in a text, joined by dashes.

    Args:
        text: as it is to stand there, small letters or not.
        signs: which are kept, as a set of a regular expression.
    """
    return "-".join(re.findall(f"[{signs}]+", text))


def slug(name: str) -> str:
    """A name as a part of a link or of the name of a file: small letters and figures, joined by dashes."""
    return dashed(name.casefold(), r"^\W_")


def anchor(text: str) -> str:
    """A text as the name of a place on a page, never empty: `free band` → `free-band`; an underline stays."""
    return dashed(text.casefold(), r"\w") or "x"


def key_of(name: str, instead: str, longest: int) -> str:
    """A name as a key of a file: plain small letters and figures, joined by dashes, a letter first; `instead` leads where none does.

    Args:
        name: as it is typed.
        instead: a key of what it is the name of, such as `paper`.
        longest: as many signs at most.
    """
    plain = unicodedata.normalize("NFKD", name.casefold()).encode("ascii", "ignore").decode()
    key = dashed(plain, "a-z0-9")
    return (key if key[:1].isalpha() else f"{instead}-{key}")[:longest].strip("-")


def named(name: str, design: str) -> str:
    """The name of what is there for each design, with the design's own; `design` is empty in a kit of one."""
    return f"{name}-{slug(design)}" if design else name


def design_of(label: str) -> str:
    """The design whose base a label is; empty in a kit of one."""
    return label.removesuffix(BASE).strip()
