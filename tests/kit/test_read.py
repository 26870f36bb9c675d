"""Reading a kit folder: what is good, and every way to type it wrong."""

import random
from collections import Counter

import pytest
import yaml
from examples import tried
from hypothesis import given
from hypothesis import strategies as st
from kitwright.check import errors
from kitwright.cutting import tree
from kitwright.errors import UserError
from kitwright.findings import Finding
from kitwright.geometry import Rect
from kitwright.kit.kit import PastKit
from kitwright.kit.read import kit_folders, read_club, read_kit
from kitwright.kit.yamltext import read_yaml
from kitwright.otherwise.checked import check
from kitwright.telling.facts import tables
from kitwright.telling.steps import steps_of
from kitwright.work.working import work
from making import BATCH, CLUB, ID, changed, line_of, make_archive, make_kit
from shapely import Polygon


def refused(root, text, **more) -> UserError:
    """The one error that a kit of this text gives, with its manners checked."""
    with pytest.raises(UserError) as caught:
        make_kit(root, text, **more)
    return told_well(caught.value)


def told_well(error: UserError) -> UserError:
    """Each error that it stands for is told at its place, and none of them twice."""
    for one in error.each:
        assert one.problem and one.remedy, str(one)
        assert one.place and one.place.file, str(one)
        assert one.place.line or "far too" in one.problem, f"no line: {one}"  # what is too big as a whole stands nowhere
        assert len(str(one)) < 900 and "Traceback" not in str(one) and "pydantic" not in str(one)
    assert len({str(one) for one in error.each}) == len(error.each) <= 41
    assert (error.problem, error.remedy, error.place) == (error.each[0].problem, error.each[0].remedy, error.each[0].place)
    return error


# --- what is good -------------------------------------------------------------------------------


def test_a_kit_is_read(tmp_path):
    kit = make_kit(tmp_path, BATCH, "Notes.")
    assert (kit.id, kit.spec.title, kit.spec.cards, kit.notes) == (ID, "Nine strips", 9, "Notes.")
    assert (kit.month.year, kit.month.month, kit.month.day) == (2030, 1, 1) and kit.reveal.year == 2030
    assert kit.place("pieces", "A", "size").line == line_of(BATCH, "3-3/4 x 1-1/4")
    assert kit.place("pieces", "A", "nothing", "here").line == line_of(BATCH, "  A:")


@pytest.mark.parametrize(
    "spelling", ["3-3/4 x 1-1/4", "3 3/4 x 1 1/4", "3¾ × 1¼", "3.75 x 1.25", "95.25 x 31.75 mm", "9.525 cm x 3.175 cm", '"3-3/4 x 1-1/4"']
)
def test_sizes_in_every_spelling(tmp_path, spelling):
    kit = make_kit(tmp_path, changed(BATCH, ("3-3/4 x 1-1/4", spelling)))
    assert kit.spec.pieces["A"].size == make_kit(tmp_path / "plain", BATCH).spec.pieces["A"].size


def test_a_metric_kit_means_millimetres(tmp_path):
    kit = make_kit(
        tmp_path,
        changed(BATCH, ("cards: 9\n", "cards: 9\nunit: mm\n"), ("3-3/4 x 1-1/4", "95.25 x 31.75"), ("  border: 1/8", "  border: 3.175")),
    )
    assert kit.spec.pieces["A"].size.width.millimetres == 95.25 and kit.spec.front.border.millimetres * 40 == 127


def test_a_byte_order_mark_and_windows_line_ends_are_fine(tmp_path):
    folder = make_archive(tmp_path, b"\xef\xbb\xbf" + BATCH.replace("\n", "\r\n").encode())
    assert read_kit(folder, read_club(tmp_path / "kits")).spec.title == "Nine strips"


def test_when_it_is_revealed(tmp_path):
    for i, said in enumerate(["2030-01-06 10:00", "2030-01-06T10:00", '"2030-01-06 10:00"']):
        reveal = make_kit(tmp_path / str(i), changed(BATCH, ("cards: 9\n", f"cards: 9\nreveal: {said}\n"))).reveal
        assert (reveal.day, reveal.hour, reveal.minute) == (6, 10, 0)
    assert make_kit(tmp_path / "day", changed(BATCH, ("cards: 9\n", "cards: 9\nreveal: 2030-01-06\n"))).reveal.hour == 0


