"""People: read with their consent, shown only as far as it goes, and looked up wherever they are named."""

import pytest
from kitwright.errors import UserError
from kitwright.release.people import findings, guests_of, names_in, read_people, samples_of, team_of
from making import BATCH, CLUB, changed
from release.bench import ADA, LIVING, archive, kit_in, people_in


def test_what_was_agreed_to_is_shown(tmp_path):
    people = people_in(archive(tmp_path))
    ada, quill = people["ada-bellwether"], people["quill-nobody"]
    assert (ada.name, ada.link, ada.photo.name) == ("Ada Bellwether", "https://bellwether.example/", "ada.jpg")
    assert (quill.name, quill.link, quill.photo) == ("a maker", None, None)


@pytest.mark.parametrize(
    "to, name, link, photo",
    [
        ("[link, photo]", "a maker", None, False),
        ("[name]", "Ada Bellwether", None, False),
        ("name", "Ada Bellwether", None, False),
        ("[name, photo]", "Ada Bellwether", None, True),
        ("[name, link]", "Ada Bellwether", "https://bellwether.example/", False),
    ],
)
def test_a_link_or_picture_without_the_name_shows_nothing(tmp_path, to, name, link, photo):
    kits = archive(tmp_path)
    (kits / "people" / "ada-bellwether" / "person.yaml").write_text(
        changed(ADA, ("[name, link, photo, samples, thanks]", to)), encoding="utf-8"
    )
    ada = people_in(kits)["ada-bellwether"]
    assert (ada.name, ada.link, ada.photo is not None) == (name, link, photo)


@pytest.mark.parametrize(
    "old, new, told",
    [
        ("consent: {on: 2029-12-01, to: [name, link, photo, samples, thanks]}\n", "", "“consent” is missing"),
        ("on: 2029-12-01", "on: yesterday", "not a day"),
        ("Asia/Kolkata", "Asia/Nowhere", "not a time zone"),
        ("ada.jpg", "none.jpg", "no file none.jpg"),
        ("ada.jpg", "../quill-nobody/q.jpg", "outside"),
        ("https://bellwether.example/", "javascript:alert(1)", "not an address"),
        ("name: Ada", "nom: Ada", "did you mean “name”"),
        ("thanks]", "everything]", "can't stand for"),
    ],
)
def test_slips_in_a_persons_file(tmp_path, old, new, told):
    kits = archive(tmp_path)
    text = changed(ADA, (old, new))
    (kits / "people" / "ada-bellwether" / "person.yaml").write_text(text, encoding="utf-8")
    with pytest.raises(UserError, match=told) as error:
        read_people(kits)
    assert error.value.place.file.name == "person.yaml" and error.value.place.line


def test_a_folder_that_is_no_key(tmp_path):
    kits = archive(tmp_path)
    (kits / "people" / "Ada B").mkdir()
    with pytest.raises(UserError, match="can't be a person's key"):
        read_people(kits)


def test_the_whole_team_makes_something_unless_said(tmp_path):
    club = CLUB + "team:\n  - {who: ada-bellwether}\n  - {who: quill-nobody}\n"
    kit = kit_in(archive(tmp_path / "said", BATCH + LIVING, club=club))
    people = people_in(tmp_path / "said" / "kits")
    assert [(p.key, t.make, t.by) for p, t in team_of(kit, people)] == [("ada-bellwether", "two cards", "samples")]
    assert [(p.key, t.by) for p, t in guests_of(kit, people)] == [("quill-nobody", "reveal")]
    plain = kit_in(archive(tmp_path / "plain", BATCH, club=club))
    assert [(p.key, t.by) for p, t in team_of(plain, people)] == [("ada-bellwether", "reveal"), ("quill-nobody", "reveal")]


def test_samples_carry_picture_and_moment(tmp_path):
    kits = archive(tmp_path, BATCH + LIVING)
    shown = samples_of(kit_in(kits), people_in(kits))
    assert [(s.person.key, s.photo.name, s.moment) for s in shown] == [("ada-bellwether", "card.jpg", "samples")]


@pytest.mark.parametrize(
    "old, new, told",
    [
        ("who: ada-bellwether", "who: ada-nobody", "nobody ada-nobody"),
        ("by: samples", "by: never", "no moment “never”"),
        ("from: late turn", "from: early turn", "no moment “early turn”"),
        ("photo: card.jpg", "photo: lost.jpg", "no file lost.jpg"),
        ("by: ada-bellwether\nmoments", "by: who-else\nmoments", "nobody who-else"),
        ("  - quill-nobody\n", "  - quill-somebody\n", "nobody quill-somebody"),
    ],
)
def test_names_are_looked_up_at_their_line(tmp_path, old, new, told):
    text = BATCH + changed(LIVING, (old, new))
    kits = archive(tmp_path, text)
    found = [f for f in findings(kit_in(kits), people_in(kits)) if f.level == "error"]
    assert len(found) == 1 and told in found[0].problem
    assert new.split("\n")[0].strip(" -").split(",")[0] in text.splitlines()[found[0].place.line - 1]


def test_a_sound_kit_has_only_the_hint_about_consent(tmp_path):
    kits = archive(tmp_path, BATCH + LIVING)
    assert [(f.level, "has not agreed" in f.problem) for f in findings(kit_in(kits), people_in(kits))] == [("hint", True)]


def test_names_are_found_however_they_are_written(tmp_path):
    people = people_in(archive(tmp_path))
    text = "By ADA bellwether.\nada-bellwether\nAda\nadamant, Bellwethers\nQuill\nAda_Bellwether\n"
    assert [(p.key, line, whole) for p, line, whole in names_in(text, people)] == [
        ("ada-bellwether", 1, True),
        ("ada-bellwether", 2, True),
        ("ada-bellwether", 6, True),
        ("ada-bellwether", 3, False),
        ("quill-nobody", 5, False),
    ]


def test_thanks_are_for_the_revision_that_they_name(tmp_path):
    kits = archive(tmp_path)
    file = kits / "people" / "ada-bellwether" / "person.yaml"
    file.write_text(file.read_text(encoding="utf-8") + "thanks:\n  - {kit: 2030-01-test-kit, revision: 3}\n", encoding="utf-8")
    ada = people_in(kits)["ada-bellwether"]
    assert [n for n in range(1, 6) if ada.thanked("2030-01-test-kit", n)] == [3] and not ada.thanked("2030-02-other", 3)


@pytest.mark.parametrize(
    "typed, told",
    [
        ("2030-01-10", True),
        ("2030-01-10 00:00", True),
        ("2030-01-09 24:00", False),
        ("{at: 2030-01-10}", True),
        ("2030-01-10 00:01", False),
    ],
)
def test_a_deadline_that_is_a_date_alone_is_told(tmp_path, typed, told):
    kits = archive(tmp_path, BATCH + f"moments:\n  samples: {typed}\n  call: 2030-01-10\nteam: [{{who: ada-bellwether, by: samples}}]\n")
    hints = [f for f in findings(kit_in(kits), people_in(kits)) if f.code == "calendar.due-at-midnight"]
    assert [f.level for f in hints] == ["hint"] * told
    if told:
        assert (
            "at the end of Wednesday 9 January 2030" in hints[0].problem and "2030-01-10 24:00" in hints[0].remedy and hints[0].place.line
        )


def test_and_so_is_a_reveal_that_somebody_has_to_be_ready_for(tmp_path):
    kits = archive(tmp_path, BATCH + "reveal: 2030-01-05\nguests:\n  - ada-bellwether\n")
    assert [f.place.line for f in findings(kit_in(kits), people_in(kits)) if f.code == "calendar.due-at-midnight"]
