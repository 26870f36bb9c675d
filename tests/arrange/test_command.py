"""`kitwright arrange`: what it prints, and how it fails."""

import json

from arrange.benches import PAPERS, stack
from click.testing import CliRunner
from kitwright.cli import cli
from making import ID, make_archive


def run(root, *words):
    return CliRunner().invoke(cli, ["--root", str(root), "arrange", *words])


def test_counts_groups_and_the_recommended_set(tmp_path):
    make_archive(tmp_path, stack(list(PAPERS[:4])))
    result = run(tmp_path, ID)
    assert result.exit_code == 0
    assert "Counted 24, listed 24; by Burnside’s lemma 12, by grouping the list 12." in result.output
    assert "One card, turned round: “" in result.output and "As varied as possible (recommended)" in result.output


def test_json(tmp_path):
    make_archive(tmp_path, stack(list(PAPERS[:3]), extra="arrangements: {vary: fold}\n"))
    data = json.loads(run(tmp_path, ID, "--json").output)
    assert data["counts"]["counted"] == 6 and data["recommended"] == "varied"
    assert {v["slug"] for v in data["variations"]} == {"portrait-top-fold", "landscape-top-fold", "landscape-side-fold"}
    assert sum(p["cards"] for p in next(s for s in data["sets"] if s["kind"] == "varied")["cards"]) == 12


def test_a_kit_with_errors_is_not_arranged(tmp_path):
    make_archive(tmp_path, stack(list(PAPERS[:3])).replace("gap: 1/8", "gap: 1/2"))
    result = run(tmp_path, ID)
    assert result.exit_code == 1 and "arrangements" not in result.stdout


def test_a_wrong_mix_is_one_clear_error(tmp_path):
    make_archive(tmp_path, stack(list(PAPERS[:3]), extra="arrangements:\n  mix:\n    river on botom: 12\n"))
    result = run(tmp_path, ID)
    assert result.exit_code == 1 and result.output.count("error:") == 1 and "no arrangement “river on botom”" in result.output