# --- not YAML, or not a spec ------------------------------------------------------------------------


@pytest.mark.parametrize(
    "text, says",
    [
        ("", "empty"),
        ("\n\n# only a comment\n", "empty"),
        ("title: [", "not YAML"),
        ("title: 'open", "not YAML"),
        ("\ttitle: x", "not YAML"),
        ("title: x\n\tcards: 2", "not YAML"),
        ("title: x\n  cards: 2", "not YAML"),
        ("a: b: c", "not YAML"),
        ("- one\n- two", "not a list of “name: value”"),
        ("just words", "not a list of “name: value”"),
        ("title: x\n---\ntitle: y\n", "not YAML"),
        ("? [a]\n: b", "plain text"),
        ("%TAG", "not YAML"),
        ("title: a\ntitle: b\n", "given twice"),
        ("papers:\n  a: &x {b: c}\n  d: *x\n", "alias"),
        ("a: *x", "not YAML"),
        ("a: &a [*a]", "not YAML|alias"),
        ("title: " + "[" * 100 + "]" * 100, "nested far too deeply"),
        ("title: " + "[" * 20_000, "nested far too deeply|not YAML"),
        ("title: " + "{a: " * 5_000 + "}" * 5_000, "nested far too deeply"),
        ("x: " + "y" * 500_000, "far too long"),
        ("title: a\x00b", "not YAML"),
        ("title: \x07", "not YAML"),
        ("title: !!python/object:os.system x", ""),
        ("<<: {a: b}", ""),
        ("a: &a [x]\nb: [*a, *a, *a]\n", "alias"),
        ("@", "not YAML"),
        ("`", "not YAML"),
        ("title: %", "not YAML"),
        ("...", "empty|not YAML"),
        ("~: x", ""),
    ],
    ids=lambda v: repr(v)[:24],
)
def test_what_is_not_a_spec(tmp_path, text, says):
    error = refused(tmp_path, text)
    assert any(words in error.problem for words in says.split("|")), error.problem


def test_laughing_aliases_are_refused_at_once(tmp_path):
    text = "a0: &a0 [x, x]\n" + "".join(f"a{i}: &a{i} [{', '.join([f'*a{i - 1}'] * 9)}]\n" for i in range(1, 30))
    assert "alias" in refused(tmp_path, text).problem


@pytest.mark.parametrize(
    "raw", [b"\x89PNG\r\n\x1a\n" + bytes(range(256)), "title: caf\u00e9".encode("latin-1"), "title: x".encode("utf-16"), b"\xff\xfe\x00"]
)
def test_what_is_not_utf8(tmp_path, raw):
    folder = make_archive(tmp_path, raw)
    with pytest.raises(UserError, match="UTF-8") as caught:
        read_kit(folder, read_club(tmp_path / "kits"))
    told_well(caught.value)


def test_a_folder_where_a_file_should_be(tmp_path):
    folder = make_archive(tmp_path, BATCH)
    (folder / "kit.yaml").unlink()
    with pytest.raises(UserError, match="no such file"):
        read_kit(folder, read_club(tmp_path / "kits"))
    (folder / "kit.yaml").mkdir()
    with pytest.raises(UserError, match="folder, not a file") as caught:
        read_kit(folder, read_club(tmp_path / "kits"))
    assert caught.value.remedy
    (folder / "kit.yaml").rmdir()
    for leads_to, told in (("kit.yaml", "can't be read"), ("/dev/zero", "no ordinary file")):
        # A link to itself; a device that never ends.
        (folder / "kit.yaml").symlink_to(leads_to)
        with pytest.raises(UserError, match=told):
            read_kit(folder, read_club(tmp_path / "kits"))
        (folder / "kit.yaml").unlink()
    (folder / "kit.yaml").write_text(BATCH)
    (folder / "notes.md").mkdir()
    with pytest.raises(UserError, match="folder, not a file"):
        read_kit(folder, read_club(tmp_path / "kits"))


