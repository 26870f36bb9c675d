"""What may be read below a folder that comes from a stranger: its own ordinary files, and nothing a name or a link could reach besides."""

import os
import socket

import pytest
from examples import tried
from hypothesis import example, given
from hypothesis import strategies as st
from kitwright.errors import Place, UserError, said
from kitwright.kit.folder import LONGEST, fault_of_name, files_below, no_link_out, opened, own_file, read_own
from kitwright.kit.project import kit_folder
from kitwright.kit.read import check_id, kit_folders, near_id, read_club, read_kit
from kitwright.release.people import read_people
from making import BATCH, ID, make_archive

PLACE = Place(None, 3)
OUTSIDE = [
    "../secret.txt",
    "photos/../../secret.txt",
    "a/../own.txt",
    "..",
    "/etc/passwd",
    "//host/share/x.jpg",
    "~/x.jpg",
    "~root/x",
    "C:\\x.jpg",
    "C:x.jpg",
    "c:/x.jpg",
    "\\\\host\\share\\x.jpg",
    "\\x.jpg",
    "file:///etc/passwd",
    "https://elsewhere.example/x.jpg",
    "own.txt:stream",
]
NO_NAMES = [
    "",
    " ",
    "a\0b",
    "a\nb.jpg",
    "a\x7f.jpg",
    "x" * (LONGEST + 1),
    "🂡" * 64,
    "NUL",
    "con.jpg",
    "photos/COM1.png",
    "aux/x.jpg",
    "x.",
    "photos /x.jpg",
    ".env",
    ".git/config",
    "photos/.hidden.jpg",
    "photos\\x.jpg",
    "\ud800.jpg",
]


@pytest.fixture
def folder(tmp_path):
    """A folder `home` with files and folders of its own, beside a secret one."""
    home = tmp_path / "home"
    (home / "photos").mkdir(parents=True)
    (home / "own.txt").write_text("own")
    (home / "photos" / "one card.png").write_text("picture")
    (tmp_path / "secret.txt").write_text("secret")
    (tmp_path / "secrets").mkdir()
    (tmp_path / "secrets" / "key.txt").write_text("secret")
    return home


@pytest.mark.parametrize("name", OUTSIDE + NO_NAMES)
def test_names_that_are_none_are_refused_though_the_file_be_there(folder, name):
    with pytest.raises(UserError) as caught:
        own_file(folder, name, PLACE)
    error = caught.value
    assert (
        error.place is PLACE
        and error.problem
        and error.remedy
        and len(error.problem) < 120
        and "\n" not in error.problem
        and "\0" not in error.problem
    )
    assert ("outside" in error.problem) == (name in OUTSIDE)


@pytest.mark.parametrize("name", ["own.txt", "./own.txt", "photos/one card.png", "photos//one card.png"])
def test_its_own_files_are_found(folder, name):
    found = own_file(folder, name, PLACE, 10)
    assert found.is_file() and found.is_relative_to(folder.resolve())


def test_one_part_of_a_path_is_as_long_as_every_disk_allows():
    assert fault_of_name("🂡" * 63) is None and fault_of_name("🂡" * 64) == fault_of_name("a/" + "é" * 128) == "files.long-name"


PARTS = st.sampled_from(
    [
        "..",
        ".",
        "",
        "photos",
        "own.txt",
        "one card.png",
        "secret.txt",
        "link",
        "door",
        "~",
        "C:",
        "\\",
        "a",
        "..\\..",
        "%2e%2e",
        "‥",
        "．．",
    ]
)


@given(st.lists(PARTS, min_size=1, max_size=5), st.sampled_from(["/", "\\", "//"]))
@example(["door", "key.txt"], "/")
@tried(60)
def test_no_name_reaches_out(tmp_path_factory, parts, between):
    home = tmp_path_factory.getbasetemp() / "reach" / "home"
    if not home.exists():
        (home / "photos").mkdir(parents=True)
        (home.parent / "secrets").mkdir()
        for file in (home / "own.txt", home / "photos" / "one card.png", home.parent / "secret.txt", home.parent / "secrets" / "key.txt"):
            file.write_text("x")
        (home / "link").symlink_to(home.parent / "secret.txt")
        (home / "door").symlink_to(home.parent / "secrets")
    try:
        found = own_file(home, between.join(parts), PLACE)
    except UserError as error:
        assert error.place is PLACE and error.remedy
    else:
        assert found.resolve().is_relative_to(home.resolve()) and ".." not in parts


def test_links_out_are_refused_and_links_within_are_not(folder):
    (folder / "out.txt").symlink_to(folder.parent / "secret.txt")
    (folder / "far").symlink_to(folder.parent / "secrets")
    (folder / "up").symlink_to("..")
    (folder / "chain.txt").symlink_to("out.txt")
    for name in ("out.txt", "far/key.txt", "up/secret.txt", "chain.txt"):
        with pytest.raises(UserError, match="outside .*link"):
            own_file(folder, name, PLACE)
    (folder / "in.txt").symlink_to("own.txt")
    assert own_file(folder, "in.txt", PLACE).read_text() == "own"
    (folder / "loop.txt").symlink_to("loop.txt")
    (folder / "gone.txt").symlink_to("nothing.txt")
    for name in ("loop.txt", "gone.txt"):
        with pytest.raises(UserError, match="can't be read|there is no file"):
            own_file(folder, name, PLACE)
    # A link to the folder itself is how she keeps it; what is in it counts.
    (folder.parent / "alias").symlink_to(folder)
    assert own_file(folder.parent / "alias", "own.txt", PLACE).read_text() == "own"


