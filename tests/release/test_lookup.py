"""The code page's table: what each code is answered with, and that nothing leaks before its time."""

import datetime as dt
import json

from kitwright.release import codes
from kitwright.release.errata import draft
from kitwright.release.lookup import table
from kitwright.release.record import released
from kitwright.release.revisions import frozen
from kitwright.release.state import preview_code
from kitwright.telling.lookup import do, says, table_json
from kitwright.work.working import work
from making import BATCH, ID
from release.bench import archive, at, edit, kit_in, people_in, publish_erratum, release

REVEAL = at("2030-01-05 18:00")
LOWER = (("3-3/4 x 7/8", "3-3/4 x 3/4"), ("6 strips of 7/8", "6 strips of 3/4"))


def plain(code: str) -> str:
    return code.replace("-", "")


def test_a_life_of_codes(tmp_path, quick):
    kits = archive(tmp_path)
    kit = kit_in(kits)
    first_preview = plain(preview_code(work(kit)))
    # Before the release: nothing in public until the reveal, a preview for the team.
    assert table([kit], kit.club, REVEAL - dt.timedelta(seconds=1)) == {}
    unreleased = table([kit], kit.club, REVEAL)
    assert set(unreleased) == {first_preview} and "may still change" in says(unreleased[first_preview])
    early = table([kit], kit.club, at("2030-01-01"), team=True)
    assert set(early) == {first_preview} and early[first_preview].current and early[first_preview].revision is None
    one, _ = release(kit, {}, at("2030-01-04 12:00"))
    # Released but not revealed: still nothing in public, to the second.
    assert table([kit], kit.club, REVEAL - dt.timedelta(seconds=1)) == {}
    public = table([kit], kit.club, REVEAL)
    assert set(public) == {plain(one.code), first_preview}
    assert public[plain(one.code)].current and "the newest" in says(public[plain(one.code)])
    assert public[first_preview].current and public[first_preview].revision == 1
    # Corrected.
    kit = edit(kits, *LOWER)
    two = publish_erratum(draft(kit, {}), at("2030-01-09 12:00"))
    now = table([kit], kit.club, at("2030-02-01"))
    assert (
        not now[plain(one.code)].current
        and "Revision 2 replaces it" in says(now[plain(one.code)])
        and do(now[plain(one.code)]).do.startswith("Stop before you cut")
    )
    assert now[plain(two.code)].current and not now[first_preview].current and do(now[first_preview]).do == do(now[plain(one.code)]).do
    assert now[plain(one.code)].see == now[first_preview].see == f"errata.html#{ID}-r2" and not now[plain(two.code)].see
    # An earlier moment is told as it was then.
    assert table([kit], kit.club, REVEAL) == public
    assert set(now) == {plain(r.code) for r in released(kit)} | {plain(preview_code(work(frozen(kit, r)))) for r in released(kit)}


def test_a_code_that_a_tester_noted_is_answered(tmp_path, quick):
    kits = archive(tmp_path)
    old = preview_code(work(kit_in(kits)))
    kit = edit(
        kits,
        ("title: Nine strips", "title: Nine fine strips"),
        ("cards: 9\n", f"cards: 9\ntested:\n  - {{by: quill-nobody, on: 2030-01-01, code: {old.lower()}}}\n"),
    )
    release(kit, {}, at("2030-01-04 12:00"))
    told = table([kit], kit.club, REVEAL)[plain(old)]
    assert not told.current and told.kind == "preview" and "out of date" in says(told)


def test_a_change_of_words_leaves_old_copies_fine(tmp_path, quick):
    kits = archive(tmp_path)
    one, _ = release(kit_in(kits), {}, at("2030-01-04 12:00"))
    kit = edit(kits, ("title: Nine strips", "title: Nine fine strips"))
    publish_erratum(draft(kit, {}), at("2030-01-09 12:00"))
    kit = edit(kits, ("3-3/4 x 7/8", "3-3/4 x 13/16"), ("6 strips of 7/8", "6 strips of 13/16"))
    told = table([kit], kit.club, at("2030-02-01"))[plain(one.code)]
    assert do(told).do == "Your copy is fine to cut from; only words have changed since." and told.title == "Nine fine strips"


def test_what_was_changed_back_does_not_concern_an_old_copy(tmp_path, quick):
    kits = archive(tmp_path)
    one, _ = release(kit_in(kits), {}, at("2030-01-04 12:00"))
    kit = edit(kits, *LOWER)
    two = publish_erratum(draft(kit, {}), at("2030-01-09 12:00"))
    kit = edit(kits, *((new, old) for old, new in LOWER))
    three = publish_erratum(draft(kit, {}), at("2030-01-10 12:00"))
    now = table([kit], kit.club, at("2030-02-01"))
    assert do(now[plain(one.code)]).do.startswith("Your copy is fine") and do(now[plain(two.code)]).do.startswith("Stop before you cut")
    assert now[plain(three.code)].current and len({one.code, two.code, three.code}) == 3
    # One state, published twice: its preview is answered with the newest.
    assert now[plain(preview_code(work(kit)))].revision == 3 and now[plain(preview_code(work(kit)))].current


def test_the_table_is_data_that_a_page_can_check_codes_with(tmp_path, quick):
    kits = archive(tmp_path)
    kit = kit_in(kits)
    release(kit, people_in(kits), at("2030-01-04 12:00"))
    text = table_json(table([kit], kit.club, REVEAL))
    data = json.loads(text)
    assert text == table_json(table([kit], kit.club, REVEAL)) and text.endswith("}\n")
    for code, answer in data["codes"].items():
        # As the page's script does it, from the table alone.
        digits = [data["alphabet"].index(c) for c in code]
        n = len(data["alphabet"])
        assert len(code) == data["length"] and sum(d * pow(data["root"], data["length"] - 1 - i, n) for i, d in enumerate(digits)) % n == 0
        assert answer["kit"] == ID and answer["title"] and answer["do"]
        assert codes.is_sound(code)


def test_nothing_of_an_upcoming_kit_is_in_the_public_table(tmp_path, quick):
    kits = archive(tmp_path, BATCH + "reveal: 2031-01-01\nmeant: reveal\n")
    kit = kit_in(kits)
    made, _ = release(kit, {}, at("2030-01-04 12:00"))
    text = table_json(table([kit], kit.club, at("2030-06-01")))
    for secret in (ID, "Nine strips", plain(made.code), plain(preview_code(work(kit)))):
        assert secret not in text
    assert plain(made.code) in table_json(table([kit], kit.club, at("2030-06-01"), team=True))
