"""Arrangements that a kit names: a wrong name is an error where it stands."""

import pytest
from arrange.benches import PAPERS, stack
from kitwright.otherwise.checked import check
from making import make_worked

NAMED = """\
arrangements:
  vary: [fold]
  mix:
    river_meadow_dusk_frost: 5
    Frost on top, then River and Meadow: 7
samples:
  - by: somebody
    arrangement: Frost on top, then River and Meadow
  - by: another
    arrangement: portrait, top fold
"""


def test_names_links_and_variations_are_known(tmp_path):
    worked = make_worked(tmp_path, stack(list(PAPERS[:4]), extra=NAMED))
    assert [f for f in check(worked) if f.level == "error"] == []


@pytest.mark.parametrize(
    ("right", "wrong", "says"),
    [
        ("    river_meadow_dusk_frost", "    river_meadow_dusk_frots", "there is no arrangement “river_meadow_dusk_frots”"),
        ("    arrangement: Frost on top", "    arrangement: Forst on top", "there is no arrangement “Forst on top, then River and Meadow”"),
        ("portrait, top fold", "portrait, back fold", "there is no arrangement “portrait, back fold”"),
        ("  vary: [fold]", "  vary: [mat]", "there is no arrangement “portrait, top fold”"),
    ],
)
def test_a_wrong_name_is_an_error_at_its_line(tmp_path, right, wrong, says):
    text = stack(list(PAPERS[:4]), extra=NAMED).replace(right, wrong)
    found = [f for f in check(make_worked(tmp_path, text)) if f.level == "error"]
    assert len(found) == 1 and found[0].problem.startswith(says)
    line = text.splitlines()[found[0].place.line - 1]
    assert (wrong if "vary" not in wrong else "portrait, top fold").strip() in line
