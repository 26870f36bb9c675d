"""The benchmark command: what it reads, prints and refuses."""

from pathlib import Path

import optima as benchmark
import pytest

ROOT = Path(__file__).parents[2]
GCUT = ROOT / "tests" / "outside" / "gcut"


def test_a_line_for_each_file(capsys):
    assert benchmark.main([str(GCUT / "gcut1.txt"), str(GCUT / "gcut5.txt")]) == 0
    lines = [line.split() for line in capsys.readouterr().out.splitlines()]
    assert [line[:3] for line in lines] == [["gcut1", "56460", "56460"], ["gcut5", "246000", "246000"]]
    assert all(len(line) == 4 and float(line[3]) >= 0 for line in lines)


def test_turned_and_limited(capsys):
    assert benchmark.main([str(GCUT / "gcut1.txt"), "--turn"]) == 0
    assert benchmark.main([str(GCUT / "limited" / "cgcut2.txt"), "--limited"]) == 0
    words = [line.split()[:3] for line in capsys.readouterr().out.splitlines()]
    assert words == [["gcut1", "58136", "58136"], ["cgcut2", "2892", "2892"]]


def test_out_of_work_is_said(capsys):
    assert benchmark.main([str(GCUT / "limited" / "hchl8s.txt"), "--limited", "--steps", "1000"]) == 0
    name, value, bound, _, *rest = capsys.readouterr().out.split()
    assert name == "hchl8s" and int(value) <= 911 <= int(bound)
    assert rest == ["not", "proved"]


@pytest.mark.parametrize(
    ("text", "line", "problem"),
    [
        ("", None, "no kind of piece"),
        ("0\n5 5\n", 1, "no kind of piece"),
        ("2\n10 10\n3 4 5\n", 3, "need 9 numbers"),
        ("1\n10 10\n3 4 5\n6\n", 3, "need 6 numbers"),
        ("1\n10 x\n3 4 5\n", 2, "not a whole number"),
        ("1\n10 1.5\n3 4 5\n", 2, "not a whole number"),
        ("1\n10 10\n3 0 5\n", 3, "width of a piece is 0"),
        ("1\n10 10\n3 4 -5\n", 3, "value of a piece is -5"),
        ("1\n0 10\n3 4 5\n", 2, "side of the sheet is 0"),
        ("1\n99999999 10\n3 4 5\n", 2, "too long"),
        ("9" * 30, 1, "18 digits"),
    ],
)
def test_bad_files_give_one_clear_error(tmp_path, capsys, text, line, problem):
    bad = tmp_path / "bad.txt"
    bad.write_text(text, encoding="utf-8")
    assert benchmark.main([str(GCUT / "gcut1.txt"), str(bad)]) == 2
    out, error = capsys.readouterr()
    assert out == ""
    assert error.startswith(f"{bad}:{line}: " if line else f"{bad}: ") and problem in error


def test_files_that_cannot_be_read(tmp_path, capsys):
    (tmp_path / "picture").write_bytes(b"\xff\xfe\x00")
    for name in ("missing", "", "picture"):
        assert benchmark.main([str(tmp_path / name)]) == 2
        assert capsys.readouterr().err.count("\n") == 2


@pytest.mark.parametrize("steps", ["0", "-1", "soon", "1.5", "9" * 30])
def test_steps_are_above_zero(steps, capsys):
    with pytest.raises(SystemExit) as stop:
        benchmark.main([str(GCUT / "gcut1.txt"), "--steps", steps])
    assert stop.value.code == 2
    assert "steps above 0" in capsys.readouterr().err