def test_notes_are_text(tmp_path):
    folder = make_archive(tmp_path, BATCH, "One line.\nA bell\x07 rings.\n")
    with pytest.raises(UserError, match="no text") as caught:
        read_kit(folder, read_club(tmp_path / "kits"))
    assert caught.value.place.line == 2 and caught.value.place.file.name == "notes.md"


# --- one thing wrong, at its line ---------------------------------------------------------------------


@pytest.mark.parametrize(
    "old, new, says, hint",
    [
        ("cards: 9\n", "cards: 0\n", "too small", "1 or more"),
        ("cards: 9\n", "cards: -9\n", "too small", "1 or more"),
        ("cards: 9\n", "cards: 501\n", "too large", "500"),
        ("cards: 9\n", f"cards: {'9' * 200}\n", "cards", ""),
        ("cards: 9\n", "cards: 9.5\n", "not a whole number", "whole number"),
        ("cards: 9\n", "cards: nine\n", "not a whole number", "whole number"),
        ("cards: 9\n", "cards: [9]\n", "not a whole number", ""),
        ("cards: 9\n", "cards:\n", "cards", ""),
        ("cards: 9\n", "cards: 9\nunit: furlong\n", "unit", "in or mm"),
        ("cards: 9\n", "cards: 9\nunit: [mm]\n", "unit", ""),
        ("cards: 9\n", "crads: 9\n", "“crads” is not a word", "cards"),
        ("title: Nine strips\n", "title:\n", "title", ""),
        ("title: Nine strips\n", f"title: {'x' * 121}\n", "too long", "120"),
        ("title: Nine strips\n", "title: {a: b}\n", "title", ""),
        ("    for: tall strip\n", "    fro: tall strip\n", "“fro” is not a word", "for"),
        ("    size: 3-3/4 x 1-1/4\n", "    size: 3-3/4 x -1-1/4\n", "below zero", "above zero"),
        ("    size: 3-3/4 x 1-1/4\n", "    size: 1/0 x 3\n", "divides by zero", ""),
        ("    size: 3-3/4 x 1-1/4\n", f"    size: {'9' * 200} x 1\n", "too long", ""),
        ("    size: 3-3/4 x 1-1/4\n", "    size: 3-3/4\n", "not a size", "width x height"),
        ("    size: 3-3/4 x 1-1/4\n", "    size: [3, 4]\n", "list can't stand here", "width x height"),
        ("    size: 3-3/4 x 1-1/4\n", "    size: {w: 3}\n", "block of lines can't", "width x height"),
        ("    size: 3-3/4 x 1-1/4\n", "    size:\n", "blank can't", "width x height"),
        ("    per card: 1\n", "    per card: 0\n", "no piece at all", ""),
        ("    per card: 1\n", "    per card: -1\n", "not a number of pieces", ""),
        ("    per card: 1\n", "    per card: 1/0\n", "not a number of pieces", ""),
        ("    per card: 1\n", "    per card: {river: 1}\n", "said twice", "keep one"),
        ("    per card: 1\n", "    per card: {}\n", "said twice|no paper|per card", ""),
        (
            "    kind: patterned\n",
            "    kind: glossy\n",
            "“glossy” can't stand for “kind”",
            "patterned, cardstock, vellum, film, chipboard or foam",
        ),
        ("    size: 12 x 12\n", "    size: 12 x 12\n    sheets: 1/3\n", "not a number of sheets", "half"),
        ("    size: 12 x 12\n", "    size: 12 x 12\n    sheets: 0\n", "no sheet at all", ""),
        ("    size: 12 x 12\n", "    size: 12 x 12\n    weight: 110 lb\n", "which pounds", "cover"),
        ("    size: 12 x 12\n", "    size: A2\n", "which sheet", ""),
        ("  A:\n", "  a:\n", "not a label", "capital"),
        ("  river:\n", "  River:\n", "not a short name", "small letters"),
        ("  fold: side\n", "  fold: inside out\n", "fold", "side, top, "),
        ("  envelope: US A2 envelope\n", "  envelope: A2\n", "which envelope", "US A2 envelope"),
        ("    - A\n", "    - A river meadow\n", "two papers", ""),
        ("    - A\n", "    - 3\n", "not a label", ""),
        ("    - A\n", "    - {}\n", "neither a piece", ""),
        ("    - A\n", "    -\n", "", ""),
        ("  rows:\n", "  columns: [A]\n  rows:\n", "both rows and columns", ""),
        ("  rows:\n", "  rwos:\n", "“rwos” is not a word", "rows"),
        ("  border: 1/8\n", "  border: wide\n", "not a length", ""),
        ("  on: band\n", "  on: band\n  place: middle\n", "“middle” can't stand for “place”", "centre"),
        ("cards: 9\n", "cards: 9\nreveal: tomorrow\n", "not a date", "2026-03-06"),
        ("cards: 9\n", "cards: 9\nreveal: 2030-02-30\n", "not a date", ""),
        ("cards: 9\n", "cards: 9\nreveal: [2030-02-20]\n", "not a date", "2026-03-06"),
        ("cards: 9\n", "cards: 9\nreveal: 9999-12-31 23:59\n", "too far away", "2199"),
        ("cards: 9\n", "cards: 9\nreveal: 0001-01-01\n", "too far away", "1900"),
        ("title: Nine strips\n", 'title: "Nine\\a strips"\n', "no text", "take it out"),
        ("title: Nine strips\n", "title: Nine \u202estrips\n", "right-to-left override", "take it out"),
        ("    size: 3-3/4 x 1-1/4\n", "    size: 3-3/4 x 1/1000\n", "no hand can cut", "larger"),
        ("cards: 9\n", "cards: 9\nphotos:\n  - file: ../../club.yaml\n", "outside", "inside"),
        ("cards: 9\n", "cards: 9\nphotos:\n  - file: /etc/hostname\n", "outside", "inside"),
        ("cards: 9\n", "cards: 9\nphotos:\n  - file: no.jpg\n", "no file no.jpg", ""),
        ("cards: 9\n", "cards: 9\nphotos:\n  - file: .\n", "no file", ""),
        ("cards: 9\n", 'cards: 9\nphotos:\n  - file: "a\\0b"\n', "", ""),
        ("cards: 9\n", f"cards: 9\nphotos:\n  - file: {'🂡' * 100}\n", "", ""),
        ("  - papers: river\n", "  - papers: []\n", "papers", ""),
        (
            "  - papers: river\n",
            "  - papers: river\n    meant: uneven\n",
            "“meant” stands in the wrong place",
            "words that fit here: papers, name, sheets, cuts",
        ),
        ("  gap: 1/8\n", "  gap: 1/8\n  meant: off grid\n", "meant", "uneven"),
        ("    - M\n", "    - {piece: M, left: 0, right: 0}\n", "both given", "one of the two"),
    ],
    ids=lambda v: repr(v)[:32],
)
def test_one_slip_is_told_at_its_line(tmp_path, old, new, says, hint):
    text = changed(BATCH, (old, new))
    error = refused(tmp_path, text)
    assert any(words in error.problem for words in says.split("|")), error.problem
    assert hint in error.remedy, error.remedy
    first = text[: text.index(new)].count("\n") + 1
    last = first + new.count("\n") - 1
    # What two lines together get wrong is told at the entry that holds them.
    together = any(words in error.problem for words in ("said twice", "neither", "both", "no paper"))
    assert first <= error.place.line <= last or together and first - 8 <= error.place.line <= last, str(error)


