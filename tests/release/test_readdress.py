"""A site that moves: which printables lead to the old address is told, and new ones are published by one command, without a correction."""

import shutil

import pytest
from click.testing import CliRunner
from kitwright.archive.atom import entries
from kitwright.archive.gather import gather
from kitwright.archive.standing import standing
from kitwright.cli import cli
from kitwright.errors import UserError
from kitwright.kit.read import read_club
from kitwright.release import readdress, zonemove
from kitwright.release.errata import draft, errata
from kitwright.release.guard import guard
from kitwright.release.history import History
from kitwright.release.lookup import table
from kitwright.release.record import released
from kitwright.release.revisions import as_published, current, files_of, frozen
from kitwright.release.whole import published
from kitwright.telling.lookup import do, says
from kitwright.telling.wrong.addresses import many_lead_elsewhere
from making import BATCH, CLUB, ID, changed
from release.bench import archive, at, edit, everything, kit_in, publish_erratum, quick_printables, release

OTHER, UPCOMING = "2020-02-other", "2199-03-upcoming"
LOWER = (("3-3/4 x 7/8", "3-3/4 x 3/4"), ("6 strips of 7/8", "6 strips of 3/4"))
WAS, NOW = "https://old.example/cards/", "https://new.example/"
LATE = at("2198-06-01 12:00")


@pytest.fixture(scope="module")
def made(tmp_path_factory):
    """One kit public and corrected, one public, one released and to come."""
    with pytest.MonkeyPatch.context() as patch:
        quick_printables(patch)
        kits = archive(
            tmp_path_factory.mktemp("moved"), BATCH + "meant: reveal\nreveal: 2020-01-05 18:00\n", club=CLUB + f"address: {WAS}\n"
        )
        for name, reveal in ((OTHER, "2020-02-05"), (UPCOMING, "2199-03-05")):
            shutil.copytree(kits / ID, kits / name)
            edit(kits, ("title: Nine strips", f"title: {name}"), ("2020-01-05", reveal), name=name)
        release(kit_in(kits), {}, at("2020-01-04 12:00"))
        release(kit_in(kits, OTHER), {}, at("2020-02-04 12:00"))
        release(kit_in(kits, UPCOMING), {}, at("2026-02-04 12:00"))
        publish_erratum(draft(edit(kits, *LOWER), {}), at("2020-03-01 12:00"), "Trim them.")
    return kits


@pytest.fixture
def kits(made, tmp_path, quick):
    kits = shutil.copytree(made, tmp_path / "kits")
    club(kits, (WAS, NOW))
    return kits


def club(kits, *pairs) -> None:
    file = kits / "club.yaml"
    file.write_text(changed(file.read_text(encoding="utf-8"), *pairs), encoding="utf-8")


def run(kits, *words: str, status: int = 0) -> str:
    result = CliRunner().invoke(cli, ["--root", str(kits.parent), *words])
    assert result.exception is None or isinstance(result.exception, SystemExit), result.exception
    assert result.exit_code == status, result.output
    return result.output


def warned(kits) -> list[str]:
    return [f"{f.problem} {f.remedy}" for f in gather(kits.parent, LATE).unreleased if f.code.startswith("addresses.")]


def test_a_build_tells_which_lead_to_the_old_address_in_one_warning(kits):
    (told,) = warned(kits)
    assert f"2 kits have printables whose code leads to {WAS}" in told and ID in told and OTHER in told and UPCOMING not in told
    assert "--new-address" in told and f"former addresses: [{WAS}]" in told
    said = run(kits, "check", status=1)
    one, two = (r.code for r in released(kit_in(kits)))
    assert f"revision 1 (code {one}) and revision 2 (code {two})" in said and UPCOMING in said
    assert gather(kits.parent, LATE, "team").unreleased == ()


def test_it_is_short_with_many_kits(kits):
    problem, _ = many_lead_elsewhere([f"k{n}" for n in range(100)], WAS)
    assert "100 kits" in problem and "k0, k1, k2 and 97 more" in problem and "kitwright check" in problem and len(problem) < 200


@pytest.mark.parametrize("says_so", [f"former addresses: [{WAS}]\n", "former addresses: [https://OLD.example/cards]\n"])
def test_it_is_silent_once_readers_are_led_on(kits, says_so):
    with (kits / "club.yaml").open("a", encoding="utf-8") as file:
        file.write(says_so)
    assert warned(kits) == [] and readdress.astray_of(kit_in(kits)) is None


def test_another_stroke_is_no_move(kits):
    club(kits, (NOW, "https://OLD.example/cards"))
    assert warned(kits) == []


