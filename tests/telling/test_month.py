"""The texts of the month: for every demo kit and every kind of kit, read for slips of the pen; one month kept as a sample.

To renew the sample after a wording was changed on purpose, type

    KITWRIGHT_RENEW=1 .venv/bin/python -m pytest tests/telling/test_month.py -k sample

then read what differs as the club's owner would before she sends it.
"""

from __future__ import annotations

import datetime as dt
import email
import os
import re
from email import policy
from fractions import Fraction
from html.parser import HTMLParser
from pathlib import Path

import demo
import pytest
from click.testing import CliRunner
from kitwright.archive.downloads import editions_for
from kitwright.archive.offered import printable_name
from kitwright.archive.pictures import pictures_of
from kitwright.cli import cli
from kitwright.cli.brief import shared
from kitwright.errors import UserError
from kitwright.kit.model import Anniversaries
from kitwright.kit.model.people import Member
from kitwright.kit.project import PRINTED
from kitwright.kit.taken import texts as earlier_texts
from kitwright.kit.theme import BRIEFS, OwnFile, Theme
from kitwright.printable.edition import EDITIONS
from kitwright.release.calendar import due, read_time, reveal_of
from kitwright.release.people import read_people
from kitwright.release.upcoming import shown_before
from kitwright.telling import brief as module
from kitwright.telling.brief import WHOM, Texts, printed
from kitwright.telling.month import folder, said
from kitwright.telling.month.amounts import amounts_text, envelopes_text
from kitwright.telling.month.folder import files_of
from kitwright.telling.month.members import readings
from kitwright.telling.month.posts import LENGTHS, kept_to
from kitwright.telling.month.said import ShareFile, the_card
from kitwright.units import parse_size
from kitwright.work.working import work
from making import BATCH, CLUB, ID, changed, make_archive
from oddkits import ODD
from plainwords import faults
from release.bench import LIVING, archive, at, edit, kit_in, people_in, quick_printables, release
from several import SEVERAL

SAMPLE = Path(__file__).with_name("month")
SAMPLE_KIT, SAMPLE_MOMENT = "2026-09-harbour-lights", "2026-09-09 18:30"
"""Its guest's turn: then everything has been shown, and a slip was corrected."""
PEOPLE = read_people(demo.KITS)
PRIVATE = Anniversaries(
    members=[
        Member(name=name, since=since)
        for name, since in {
            "Ada Farthing": "2026-08-20",
            "Ben Hale": "2021-09-03",
            "Cleo Marsh": "2025-09-30",
            "Dora Pike": "2020-01-02",
        }.items()
    ]
)
LATER = dt.datetime(2027, 6, 1, tzinfo=dt.UTC)


@pytest.fixture
def quick(monkeypatch):
    """Nothing is drawn where only words are read."""
    quick_printables(monkeypatch)


@pytest.fixture(autouse=True)
def once_a_process(monkeypatch):
    """A demo kit is worked out once for all tests."""
    monkeypatch.setattr(module, "work", lambda kit, work=module.work: demo.worked(kit.id) if kit is demo.BY_ID.get(kit.id) else work(kit))


def texts_of(kit, when=LATER, people=PEOPLE, private=PRIVATE, theme=None, share=the_card) -> Texts:
    return Texts(kit, theme or Theme(), people, private, when, shown_before(kit, kit.club), share)


def slips(text: str) -> list[str]:
    """What reads wrong; a letter begins `Dear …,`."""
    lines = [line.removeprefix("- ") for line in text.split("\n") if not line.startswith(("Dear ", "Date:"))]
    # Addresses, and what a card says, are nobody's grammar.
    found = [fault for line in lines for fault in faults(re.sub(r"https?://[^\s)]+|“[^”]*”", "X", line))]
    found += [f"an empty part: {one[0]!r}" for one in re.finditer(r"(?m)^.+\n-{3,}\n\n(?=.+\n-{3,}|\Z)", text)]
    found += [f"{what!r}" for what in ("{{", "{%", "half a sheets", "None", "\n\n\n", " \n") if what in text]
    return found


# --- read as a whole --------------------------------------------------------------------------------------


