"""Arrangements of a kit of several designs: each design's own, from what the others leave."""

import pytest
from kitwright.otherwise.arrangements import arrangements_of, mistakes
from kitwright.otherwise.arrangements.changing import refolded
from kitwright.otherwise.changed import new_findings, remade
from making import make_worked
from several import LYING, SEVERAL, SHEETS, STANDING


@pytest.fixture(scope="module")
def worked(tmp_path_factory):
    return make_worked(tmp_path_factory.mktemp("several"), SEVERAL)


def test_each_design_has_its_own_and_a_set_from_its_own_pieces(worked):
    standing, lying = map(arrangements_of, worked.designs)
    assert [item.name for item in standing.items] == ["moss above", "shore above"]
    assert [item.name for item in lying.items] == ["moss outside", "shore outside"]
    for found in (standing, lying):
        own = next(one for one in found.sets if one.kind == "own")
        # The sheets yield exactly what both designs take together.
        assert [part.cards for part in own.parts] == [4, 4] and own.left == ()


def test_a_design_made_otherwise_is_planned_with_the_others(worked):
    lying = worked.designs[1]
    changed = remade(lying, refolded(lying.kit.spec, lying.base.front, "side"))
    assert (changed.kit.design, changed.base.fold, str(changed.base.cut)) == ("Lying", "side", "11 × 4¼ in")
    assert changed.whole.kit.spec.cards == 16 and changed.cut("white").demand.needs == {"Standing base": 8, "Lying base": 8}
    assert changed.cut("moss").demand == worked.cut("moss").demand and changed.whole.designs[0].base == worked.designs[0].base
    assert new_findings(lying, changed) == ()


def test_a_mix_and_a_sample_belong_to_their_design(tmp_path):
    samples = "samples:\n  - {by: ada-bell, design: Lying, arrangement: moss outside}\n  - {by: ada-bell, arrangement: shore above}\n"
    mixed = LYING + "    arrangements: {mix: {moss outside: 4, shore outside: 4}}\n"
    sound = make_worked(tmp_path / "sound", SHEETS + "designs:\n" + STANDING + mixed + samples)
    assert list(mistakes(sound)) == []
    swapped = samples.replace("design: Lying, ", "")
    (wrong,) = mistakes(make_worked(tmp_path / "wrong", SHEETS + "designs:\n" + STANDING + mixed + swapped))
    assert wrong.code == "arranged.no-such" and wrong.values["said"] == "moss outside"
