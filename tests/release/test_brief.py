"""Briefs: ready to send, no size retyped, nothing kept back that must be said."""

import re
import shutil
from pathlib import Path

import pytest
from kitwright.errors import UserError
from kitwright.kit.model import Anniversaries
from kitwright.kit.theme import Theme
from kitwright.release.errata import draft
from kitwright.release.people import anniversaries
from kitwright.release.state import preview_code
from kitwright.telling.brief import WHOM, brief
from kitwright.telling.month.said import chapters_of, clock
from kitwright.work.working import work
from making import BATCH, CLUB, changed
from release.bench import LIVING, archive, at, edit, kit_in, people_in, publish_erratum, release

THEME = Path(__file__).parents[2] / "theme"
MORE = """\
video:
  address: https://video.example/x
  steps: {cut: 1:20, build: 1:04:05}
  chapters: {"Post": 30:00}
links:
  - {for: river, address: "https://papers.example/river", earns: yes}
  - {for: a ruler, address: "https://tools.example/ruler"}
members:
  - {file: extras/a.svg, name: a cut file}
cut files: members
"""
LATER = at("2030-02-01 00:00")


@pytest.fixture
def kits(tmp_path, quick):
    kits = archive(tmp_path, BATCH + "reveal: 2030-01-05 18:00\n" + LIVING + MORE, club=CLUB + "address: https://bench.example/cards\n")
    (kits / "people" / "private.yaml").write_text(
        "members:\n  - {name: Mona Farthing, since: 2025-01-20}\n  - {name: Otis Penhale, since: 2029-01-31}\n"
        "  - {name: May Late, since: 2024-05-01}\n  - {name: New Come, since: 2030-01-02}\n",
        encoding="utf-8",
    )
    return kits


def text(kits, whom, when=LATER, **more):
    return brief(kit_in(kits), whom, Theme(), people_in(kits), anniversaries(kits), when, **more)


def released(kits):
    release(kit_in(kits), people_in(kits), at("2030-01-04 12:00"))
    return kits


@pytest.mark.parametrize("whom", WHOM)
@pytest.mark.parametrize("plain", [False, True])
def test_every_brief_is_whole(kits, whom, plain):
    said = text(released(kits), whom, plain=plain)
    notes = 3 if whom == "members" else 1
    assert "It takes a sheet of River" in said if whom == "posts" else said.count("1 sheet of River, 12 × 12 in") == notes
    # Who cuts reads of blades; the announcement and posts lead to where it stands.
    assert said.count("Keep fingers away from the blade.") == (0 if whom in ("mail", "posts") else notes)
    assert "{{" not in said and "None" not in said and "\n\n\n" not in said and said.endswith("\n") and not said.startswith("\n")
    earning = [line for line in said.split("\n") if "papers.example" in line]
    assert len(earning) == (0 if whom == "posts" else notes) == said.count("this link earns the club money")
    assert all(line.endswith("(this link earns the club money)") for line in earning)
    if whom == "posts":
        assert said.count("/index.html (Some links on the kit’s page earn the club money.)") == 3
    assert ("](" in said) != (plain or whom == "posts") and ("# " in said) != plain
    assert said == text(kits, whom, plain=plain)


def test_the_team_reads_its_own_clocks(kits):
    said = text(kits, "team")
    assert "Ada Bellwether: two cards, by Wednesday 9 January 2030, 23:30, Kolkata time (a day before samples)" in said
    assert preview_code(work(kit_in(kits))) in said and "NOT PUBLIC" in said and "From then on: everything" in said
    assert "B: 18 pieces, 3¾ × ⅞ in" in said
    assert preview_code(work(kit_in(kits))) not in text(released(kits), "team")


def test_a_guest_without_consent_has_no_name(kits):
    said = text(kits, "guest")
    assert "a brief for a maker" in said and "Quill" not in said
    edit(kits, ("guests:\n  - quill-nobody\n", ""))
    with pytest.raises(UserError, match="no guest"):
        text(kits, "guest")