@pytest.mark.parametrize("name", [kit.id for kit in demo.OWN])
def test_every_text_of_every_demo_kit_reads_well(name):
    texts = texts_of(demo.BY_ID[name])
    for file, data in files_of(texts).items():
        text = data.decode()
        if file.endswith(".txt"):
            assert slips(text) == [], file
            assert text.endswith("\n") and not text.startswith("\n")
    for whom in WHOM:
        if (whom == "guest" and not texts.kit.spec.guests) or (whom in module.PUBLIC and not texts.released):
            continue
        text = printed(texts, whom, plain=False)
        assert [fault for fault in slips(text) if "marks" not in fault] == [] and ("](http" in text) == (
            whom in ("viewers", "members", "mail") or (whom != "posts" and bool(texts.kit.spec.links))
        )
    if texts.released:
        assert all(len(post.text) <= post.length.most for post in texts.posts()) and len(texts.picture_text()) < 500
        times = re.findall(r"(?m)^(?:(\d+):)?(\d+):(\d\d) ", texts.viewers())
        seconds = [int(h or 0) * 3600 + int(m) * 60 + int(s) for h, m, s in times]
        assert seconds == sorted(set(seconds)) and seconds[:1] in ([], [0])


def test_the_month_of_one_kit_as_a_sample():
    kit = demo.BY_ID[SAMPLE_KIT]
    made = files_of(texts_of(kit, read_time(SAMPLE_MOMENT, kit.club), share=shared))
    if os.environ.get("KITWRIGHT_RENEW"):
        SAMPLE.mkdir(exist_ok=True)
        for file in SAMPLE.iterdir():
            file.unlink()
        for name, data in made.items():
            (SAMPLE / name).write_bytes(data)
    kept = {file.name: file.read_bytes() for file in SAMPLE.iterdir()}
    assert made.keys() == kept.keys()
    for name, data in made.items():
        assert data.decode() == kept[name].decode(), f"{name} reads otherwise; the first lines of this file say how to renew it"


MANY = "team:\n" + "".join(f"  - {{who: maker-{n}}}\n" for n in range(14))
KINDS = {
    "bare": (BATCH + "reveal: 2030-01-05 18:00\n", CLUB),
    "one card": (changed(BATCH, ("cards: 9", "cards: 1")) + "reveal: 2030-01-05 18:00\n", CLUB + "address: https://bench.example\n"),
    "several designs": (SEVERAL + "reveal: 2030-01-05 18:00\n", CLUB + "address: https://bench.example/\n"),
    "millimetres": (
        ODD["mm, 3 cards, square"] + "reveal: 2030-01-05 18:00\n",
        changed(CLUB, ("region: us", "region: metric")) + "team site: https://bench.example/team\n",
    ),
    "one person": (BATCH + "reveal: 2030-01-05 18:00\nteam: [ada-bellwether]\nby: ada-bellwether\n", CLUB),
    "many": (BATCH + "reveal: 2030-01-05 18:00\n" + MANY, CLUB + "links: [{name: Write, address: 'mailto:us@bench.example'}]\n"),
    "everything": (
        BATCH
        + "reveal: 2030-01-05 18:00\n"
        + LIVING
        + "video:\n  address: https://video.example/x\n  steps: {cut: 1:20, build: 1:20}\n  chapters: {Post: 0:40}\n"
        + "links: [{for: river, address: 'https://papers.example/', earns: yes}, {for: a ruler, address: 'https://tools.example/'}]\n",
        CLUB + "address: https://bench.example/\nteam site: https://bench.example/team/\n",
    ),
}
"""Every kind of kit, and of club."""


def written(root: Path, text: str, club: str) -> tuple[Path, Texts]:
    kits = archive(root, text, club=club)
    for n in range(14):
        (kits / "people" / f"maker-{n}").mkdir()
        (kits / "people" / f"maker-{n}" / "person.yaml").write_text(f"name: Maker Number {n}\nconsent: {{on: 2029-12-01, to: [name]}}\n")
    return kits, texts_of(kit_in(kits), at("2030-02-01 12:00"), people_in(kits), Anniversaries())


@pytest.fixture
def as_released(monkeypatch):
    """A kit counts as published as it stands, since here nothing is asked of its revisions."""
    monkeypatch.setattr(module, "current", lambda kit, as_of: work(kit))
    for each in (module, folder, said):
        monkeypatch.setattr(each, "published_at", reveal_of)
    monkeypatch.setattr(said, "is_public", due)


