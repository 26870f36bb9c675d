"""Text that somebody may have written to do harm: bounded, and told in a few short lines."""

import pytest
from kitwright.errors import UserError
from kitwright.kit.read import read_club, read_kit
from kitwright.kit.yamltext import BIGGEST, LONGEST_NAME, read_yaml
from making import BATCH, make_archive, make_kit


def filled(text: str) -> str:
    return (text * (BIGGEST // len(text)))[: BIGGEST - 20]


@pytest.mark.parametrize(
    "text, says",
    [
        ("x: " + filled("["), "nested far too deeply"),
        ("x: " + filled("{a: "), "nested far too deeply"),
        (filled("- "), "nested far too deeply"),
        (filled("---\n"), "not YAML"),
        ("".join(" " * i + "a:\n" for i in range(300)) + " " * 300 + "b: [", "not YAML"),
        ("a" * 900 + ": b", "far too long"),
        ('"' + "a" * LONGEST_NAME + '\\n": b', "far too long"),
        ('"a\\nb": c', "far too long"),
        ('"\\ud800": b', "no text"),
        ('x: "\\ud800"', "no text"),
        ('x: "\\uffff"', "no text"),
        ('x: "\\ufffe"', "no text"),
        ('x: "\\U0010ffff"', "no text"),
        ("x: y\u2028\x00", "not YAML"),
    ],
)
def test_hostile_text_is_told_shortly(tmp_path, text, says):
    (tmp_path / "a.yaml").write_text(text, encoding="utf-8")
    with pytest.raises(UserError) as caught:
        read_yaml(tmp_path / "a.yaml")
    error = str(caught.value)
    assert says in error and len(error) < 500 and error.encode("utf-8")


def test_ten_thousand_slips_are_told_as_forty(tmp_path):
    with pytest.raises(UserError) as caught:
        make_kit(tmp_path, BATCH + "".join(f"zk{i}: v\n" for i in range(5_000)))
    assert len(caught.value.each) == 41 and "and more" in caught.value.each[-1].problem


def test_the_longest_file_is_read_and_a_longer_one_is_not(tmp_path):
    folder = make_archive(tmp_path, BATCH + "# " + "x" * (BIGGEST - len(BATCH) - 2))
    assert read_kit(folder, read_club(tmp_path / "kits")).spec.title == "Nine strips"
    with (folder / "kit.yaml").open("a") as file:
        file.write("x")
    with pytest.raises(UserError, match="far too long"):
        read_kit(folder, read_club(tmp_path / "kits"))