def test_what_is_no_address_is_told_at_its_line(kits):
    with (kits / "club.yaml").open("a", encoding="utf-8") as file:
        file.write("former addresses: [old.example]\n")
    with pytest.raises(UserError, match="old.example"):
        read_club(kits)


def test_one_command_publishes_all_of_them_anew(kits):
    before = {name: released(kit_in(kits, name)) for name in (ID, OTHER, UPCOMING)}
    said = run(kits, "release", "--new-address")
    assert "3 kits" in said and f"{ID}, revision 3" in said and f"{OTHER}, revision 2" in said and f"{UPCOMING}, revision 1" in said
    assert published(kits) == {} and warned(kits) == []
    for name in (ID, OTHER, UPCOMING):
        kit = kit_in(kits, name)
        assert guard(kit) is None
        last, was = released(kit)[-1], before[name][-1]
        assert readdress.leads_to(kit, last) == NOW
        # All that it says is what the one before said; the results are the very same bytes.
        if name != UPCOMING:
            assert History(kit, released(kit)).between(was.number, last.number).told == ()
            for file in ("results.json", "facts.json", f"{name}/kit.yaml"):
                assert (last.folder / file).read_bytes() == (was.folder / file).read_bytes()
            assert last.record.readdressed and last.record.erratum is None
            assert readdress.leads_to(kit, was) == WAS and files_of(was)
    # What nobody could have had is replaced, under its own number.
    assert len(released(kit_in(kits, UPCOMING))) == 1 and not released(kit_in(kits, UPCOMING))[0].record.readdressed
    again = everything(kits)
    assert "nothing need be done" in run(kits, "release", "--new-address") and everything(kits) == again


def test_readers_are_told_no_correction(kits):
    kit = kit_in(kits)
    was = [
        entries([kit], kit.club, {}, LATE),
        [(e.revision.number, [(g.number, g.changes, g.advice) for g in e.groups], e.advice) for e in errata(kit, kit.club, {}, LATE)],
    ]
    (made,) = readdress.readdressed([kit], LATE, LATE, lambda worked, stamp: {f"{ID}-letter.pdf": worked.kit.club.address.encode()})
    assert files_of(made) == {f"{ID}-letter.pdf": NOW.encode()}
    kit = kit_in(kits)
    later = at("2198-06-02 12:00")
    assert [
        entries([kit], kit.club, {}, later),
        [(e.revision.number, [(g.number, g.changes, g.advice) for g in e.groups], e.advice) for e in errata(kit, kit.club, {}, later)],
    ] == was
    state, _ = standing(kit, current(kit, later), made)
    two, one = state.older
    assert (
        two.errata == ()
        and one.errata == (f"{ID}-r2",)
        and "says the same, and its code leads to where this site stands now." in two.told.do
        and one.told.do.startswith("Stop before you cut")
    )
    answers = table([kit], kit.club, later)
    by_number = {a.revision: a for a in answers.values() if a.became == "revision"}
    assert not by_number[2].see and "Revision 3 replaces it" in says(by_number[2]) and "says the same" in do(by_number[2]).do
    assert by_number[1].see == f"errata.html#{ID}-r2" and by_number[3].current


def test_a_correction_after_it_goes_on_as_ever(kits):
    run(kits, "release", ID, "--new-address")
    edit(kits, ("title: Nine strips", "title: Nine fine strips"))
    made = draft(kit_in(kits), {})
    assert made.number == 4 and len(made.changes.told) == 1
    publish_erratum(made, at("2199-01-01 12:00"))
    kit = kit_in(kits)
    assert [e.revision.number for e in errata(kit, kit.club, {}, at("2199-02-01 12:00"))] == [4, 2]


def test_a_half_edited_kit_keeps_what_it_said(kits):
    """The address alone is new, whatever else is under way."""
    edit(kits, ("title: Nine strips", "title: Not yet"))
    club(kits, ("terms: For the tests alone.", "terms: Other terms."))
    run(kits, "release", ID, "--new-address")
    kit = kit_in(kits)
    last = released(kit)[-1]
    assert as_published(kit, last).kit.spec.title == "Nine strips" and frozen(kit, last).club.terms == "For the tests alone."


def test_without_an_address_there_is_none_to_lead_to(kits):
    club(kits, (f"address: {NOW}\n", ""))
    before = everything(kits)
    assert warned(kits) == []
    assert "has no address" in run(kits, "release", "--new-address", status=2) and everything(kits) == before


def test_what_is_published_anew_moves_no_club_back_to_its_old_time_zone(kits):
    club(kits, ("Europe/Lisbon", "America/New_York"))
    run(kits, "calendar", "--agree")
    assert "3 kits" in run(kits, "release", "--new-address")
    # Each froze the old zone with all else that the one before said; what she agreed to stands.
    assert zonemove.move(kits, read_club(kits), LATE) is None
