"""Short codes that name the exact state of a kit: easy to read aloud, and a slip is told.

A code has seven letters or digits and a check character, shown in two groups: `K7MW-4TX2`.
The alphabet leaves out what is mistaken on paper (0 O, 1 I, 2 Z, 5 S, 6 G, 8 B, U V) or on
the telephone (of B C D E G P T V Z only T is used, of M and N only M, of J and K only K).

The check is of the kind that ISO/IEC 7064 calls a pure system: each character is weighed by
a power of a primitive root modulo a prime (here 3 modulo 17; described from memory). With
fewer than sixteen places it tells every single wrong character and every two that changed
places, wherever they stand.
"""

from __future__ import annotations

import hashlib
import re

from kitwright.errors import UserError

ALPHABET = "2346789FHKLMRTWXY"
"""Seventeen characters; seventeen is a prime, which the check needs."""
ROOT = 3
"""A primitive root modulo 17: its powers give sixteen different weights."""
DATA = 7
"""Characters before the check."""
GROUP = 4
EXAMPLE = "K7MW-4TX2"


def code_of(material: bytes) -> str:
    """The code of some material, in two groups."""
    number = int.from_bytes(hashlib.sha256(material).digest()[:16], "big")
    digits = []
    for _ in range(DATA):
        number, digit = divmod(number, len(ALPHABET))
        digits.append(digit)
    return shown("".join(ALPHABET[d] for d in digits) + ALPHABET[check_digit(digits)])


def check_digit(digits: list[int]) -> int:
    """What makes the weighted sum of all places come to nothing modulo 17; its own weight is 1."""
    total = sum(digit * pow(ROOT, len(digits) - i, len(ALPHABET)) for i, digit in enumerate(digits))
    return -total % len(ALPHABET)


def is_sound(plain: str) -> bool:
    """Whether eight characters without dash carry a check that agrees."""
    digits = [ALPHABET.find(c) for c in plain]
    return len(digits) == DATA + 1 and -1 not in digits and check_digit(digits[:-1]) == digits[-1]


def shown(plain: str) -> str:
    """A code in two groups."""
    return f"{plain[:GROUP]}-{plain[GROUP:]}"


def read_code(text: str) -> str:
    """A code as somebody typed it, in two groups.

    Raises:
        UserError: not a code, or a slip in it.
    """
    plain = re.sub(r"[\s\-–—_.]+", "", text).upper()
    odd = sorted(set(plain) - set(ALPHABET))
    if odd and len(plain) == DATA + 1:
        raise UserError("codes.no-such-letter", text=text, odd=tuple(odd), alphabet=ALPHABET)
    if len(plain) != DATA + 1 or odd:
        raise UserError("codes.no-code", text=text, example=EXAMPLE)
    if not is_sound(plain):
        raise UserError("codes.slip", typed=shown(plain))
    return shown(plain)
