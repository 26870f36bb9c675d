"""Colours of paper as they are typed: by name, or any other in quotes."""

import pytest
from kitwright.errors import UserError
from kitwright.telling.paper_colours import colour_text
from making import BATCH, changed, make_kit


def coloured(typed: str) -> str:
    return changed(BATCH, ("    name: Cream cardstock", f"    name: Cream cardstock\n    front:\n      colours: {typed}"))


@pytest.mark.parametrize(
    "typed, read",
    [
        ("sage", ("sage",)),
        ('"#7A9E7E"', ("#7a9e7e",)),
        ("'7a9e7e'", ("#7a9e7e",)),
        ("123456", ("#123456",)),
        ('[linen, "#7a9e7e", "#FFF000"]', ("linen", "#7a9e7e", "#fff000")),
    ],
)
def test_what_is_typed_is_read(tmp_path, typed, read):
    assert make_kit(tmp_path, coloured(typed)).papers["cream"].front.colours == read


@pytest.mark.parametrize(
    "typed, code, says",
    [
        ("#7a9e7e", "yaml.only-a-note", "in quotes"),
        ("[#7a9e7e, white]", "yaml.bare-colour", 'write "#7a9e7e"'),
        ("[white, #7a9e7e]", "yaml.bare-colour", 'write "#7a9e7e"'),
        ('"#7ae"', "fields.no-paper-colour", "#7a9e7e"),
        ("Sage", "fields.no-paper-colour", "sage"),
        ('[white, sage, plum, "#7a9e7e"]', "spec.too-long", "3"),
    ],
)
def test_what_is_no_colour_is_told_at_its_line(tmp_path, typed, code, says):
    text = coloured(typed)
    with pytest.raises(UserError) as caught:
        make_kit(tmp_path, text)
    [one] = caught.value.each
    assert one.code == code and says in one.remedy + one.problem
    assert one.place.line == text[: text.index("colours: " + typed)].count("\n") + 1


@pytest.mark.parametrize(
    "name, told",
    [("sage", "sage"), ("#719569", "sage"), ("#7a9e7e", "nearly sage"), ("#000000", "nearly night"), ("#b05a30", "nearly clay")],
)
def test_a_colour_is_told_by_the_nearest_name(name, told):
    assert colour_text(name) == told