@pytest.mark.parametrize("kind", KINDS)
def test_every_kind_of_kit_reads_well(tmp_path, as_released, kind):
    _, texts = written(tmp_path, *KINDS[kind])
    files = {name: data.decode() for name, data in files_of(texts).items()}
    for name, told in files.items():
        assert not name.endswith(".txt") or slips(told) == [], (name, slips(told))
    assert ("mail.eml" in files) == (kind == "many") and ("guest-quill-nobody.txt" in files) == (kind == "everything")
    assert kind != "bare" or "http" not in "".join(files.values()), "no link is made up"
    match kind:
        case "one card":
            assert "our new kit for one card" in files["mail.txt"] and "For 1 card of" in files["mail.txt"]
        case "several designs":
            assert "16 cards in two designs" in files["post-short.txt"]
        case "millimetres":
            assert "- A4: https://bench.example/team/kits/2030-01-test-kit/2030-01-test-kit-a4.pdf\n- Letter: " in files["team.txt"]
        case "one person":
            assert files["team.txt"].split("\n")[2:5] == [
                "Hello Ada Bellwether.",
                "",
                "Here is our kit for January. Nine cards from one sheet.",
            ]
        case "everything":
            assert "0:00 Nine strips\n0:40 Post\n1:20 Cut everything and Build all the fronts\n" in files["video.txt"]


def test_templates_that_an_earlier_kitwright_had_are_filled_in_still(tmp_path, as_released):
    """Hers of before ask for what they were given then."""
    kits, _ = written(tmp_path, *KINDS["everything"])
    tried = 0
    for name, known in earlier_texts().items():
        for text in known if name.startswith(f"{BRIEFS}/") else ():
            mine = OwnFile(name, tmp_path / name, f"{text}\nMine.\n".encode())
            texts = texts_of(kit_in(kits), at("2030-02-01 12:00"), people_in(kits), PRIVATE, Theme(folder=tmp_path, files={name: mine}))
            whom = Path(name).stem
            assert whom not in WHOM or "Mine." in printed(texts, whom, plain=True)
            tried += 1
    assert tried >= 4


# --- before it is public -----------------------------------------------------------------------------------


def test_nothing_for_the_public_can_be_sent_too_early(tmp_path, quick):
    kits = archive(tmp_path, BATCH + "reveal: 2030-01-05 18:00\n" + LIVING, club=CLUB + "address: https://bench.example/\n")
    texts = texts_of(kit_in(kits), at("2030-01-03 12:00"), people_in(kits))
    assert set(files_of(texts)) == {"contents.txt", "team.txt", "guest-quill-nobody.txt"}
    for ask in (texts.mail, texts.posts, texts.viewers, texts.members):
        with pytest.raises(UserError, match="no revision yet"):
            ask()
    release(kit_in(kits), people_in(kits), at("2030-01-04 12:00"))
    # Whatever her own templates say, the line is there.
    mine = {f"briefs/{name}": OwnFile(f"briefs/{name}", tmp_path / name, b"Mine.\n") for name in ("mail.md", "viewers.md", "members.md")}
    early = texts_of(kit_in(kits), at("2030-01-05 17:59"), people_in(kits), theme=Theme(folder=tmp_path, files=mine))
    line = "HOLD THIS BACK until Saturday 5 January 2030, 18:00, Lisbon time. Until then nothing of the kit is public."
    for name, data in files_of(early).items():
        text = data.decode()
        if name.endswith(".txt") and not name.startswith(("team", "guest", "picture")):
            assert text.split("\n\n")[1 if name in ("mail.txt", "contents.txt") else 0].startswith(line), name
    assert early.mail().subject.startswith("HOLD: ") and line in early.mail().html
    then = texts_of(kit_in(kits), at("2030-01-05 18:00"), people_in(kits))
    assert not any(b"HOLD" in data for data in files_of(then).values())


def test_credits_tell_who_agreed_each_with_her_link_once_and_a_guest_from_her_moment_on(tmp_path, quick):
    kits, _ = written(tmp_path, *KINDS["everything"])
    release(kit_in(kits), people_in(kits), at("2030-01-04 12:00"))
    video = texts_of(kit_in(kits), at("2030-02-01 12:00"), people_in(kits)).viewers()
    assert "- Drawn up by Ada Bellwether (https://bellwether.example/)\n- Cards shown by Ada Bellwether\n" in video and "Quill" not in video
    person = kits / "people" / "quill-nobody" / "person.yaml"
    person.write_text("name: Quill Penhale\nlink: https://quill.example/\nconsent: {on: 2029-12-01, to: [name, link, samples]}\n")
    edit(kits, ("guests:\n  - quill-nobody", "guests:\n  - {who: quill-nobody, by: late turn}"))
    for when, there in (("2030-01-15 12:00", False), ("2030-01-21 12:00", True)):
        video = texts_of(kit_in(kits), at(when), people_in(kits)).viewers()
        assert ("- Our guest: Quill Penhale (https://quill.example/)" in video) == there == ("Quill" in video)


