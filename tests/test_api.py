"""The library face: the README's example runs, what it gives is what the commands give, and importing it costs nothing."""

import io
import re
from pathlib import Path

import pytest
from click.testing import CliRunner
from kitwright import api
from kitwright.archive.starter import write_starter
from kitwright.cli import cli
from kitwright.errors import UserError
from kitwright.findings import LEVELS
from making import BATCH, CLUB, changed, make_archive
from PIL import Image
from pypdf import PdfReader

README = (Path(__file__).parents[1] / "README.md").read_text(encoding="utf-8")
EXAMPLES = re.findall(r"```python\n(.*?)```", README, re.DOTALL)


@pytest.fixture(scope="module")
def folder(tmp_path_factory):
    """The kit that the README names, as `kitwright new` writes it."""
    kits = tmp_path_factory.mktemp("other") / "kits"
    kits.mkdir()
    (kits / "club.yaml").write_text(CLUB, encoding="utf-8")
    return write_starter(kits, "2027-03-river-stones", None)


@pytest.fixture(scope="module")
def worked(folder):
    return api.work(api.read_kit(folder))


def test_the_readmes_example_runs(folder, monkeypatch, capsys):
    monkeypatch.chdir(folder.parents[1])
    assert EXAMPLES
    for example in EXAMPLES:
        names: dict[str, object] = {}
        exec(example, names)
        printed = capsys.readouterr().out
        assert "commands.no-picture; its pictures: card" in printed and re.search(r"^white \d", printed, re.MULTILINE)
        pictures = names["pictures"]
        assert pictures["sketch.svg"].startswith(b"<?xml") and b"<svg" in pictures["sketch.svg"]
        with Image.open(io.BytesIO(pictures["guide.png"])) as picture:
            assert picture.format == "PNG" and min(picture.size) > 300
        base, card = (PdfReader(io.BytesIO(pictures[name])) for name in ("base.pdf", "card.pdf"))
        # US Letter is 8.5 × 11 in.
        assert len(base.pages) == 1 and len(card.pages) == 2 and card.pages[0].mediabox[2:] == [612, 792]
        assert "fold" in base.pages[0].extract_text()


def test_what_check_finds_is_what_the_command_prints(tmp_path):
    kit = make_archive(tmp_path, changed(BATCH, ("    per card: 2\n", "    per card: 3\n")) + "samples:\n  - {by: nobody-here}\n")
    found = api.check(api.read_kit(kit))
    printed = CliRunner().invoke(cli, ["--root", str(tmp_path), "check", kit.name]).output
    assert {f.code for f in found} >= {"people.nobody"} and found == sorted(found, key=lambda f: LEVELS.index(f.level))
    for one in found:
        assert f"{one.place}: {one.level}: {one.problem}\n  {one.remedy}\n" in printed


def test_what_can_not_be_had_is_one_clear_error(worked, tmp_path):
    with pytest.raises(UserError, match="is a PDF"):
        api.draw(worked, "printable-a4", "png")
    for asked in ({"one_way": ["velvet"]}, {"papers": {"velvet": "A4"}}):
        with pytest.raises(UserError, match="does not use a paper velvet"):
            api.plan(worked, **asked)
    for cards in (0, -3):
        with pytest.raises(UserError, match="can't be planned for"):
            api.plan(worked, cards=cards)
    with pytest.raises(UserError, match="nothing is drawn as jpg"):
        api.draw(worked, "card", "jpg")
    for nothing in (tmp_path / "nothing", worked.kit.document.file):
        with pytest.raises(UserError, match="a kit is a folder, and this is none"):
            api.read_kit(nothing)
    old = make_archive(tmp_path, "past: yes\ntitle: Old\nprintable: old.pdf\n", name="2029-01-old")
    (old / "old.pdf").write_bytes(b"%PDF-1.4\n")
    with pytest.raises(UserError, match="nothing can be computed"):
        api.read_kit(old)