def test_what_is_missing_is_told_at_the_entry_that_lacks_it(tmp_path):
    text = changed(BATCH, ("  fold: side\n", ""))
    error = refused(tmp_path / "fold", text)
    assert "“fold” is missing" in error.problem and "fold:" in error.remedy and "card:" in text.splitlines()[error.place.line - 1]
    start = BATCH.index("    cuts:\n")
    error = refused(tmp_path / "cuts", BATCH[:start] + "    cuts: nicely\n")
    assert "not a list of cuts" in error.problem and error.place.line == BATCH[:start].count("\n") + 1


def test_the_first_slip_in_the_file_is_told_first(tmp_path):
    text = changed(BATCH, ("cards: 9\n", "cards: x\n"), ("  border: 1/8\n", "  border: y\n"))
    assert refused(tmp_path, text).place.line == line_of(text, "cards: x")


# --- the club -------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "edit, says",
    [
        (("Europe/Lisbon", "Atlantis/Capital"), "not a time zone"),
        (("Europe/Lisbon", "../../etc/passwd"), "not a time zone"),
        (("Europe/Lisbon", "Europe"), "not a time zone"),
        (("Europe/Lisbon", '"a\\0b"'), "no text"),
        (("region: us", "region: mars"), "region"),
        (("  cut length: 12\n", ""), "cut length"),
        (("  cut length: 12", "  cut length: -12"), "below zero"),
        (("name: Test bench", "name: Test bench\naddress: cards.example"), "not a web address"),
        (("cautions:\n  - Keep fingers away from the blade.\n", "cautions: []\n"), "empty"),
        (("terms: For the tests alone.\n", ""), "“terms” is missing"),
    ],
)
def test_a_wrong_club(tmp_path, edit, says):
    make_archive(tmp_path, BATCH, club=changed(CLUB, edit))
    with pytest.raises(UserError) as caught:
        read_club(tmp_path / "kits")
    assert says in told_well(caught.value).problem and caught.value.place.file.name == "club.yaml"