# --- the mail ----------------------------------------------------------------------------------------------


class Page(HTMLParser):
    """What tags a page has, with what they ask for."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.tags: list[tuple[str, dict[str, str | None]]] = []
        self.feed(text)

    def handle_starttag(self, tag, attrs):
        self.tags.append((tag, dict(attrs)))


def test_the_mail_is_one_message_with_two_alternatives():
    """RFC 5322 (2.1.1: lines; 3.6: date and sender), RFC 2046 section 5.1.4 (the best alternative last)."""
    kit = demo.BY_ID[SAMPLE_KIT]
    texts = texts_of(kit, read_time(SAMPLE_MOMENT, kit.club))
    data = files_of(texts)["mail.eml"]
    assert data == files_of(texts)["mail.eml"] and b"\n" not in data.replace(b"\r\n", b"") and max(map(len, data.split(b"\r\n"))) <= 998
    read = email.message_from_bytes(data, policy=policy.default)
    assert not read.defects and read.get_content_type() == "multipart/alternative" and data.isascii()
    assert read["From"] == "The Wednesday Bench <bench@wednesday-bench.example>" and read["To"] is None
    assert read["Date"].datetime == read_time("2026-09-02 18:30", kit.club) and read["Subject"] == texts.mail().subject
    text, html = read.iter_parts()
    assert (text.get_content_type(), html.get_content_type()) == ("text/plain", "text/html") and not text.defects and not html.defects
    assert text.get_content().replace("\r\n", "\n") == texts.mail().text and html.get_content().replace("\r\n", "\n") == texts.mail().html


def test_the_mail_as_html_says_the_same_and_runs_nothing(tmp_path, as_released):
    odd = changed(KINDS["everything"][0], ("title: Nine strips", "title: '<script>x</script> & \"strips\"'"))
    _, texts = written(tmp_path, odd, KINDS["everything"][1])
    mail = texts.mail()
    page = Page(mail.html)
    assert {tag for tag, _ in page.tags} <= set("html head meta title body p img a h2 ul li br".split())
    assert not any(name.startswith("on") or name == "srcset" for _, given in page.tags for name in given)
    (picture,) = [given for tag, given in page.tags if tag == "img"]
    assert picture["src"] == "https://bench.example/kits/2030-01-test-kit/card.png" and picture["alt"] == texts.picture_text()
    assert mail.subject == '<script>x</script> & "strips": our new kit for nine cards'
    # Everything that leads somewhere in the one does so in the other.
    assert {given["href"] for tag, given in page.tags if tag == "a"} == set(re.findall(r"https://[^\s)]+", mail.text))
    assert mail.html.count("(this link earns the club money)") == mail.text.count("(this link earns the club money)") == 1
    assert "<li>1 sheet of River, 12 × 12 in (≈305 × 305 mm). " in mail.html


# --- as commands ----------------------------------------------------------------------------------------------


def run(kits: Path, *asked: str):
    return CliRunner().invoke(cli, ["--root", str(kits.parent), "brief", ID, *asked])


def test_one_command_writes_all_and_keeps_what_she_changed(tmp_path, quick):
    kits = archive(tmp_path, BATCH + "reveal: 2030-01-05 18:00\n" + LIVING, club=KINDS["many"][1])
    folder, then = tmp_path / "texts", ("--all", "--out", str(tmp_path / "texts"), "--as-of", "2030-01-06")
    early = run(kits, *then)
    assert early.exit_code == 0 and f"Wrote 3 files to {folder}." in early.stdout and "no revision yet" in early.stderr
    release(kit_in(kits), people_in(kits), at("2030-01-04 12:00"))
    held = run(kits, "--all", "--out", str(folder), "--as-of", "2030-01-05")
    assert "--as-of 2030-01-05T18:00" in held.stderr and (folder / "video.txt").read_text(encoding="utf-8").startswith("HOLD THIS BACK")
    first = run(kits, *then)
    assert first.exit_code == 0 and "held back" not in first.stderr
    assert {file.name for file in folder.iterdir() if not file.name.startswith(".")} == set(
        files_of(texts_of(kit_in(kits), at("2030-01-06 00:00"), people_in(kits), Anniversaries()))
    )
    assert "Nothing has changed" in run(kits, *then).stdout
    (folder / "video.txt").write_text("In my own words.\n")
    edit(kits, ("make: two cards", "make: three cards"))
    for _ in range(2):
        again = run(kits, *then)
        assert "You changed video.txt: kept as you have it." in again.stdout and (folder / "video.txt").read_text() == "In my own words.\n"
    assert "three cards" in (folder / "team.txt").read_text(encoding="utf-8")
    (tmp_path / "mine").mkdir()
    (tmp_path / "mine" / "notes.txt").write_text("Mine.")
    refused = run(kits, "--all", "--out", str(tmp_path / "mine"))
    assert (
        refused.exit_code == 2
        and "did not put there" in refused.stderr
        and [f.name for f in (tmp_path / "mine").iterdir()] == ["notes.txt"]
    )
    mail = run(kits, "--for", "mail", "--eml", "--as-of", "2030-01-06")
    assert mail.stdout_bytes == (folder / "mail.eml").read_bytes()
    assert run(kits, "--for", "mail", "--html", "--as-of", "2030-01-06").stdout_bytes == (folder / "mail.html").read_bytes()
    for asked, word in (
        ((), "--all"),
        (("--all", "--for", "team"), "--for mail"),
        (("--for", "team", "--html"), "no html"),
        (("--for", "team", "--out", "x"), "--all"),
    ):
        done = run(kits, *asked)
        assert done.exit_code == 2 and word in done.stderr, asked


def test_what_a_mail_or_a_post_can_not_be_is_told(tmp_path, quick):
    kits = archive(
        tmp_path,
        changed(BATCH, ("title: Nine strips", f"title: {'Nine strips ' * 9}")) + "reveal: 2030-01-05 18:00\n",
        club=changed(CLUB, ("name: Test bench", f"name: {'A long name ' * 9}")) + f"address: https://{'long' * 20}.example/\n",
    )
    release(kit_in(kits), people_in(kits), at("2030-01-04 12:00"))
    refused = run(kits, "--for", "mail", "--eml", "--as-of", "2030-01-06")
    assert refused.exit_code == 2 and "from whom it is" in refused.stderr and "mailto:" in refused.stderr
    long = run(kits, "--for", "posts", "--as-of", "2030-01-06")
    assert long.exit_code == 0 and "the short post has" in long.stderr and "the middle post" not in long.stderr


# --- rules --------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "amounts, words",
    [
        ({"Breeze": 1, "Barley": 2}, "a sheet of Breeze and two of Barley"),
        ({"Breeze": 1}, "a sheet of Breeze"),
        ({"Breeze": "1/2", "Barley": 2}, "half a sheet of Breeze and two sheets of Barley"),
        ({"Breeze": 2, "Barley": "1/2"}, "two sheets of Breeze and half a sheet of Barley"),
        ({"Breeze": 1, "Barley": 1}, "a sheet each of Breeze and Barley"),
        (
            {"Breeze": 2, "Barley": 2, "White": "13/2", "Slate": 1},
            "two sheets each of Breeze and Barley, six and a half sheets of White, and a sheet of Slate",
        ),
        ({"Breeze": 3, "Barley": 1, "Reed": 14}, "three sheets of Breeze, one of Barley and 14 of Reed"),
        ({"Breeze": "29/2"}, "14 and a half sheets of Breeze"),
    ],
)
def test_amounts_read_as_written_by_hand(amounts, words):
    assert amounts_text((name, Fraction(n)) for name, n in amounts.items()) == words


def test_envelopes_agree_with_their_number():
    kit = demo.BY_ID[SAMPLE_KIT]
    envelope = kit.spec.card.envelope
    assert [envelopes_text(n, envelope, "in") for n in (1, 10)] == ["1 US A2 envelope", "10 US A2 envelopes"]
    bare = type(envelope)("", parse_size("4 x 6"), "")
    assert envelopes_text(2, bare, "in") == "2 envelopes of 4 × 6 in"
    assert envelopes_text(8, type(envelope)("5½ square envelope", bare.size, ""), "in") == "8 envelopes, 5½ square envelope"


def test_a_post_keeps_its_first_and_last_paragraph():
    parts = ["lead", "a" * 50, "b" * 50, "link"]
    assert kept_to("\n\n".join(parts), 200) == "\n\n".join(parts)
    assert kept_to("\n\n".join(parts), 100) == f"lead\n\n{'a' * 50}\n\nlink"
    assert kept_to("\n\n".join(parts), 5) == "lead\n\nlink", "and then it is said to be too long"
    assert [length.most for length in LENGTHS] == sorted(length.most for length in LENGTHS)


def test_who_gets_which_note_by_the_rule(tmp_path):
    kit = demo.BY_ID[SAMPLE_KIT]
    assert shown_before(kit, kit.club) == dt.date(2026, 8, 5) and shown_before(demo.OWN[0], kit.club) is not None

    def notes(before, **since):
        members = Anniversaries(members=[Member(name=name, since=day) for name, day in since.items()])
        return {one.group: one.names for one in readings(members, kit, before)}

    before = dt.date(2026, 8, 5)
    assert notes(before) == {"others": ()}
    # From the day after the kit before, up to the day of this one, and nobody twice.
    edges = {"A": "2026-08-05", "B": "2026-08-06", "C": "2026-09-02", "D": "2026-09-03", "E": "2025-09-30", "F": "2025-08-31"}
    assert notes(before, **edges) == {"joined": ("B", "C"), "year": ("E",), "others": ()}
    assert notes(None, **edges) == {"joined": ("C",), "year": ("E",), "others": ()}
    # Two kits in one month: the second welcomes who came in between.
    first, second = demo.BY_ID["2026-11-evening-post"], demo.BY_ID["2026-11-weathervane"]
    assert shown_before(second, kit.club) == first.reveal.date()


def test_a_kit_before_that_cant_be_read_is_known_by_its_folder(tmp_path):
    make_archive(tmp_path, BATCH + "reveal: 2030-01-05 18:00\n")
    kit = kit_in(tmp_path / "kits")
    assert shown_before(kit, kit.club) is None
    for name in ("2029-12-half-typed", "2029-11-older", "2030-02-later"):
        (tmp_path / "kits" / name).mkdir()
    (tmp_path / "kits" / "2029-12-half-typed" / "kit.yaml").write_text("title: [\nreveal: 2029-12-07 18:00\n")
    assert shown_before(kit, kit.club) == dt.date(2029, 12, 7)


def test_editions_are_called_alike_everywhere():
    assert {key: edition.name for key, edition in EDITIONS.items()} == PRINTED
    for name in (SAMPLE_KIT, "2026-01-low-tide"):
        kit = demo.BY_ID[name]
        told = [place.address for place in texts_of(kit)._said("team")["printables"]]
        assert told == [f"https://wednesday-bench.example/team/kits/{name}/{printable_name(kit, edition)}" for edition in editions_for(kit)]


@pytest.mark.parametrize("name", [SAMPLE_KIT, "2026-04-kitchen-garden"])
def test_the_picture_of_the_mail_lies_beside_the_kits_page(name):
    """The one that goes with a link; without a way to find it, the card alone."""
    pictures, kit = pictures_of(demo.worked(name)), demo.BY_ID[name]
    assert pictures["card"].pixels and f"{pictures['card'].name}.png" == the_card(demo.worked(name)).file
    texts = texts_of(kit, share=shared)
    told = Page(texts.mail().html)
    (picture,) = [given for tag, given in told.tags if tag == "img"]
    assert picture["src"] == f"https://wednesday-bench.example/kits/{name}/share.{pictures['share'].posted}"
    caption = shared(demo.worked(name)).caption
    assert picture["alt"] == pictures["share"].alt
    assert texts.picture_text() == "\n\n".join([pictures["share"].alt, *filter(None, [caption])])
    # Of the two, one shows a paper as it is.
    assert caption == ("" if name == SAMPLE_KIT else "Paper: Bean blossom, by the Sedgewater Paper Mill")
    credited = texts_of(kit, share=lambda worked: ShareFile("share.jpg", "Cards", "Papers: a & b"))
    assert "<br><small>Papers: a &amp; b</small>" in credited.mail().html and credited.picture_text() == "Cards\n\nPapers: a & b"
