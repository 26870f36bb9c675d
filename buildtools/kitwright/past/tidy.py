"""Words that were taken from a PDF, or from a file that was: nothing but words, and no more than a page needs."""

from __future__ import annotations

import unicodedata

CHARACTERS = 8_000
"""Of the words of one printable: one of four pages has some 4,000, and a phone loads the index of all of them."""
_GOES_ON = ("\x02", "\xad", "\ufffe")
"""What stands at the end of a line where a word goes on in the next, as PDFium tells it."""

_LIGATURES = {n: unicodedata.normalize("NFKC", chr(n)) for n in range(0xFB00, 0xFB07)}
"""`ﬁ` and its like, in which nobody would find a word."""


def tidy(text: str) -> str:
    """Letters as one types them (ligatures apart, fractions as they are), nothing that steers a reader's screen, no empty lines."""
    text = text.replace("\r\n", "\n")
    for sign in _GOES_ON:
        text = text.replace(f"{sign}\n", "").replace(sign, "")
    lines = []
    for line in unicodedata.normalize("NFC", text.translate(_LIGATURES)).splitlines():
        plain = "".join(" " if c.isspace() else c if unicodedata.category(c)[0] not in "CZ" else "" for c in line)
        if words := " ".join(plain.split()):
            lines.append(words)
    return "\n".join(lines)
