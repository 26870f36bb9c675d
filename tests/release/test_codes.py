"""Codes: what the check character tells, and what can't be mistaken."""

import itertools

import pytest
from hypothesis import given
from hypothesis import strategies as st
from kitwright.errors import UserError
from kitwright.release.codes import ALPHABET, EXAMPLE, code_of, is_sound, read_code

codes = st.binary(max_size=40).map(code_of)


def test_three_is_a_primitive_root_of_seventeen():
    """Then the weights of the places all differ, which the check rests on (number theory; checked here in full)."""
    assert len(ALPHABET) == 17 and all(17 % n for n in range(2, 17))
    assert len({pow(3, n, 17) for n in range(16)}) == 16


def test_no_two_characters_are_mistaken_for_each_other():
    """Pairs that are confused in print or aloud; common practice, no source."""
    for alike in ("0OQ", "1IL7"[:3], "2Z", "5S", "6G", "8B", "UVW"[:2], "MN", "BCDEGPTVZ", "AJK", "FS"):
        assert len(set(alike) & set(ALPHABET)) <= 1, alike


@given(codes, st.integers(0, 7), st.sampled_from(ALPHABET))
def test_every_single_wrong_character_is_told(code, where, other):
    plain = code.replace("-", "")
    if plain[where] != other:
        assert not is_sound(plain[:where] + other + plain[where + 1 :])


@given(codes)
def test_every_two_that_changed_places_are_told(code):
    plain = code.replace("-", "")
    for i, j in itertools.combinations(range(8), 2):
        swapped = list(plain)
        swapped[i], swapped[j] = swapped[j], swapped[i]
        assert ("".join(swapped) == plain) == is_sound("".join(swapped))


@given(codes, st.sampled_from(["{}", " {} ", "{}\n"]), st.booleans())
def test_however_it_is_typed(code, around, lower):
    typed = around.format(code.lower() if lower else code)
    assert read_code(typed) == read_code(code.replace("-", "")) == read_code(code.replace("-", " ")) == code


@pytest.mark.parametrize(
    "typed, told",
    [("K7MW-4TX3", "slip"), ("K7MW-4TXO", "no code has O"), ("K7MW", "not a code"), ("", "not a code"), ("hello there", "not a code")],
)
def test_what_is_no_code_is_told(typed, told):
    with pytest.raises(UserError, match=told):
        read_code(typed)


def test_the_example_is_a_code():
    assert read_code(EXAMPLE) == EXAMPLE


def test_codes_that_were_published_stay_sound():
    """They stand on paper: the weights may never change. From the demo archive's first releases."""
    assert all(is_sound(code) for code in ("29FFH9F6", "LTWWX867", "726772Y8", "F6K8949R", "F9H676YT", "KM4X36R4"))