def test_sizes_follow_the_kit(kits):
    before = re.findall(r"[\d¼½¾⅛⅜⅝⅞]+ × [\d¼½¾⅛⅜⅝⅞]+ in", text(kits, "team"))
    edit(kits, ("3-3/4 x 7/8", "3-3/4 x 3/4"), ("6 strips of 7/8", "6 strips of 3/4"))
    after = re.findall(r"[\d¼½¾⅛⅜⅝⅞]+ × [\d¼½¾⅛⅜⅝⅞]+ in", text(kits, "team"))
    assert [(a, b) for a, b in zip(before, after) if a != b] == [("3¾ × ⅞ in", "3¾ × ¾ in")] and len(before) == len(after)
    for template in sorted((THEME / "briefs").iterdir()):
        assert not re.search(r"\d\s*(in|mm|cm|×|x)\b", template.read_text(encoding="utf-8")), template.name


def test_viewers_get_chapters_corrections_and_the_page(kits):
    with pytest.raises(UserError, match="no revision yet"):
        text(kits, "viewers")
    released(kits)
    said = text(kits, "viewers", plain=True)
    chapters = [line for line in said.split("\n") if re.match(r"\d+:\d\d", line)]
    assert chapters == ["0:00 Nine strips", "1:20 Cut everything", "30:00 Post", "1:04:05 Build all the fronts"]
    assert (
        "Corrections" not in said
        and "https://bench.example/cards/kits/2030-01-test-kit/index.html" in said
        and "https://bench.example/cards/errata.html" not in said
    )
    kit = edit(kits, ("3-3/4 x 7/8", "3-3/4 x 3/4"), ("6 strips of 7/8", "6 strips of 3/4"))
    # What is not published yet is not told.
    assert text(kits, "viewers", plain=True) == said
    publish_erratum(draft(kit, people_in(kits)), at("2030-01-09 12:00"), "Trim them.")
    told = text(kits, "viewers")
    assert "Revision 2, 9 January 2030: B is 3¾ × ¾ in, not 3¾ × ⅞ in" in told and "Your copy is affected" in told and "Trim them." in told
    assert "## Corrections\n\n- Revision 2" in told
    assert "Trim them.\n[All corrections, newest first](" in told, "the link stands on a line of its own"


def test_members_get_thanks_and_the_names_of_extras(kits):
    said = text(released(kits), "members")
    assert "- Mona Farthing: for five years\n- Otis Penhale: for a year\n" in said
    assert "May Late" not in said and "- a cut file" in said and "extras/a.svg" not in said
    assert "- cut files for electronic cutters" in said, "the members’ place has them too"
    bare = brief(kit_in(kits), "members", Theme(), people_in(kits), Anniversaries(), LATER)
    assert "Thank you" not in bare and bare.startswith("Dear members,\n"), "and no heading, where there is one note alone"
    for whom in ("team", "guest", "viewers"):
        assert "Mona" not in text(kits, whom)


def test_without_an_address_no_link_is_made_up(tmp_path, quick):
    kits = archive(tmp_path)
    said = text(released(kits), "viewers")
    assert "http" not in said


def test_clocks():
    assert [clock(s) for s in (0, 59, 60, 3599, 3600, 3845)] == ["0:00", "0:59", "1:00", "59:59", "1:00:00", "1:04:05"]


@pytest.mark.parametrize("wrong", ["4.05", "4:5", "90", "1:60", "1:61:00", "-1:00"])
def test_a_time_in_a_video_that_is_none(tmp_path, wrong):
    with pytest.raises(UserError, match="not a time in a video"):
        kit_in(archive(tmp_path, BATCH + changed(MORE, ("cut: 1:20", f"cut: '{wrong}'"))))
    shutil.rmtree(tmp_path)


@pytest.mark.parametrize("first, lines", [("0:00", ["0:00 Cut everything"]), ("0:01", ["0:00 Nine strips", "0:01 Cut everything"])])
def test_chapters_begin_at_the_very_start(tmp_path, quick, first, lines):
    """Common practice, no source: hosts take a list of chapters only when it begins at 0:00."""
    kits = archive(tmp_path, BATCH + f"video:\n  address: https://video.example/x\n  steps: {{cut: '{first}'}}\n")
    assert [f"{c.time} {c.title}" for c in chapters_of(kit_in(kits))] == lines