def test_what_is_no_ordinary_file_is_never_waited_for(folder, monkeypatch):
    os.mkfifo(folder / "pipe.jpg")
    with socket.socket(socket.AF_UNIX) as server:
        monkeypatch.chdir(folder)  # the name of a socket is short
        server.bind("socket.jpg")
        for name in ("pipe.jpg", "socket.jpg"):
            with pytest.raises(UserError, match="no ordinary file"):
                own_file(folder, name, PLACE)
            with pytest.raises(OSError), opened(folder / name):
                pass
    with pytest.raises(UserError, match="folder of that name"):
        own_file(folder, "photos", PLACE)
    assert [f.name for f in files_below(folder)] == ["own.txt", "one card.png"]


def test_sizes_are_looked_at_first(folder):
    with pytest.raises(UserError, match="far too large: 1 MB") as caught:
        own_file(folder, "own.txt", PLACE, 2)
    assert "most" in caught.value.remedy
    assert own_file(folder, "own.txt", PLACE, 3) and read_own(folder / "own.txt", 3) == b"own"
    with pytest.raises(OverflowError):
        read_own(folder / "own.txt", 2)


def test_a_walk_follows_no_link_out(folder):
    (folder / "far").symlink_to(folder.parent / "secrets")
    (folder / "out.txt").symlink_to(folder.parent / "secret.txt")
    (folder / "in.txt").symlink_to("own.txt")
    (folder / ".git").mkdir()
    (folder / ".git" / "config").write_text("x")
    assert [f.name for f in files_below(folder)] == ["in.txt", "own.txt", "one card.png"]
    assert files_below(folder / "far") == [] == files_below(folder / "none")


@given(st.text(max_size=40))
def test_any_text_is_a_name_or_told_why_not(name):
    fault = fault_of_name(name)
    assert fault is None or all(said(fault, {"name": name, "folder": "x"}))
    assert fault is not None or not name.startswith("/") and "\\" not in name and ":" not in name and ".." not in name.split("/")


# --- every place that reads by convention ------------------------------------------------------------------


@pytest.mark.parametrize("name", ["kit.yaml", "notes.md", "../club.yaml"])
def test_a_file_of_the_archive_is_no_link_to_elsewhere(tmp_path, name):
    folder = make_archive(tmp_path, BATCH, "Notes.")
    file = folder / name
    (tmp_path / "elsewhere").write_bytes(file.read_bytes())
    file.unlink()
    file.symlink_to(tmp_path / "elsewhere")
    with pytest.raises(UserError, match="a link to a file somewhere else") as caught:
        read_kit(folder, read_club(tmp_path / "kits"))
    assert caught.value.place.file.name == file.name and caught.value.remedy


def test_a_kit_or_a_person_is_no_link_to_elsewhere(tmp_path):
    folder = make_archive(tmp_path, BATCH)
    kits = folder.parent
    (tmp_path / "far").mkdir()
    (kits / "people").mkdir()
    link = kits / "2030-02-far"
    link.symlink_to(tmp_path / "far")
    with pytest.raises(UserError, match="2030-02-far is a link that leads out of kits/") as caught:
        kit_folders(kits)
    assert caught.value.place.file.name == "2030-02-far"
    link.unlink()
    link.symlink_to(folder)
    assert [f.name for f in kit_folders(kits)] == [ID, "2030-02-far"]
    link.unlink()
    (kits / "people" / "ada-bell").symlink_to(tmp_path / "far")
    with pytest.raises(UserError, match="ada-bell is a link"):
        read_people(kits)
    (kits / "people" / "ada-bell").unlink()
    (kits / "people").rmdir()
    (kits / "people").symlink_to(tmp_path / "far")
    with pytest.raises(UserError, match="people is a link"):
        read_people(kits)


def test_a_link_to_itself_leads_out(tmp_path):
    (tmp_path / "a").symlink_to("a")
    with pytest.raises(UserError, match="link that leads out"):
        no_link_out(tmp_path / "a", tmp_path, PLACE)


def test_files_of_kits_that_are_far_too_large_are_not_read(tmp_path):
    folder = make_archive(tmp_path, BATCH, "Notes.")
    for file in (folder / "kit.yaml", folder / "notes.md", folder.parent / "club.yaml"):
        kept = file.read_bytes()
        with file.open("wb") as stream:
            stream.truncate(3_000_000_000)  # a hole: it takes no room on the disk
        with pytest.raises(UserError, match="far too long"):
            read_kit(folder, read_club(folder.parent))
        file.write_bytes(kept)


@pytest.mark.parametrize(
    "typed, near",
    [
        ("2027-1-x", "2027-01-x"),
        ("2027-01-River-Stones", "2027-01-river-stones"),
        ("2027 01 Mum's Größe", "2027-01-mums-grosse"),
        ("202701_copy", "2027-01-copy"),
        ("2027-11-hello copy", "2027-11-hello-copy"),
        ("2027-13-x", None),
        ("2027-111-x", None),
        ("2027-01-", None),
        ("River stones", None),
    ],
)
def test_the_id_that_a_name_would_be_is_offered(typed, near):
    with pytest.raises(UserError) as caught:
        check_id(typed, Place())
    assert near_id(typed) == near and (near or "2027-03-river-stones") in caught.value.remedy
    if near:
        check_id(near, Place())


@pytest.mark.parametrize(
    "typed, near", [("helo-there", True), ("Hello there", True), ("2026-11 hello there", True), ("hello", True), ("qqqq", False)]
)
def test_the_kit_that_may_be_meant_is_named(tmp_path, typed, near):
    (tmp_path / "kits" / "2026-11-hello-there").mkdir(parents=True)
    (tmp_path / "kits" / "2026-11-hello-there" / "kit.yaml").touch()
    with pytest.raises(UserError) as caught:
        kit_folder(tmp_path, typed)
    assert ("did you mean 2026-11-hello-there?" == caught.value.remedy) is near