def test_no_club(tmp_path):
    make_archive(tmp_path, BATCH)
    (tmp_path / "kits" / "club.yaml").unlink()
    with pytest.raises(UserError, match="no such file") as caught:
        read_club(tmp_path / "kits")
    assert caught.value.place.file.name == "club.yaml" and caught.value.remedy


# --- folders -----------------------------------------------------------------------------------------------


def test_kits_in_order_and_what_is_not_a_kit(tmp_path):
    for name in ("2030-02-b", "2030-01-z", "2029-12-a"):
        (tmp_path / name).mkdir()
    (tmp_path / "people").mkdir()
    (tmp_path / ".hidden").mkdir()
    (tmp_path / "club.yaml").write_text("x")
    assert [f.name for f in kit_folders(tmp_path)] == ["2029-12-a", "2030-01-z", "2030-02-b"]


@pytest.mark.parametrize(
    "name",
    [
        "stones",
        "2030-13-x",
        "2030-00-x",
        "2030-1-x",
        "2030-01-",
        "2030-01-Ünder",
        "2030-01-a b",
        "2030-01-a--b",
        "2030-01-A",
        "0000-01-x",
        "２０３０-01-x",
        "2030-01-" + "x" * 60,
        "2030-01-x.bak",
    ],
)
def test_names_that_are_no_id(tmp_path, name):
    (tmp_path / name).mkdir()
    with pytest.raises(UserError) as caught:
        kit_folders(tmp_path)
    assert caught.value.remedy and caught.value.place


def test_two_kits_with_one_id(tmp_path):
    for name in ("2030-01-a", "2030-01-A"):
        (tmp_path / name).mkdir(exist_ok=True)
    if len(list(tmp_path.iterdir())) == 2:  # a disk that tells capitals apart
        with pytest.raises(UserError, match="one id") as caught:
            kit_folders(tmp_path)
        assert caught.value.remedy


def test_no_kits_and_no_folder(tmp_path):
    with pytest.raises(UserError, match="no kits"):
        kit_folders(tmp_path)
    with pytest.raises(UserError, match="no folder of kits"):
        kit_folders(tmp_path / "none")
    (tmp_path / "file").write_text("x")
    with pytest.raises(UserError, match="no folder of kits"):
        kit_folders(tmp_path / "file")


# --- a past kit -------------------------------------------------------------------------------------------

PAST = "past: yes\ntitle: Old one\nprintable: old.pdf\nfacts:\n  papers: any\n"


