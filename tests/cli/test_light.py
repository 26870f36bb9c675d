"""Each command loads only what it needs: the modules that stand after it was run, in a process of its own."""

import json
import subprocess
import sys

from making import BATCH, ID, make_archive

DRAWING = ("rich", "reportlab", "mkdocs", "PIL", "jinja2", "ezdxf", "fontTools", "watchdog", "segno")
RUN = """
import json, os, sys
{before}
def loaded(names):
    return [name for name in names if name in sys.modules]
{then}
"""


def told(then: str, before: str = "") -> list[object]:
    """What a process prints as JSON, a line each."""
    done = subprocess.run([sys.executable, "-c", RUN.format(before=before, then=then)], capture_output=True, text=True, check=True)
    return [json.loads(line) for line in done.stderr.splitlines()]


def test_help_loads_next_to_nothing():
    heavy = ("pydantic", "yaml", "numpy", "ortools", "highspy", "kitwright.kit", "kitwright.work", *DRAWING)
    then = f"cli(['--help'], standalone_mode=False)\nprint(json.dumps(loaded({heavy!r})), file=sys.stderr)"
    assert told(then, "import kitwright.api\nfrom kitwright.cli import cli") == [[]]


def test_commands_that_draw_nothing_load_no_drawing(tmp_path):
    make_archive(tmp_path, BATCH)
    then = f"""
for words in (['calendar'], ['check'], ['plan', '{ID}'], ['show', '{ID}']):
    try:
        cli(['--root', {str(tmp_path)!r}, *words], standalone_mode=False)
    except SystemExit:
        pass
    print(json.dumps(loaded({DRAWING!r})), file=sys.stderr)
"""
    assert told(then, "from kitwright.cli import cli") == [[], [], [], ["rich"]]
