"""Codes of copies that were typed wrongly."""

from __future__ import annotations

from kitwright.errors import Said


def no_such_letter(text: str, odd: tuple[str, ...], alphabet: str) -> Said:
    return (
        f"“{text[:20]}” can't be a code: no code has {' or '.join(odd)} in it",
        f"codes are made of {' '.join(alphabet)}; look at the foot of the printable again",
    )


def no_code(text: str, example: str) -> Said:
    return f"“{text[:20]}” is not a code", f"a code has eight letters and digits, such as {example}"


def slip(typed: str) -> Said:
    return f"there is a slip in the code {typed}", "look at the foot of the printable again, character by character"