def past(root, text, pdf=b"%PDF-1.4\n"):
    folder = make_archive(root, text)
    (folder / "old.pdf").write_bytes(pdf)
    return read_kit(folder, read_club(root / "kits"))


def test_a_past_kit_has_its_facts_and_no_numbers(tmp_path):
    kit = past(tmp_path, PAST)
    assert isinstance(kit, PastKit) and kit.spec.facts == {"papers": "any"} and kit.spec.cards is None and kit.month.year == 2030


@pytest.mark.parametrize(
    "edit, pdf, says",
    [
        (("past: yes", "past: no"), b"%PDF-", "not yes"),
        (("past: yes", "past: maybe"), b"%PDF-", "neither yes nor no"),
        (("old.pdf", "new.pdf"), b"%PDF-", "no file new.pdf"),
        (("title: Old one", "title: Old one"), b"GIF89a", "not a PDF"),
        (("printable: old.pdf\n", ""), b"%PDF-", "printable"),
        (("title: Old one", "title: Old one\npieces: {}"), b"%PDF-", "pieces"),
        (("title: Old one", "title: Old one\nthumbnail: ../x.png"), b"%PDF-", "outside"),
        (("title: Old one", "title: Old one\ncards: 0"), b"%PDF-", "too small"),
    ],
)
def test_a_wrong_past_kit(tmp_path, edit, pdf, says):
    text = PAST if edit[0] == edit[1] else changed(PAST, edit)
    with pytest.raises(UserError) as caught:
        past(tmp_path, text, pdf)
    assert says in told_well(caught.value).problem


# --- fuzz: a good kit with one node replaced ------------------------------------------------------------------

NOISE = st.one_of(
    st.text(max_size=30),
    st.none(),
    st.sampled_from(
        [
            "",
            "0",
            "-1",
            "1/0",
            "9" * 200,
            "A",
            "B",
            "M",
            "base",
            "band",
            "front",
            "river",
            "cream",
            "auto",
            "yes",
            "S",
            "3 x 4",
            "0.001",
            "400",
            "400 x 400",
            "1/16",
            "half",
            "mm",
            "turned",
            "A turned",
            "top",
            "free",
            "uneven",
            "A2",
        ]
    ),
    st.lists(st.sampled_from(["A", "band", "x", "1"]), max_size=3),
    st.dictionaries(
        st.sampled_from(["piece", "on", "left", "band", "inside", "x", "A", "meant"]),
        st.sampled_from(["A", "M", "1", "band", "overhang"]),
        max_size=3,
    ),
)


def paths_of(data, path=()):
    yield path
    for key, value in data.items() if isinstance(data, dict) else enumerate(data) if isinstance(data, list) else ():
        yield from paths_of(value, (*path, key))


def put(data, path, value):
    if not path:
        return value
    copy = dict(data) if isinstance(data, dict) else list(data)
    copy[path[0]] = put(copy[path[0]], path[1:], value)
    return copy


RICH = changed(
    BATCH,
    ("  M:\n", "  S:\n    size: 3 x 1\n    for: strip\n    paper: cream\n    notch: {ends: both, depth: 1/4}\n  M:\n"),
    (
        "sentiment:\n",
        "  over:\n    - {piece: S, on: band, raised: yes, meant: overhang}\n  looks:\n    - {name: all, cards: 9, swap: {river: river}}\nsentiment:\n",
    ),
    ("  on: band\n", "  on: S\n  place: left\n  inset: 1/2\n"),
    ("2-1/2 x 3/4", "1-1/2 x 3/4"),
    (
        "guides:\n",
        "decorations:\n  - {name: dot, size: 1/4 x 1/4, on: S, thickness: 1/16, optional: yes}\nsteps:\n  cut: [Cut well.]\nguides:\n",
    ),
)
RICH_DATA = yaml.load(RICH, Loader=yaml.BaseLoader)
RICH_PATHS = list(paths_of(RICH_DATA))


def outcome(folder, club, text):
    """Findings, or a user error: anything else is a bug and escapes."""
    (folder / "kit.yaml").write_text(text, encoding="utf-8")
    try:
        kit = read_kit(folder, club)
        if isinstance(kit, PastKit):
            return []
        worked = work(kit)
        found = check(worked)
    except UserError as error:
        return told_well(error)
    if not errors(found):
        sound(worked)
    return found


def sound(worked):
    """What must hold of any kit that check lets through, counted and measured anew."""
    kit = worked.kit
    assert tables(worked) and steps_of(worked)
    cut = Counter()
    for plan in worked.plans:
        for run in plan.runs:
            halves = run.sheets * 2
            assert halves.denominator == 1 and run.sheets > 0
            whole = Counter({k: n * -(-int(halves) // 2) for k, n in tree.yields(run.layout.tree).items()})
            assert not Counter(run.made) - whole, "no more than the sheets can give"
            for label, n in run.made.items():
                cut[label, plan.paper] += n
            wanted = {k: worked.sizes[k] for k in run.layout.yields}
            assert tree.faults(run.layout.tree, kit.papers[plan.paper].size.size, wanted) == []
    lying = Counter({("base", kit.spec.card.base.paper): kit.spec.cards})
    for face in worked.faces:
        for placed in face.layers[1:] + face.pieces + face.over:
            lying[placed.label, placed.paper] += face.cards
            size = worked.sizes[placed.label]
            assert placed.rect.size == (size.turned if placed.turned else size)
            if placed.outline:
                assert Polygon([(float(x.inches), float(y.inches)) for x, y in placed.outline]).is_valid
        for i, one in enumerate(face.pieces):
            assert not any(one.rect.overlaps(other.rect) for other in face.pieces[i + 1 :])
        if face.sentiment:
            assert Rect.of(face.size).contains(face.sentiment.rect) or kit.spec.front.over
    if kit.spec.card.inside is None:
        assert not lying - cut, "every piece on a card is cut from a sheet"
    envelope = kit.spec.card.envelope
    if envelope:
        assert worked.base.finished.fits(envelope.size) or worked.base.finished.turned.fits(envelope.size)


@pytest.fixture(scope="module")
def bench(tmp_path_factory):
    root = tmp_path_factory.mktemp("fuzz")
    folder = make_archive(root, RICH)
    return folder, read_club(root / "kits")


def test_the_rich_kit_is_good(bench):
    assert not [f for f in outcome(*bench, RICH) if f.level == "error"]


@tried(250)
@given(st.sampled_from(RICH_PATHS), NOISE)
def test_any_node_replaced_gives_findings_or_one_clear_error(bench, path, noise):
    data = put(RICH_DATA, path, noise)
    text = yaml.safe_dump(data, allow_unicode=True, sort_keys=False)
    result = outcome(*bench, text)
    assert isinstance(result, UserError) or all(isinstance(f, Finding) and f.remedy and f.place.line for f in result)


@tried(120)
@given(st.integers(0, 2**32), st.integers(1, 4))
def test_any_lines_dropped_doubled_or_swapped_give_findings_or_one_clear_error(bench, seed, times):
    chance, lines = random.Random(seed), RICH.splitlines()
    for _ in range(times):
        i, j = chance.randrange(len(lines)), chance.randrange(len(lines))
        act = chance.choice(["drop", "double", "swap", "indent", "outdent"])
        if act == "drop" and len(lines) > 1:
            del lines[i]
        elif act == "double":
            lines.insert(i, lines[i])
        elif act == "swap":
            lines[i], lines[j] = lines[j], lines[i]
        elif act == "indent":
            lines[i] = "  " + lines[i]
        else:
            lines[i] = lines[i].removeprefix("  ")
    outcome(*bench, "\n".join(lines))


@tried(100)
@given(st.text(alphabet=st.characters(codec="utf-8"), max_size=80))
def test_any_text_at_all_is_read_or_refused(tmp_path_factory, text):
    file = tmp_path_factory.mktemp("any") / "kit.yaml"
    file.write_bytes(text.encode("utf-8"))
    try:
        assert isinstance(read_yaml(file).data, dict)
    except UserError as error:
        told_well(error)
