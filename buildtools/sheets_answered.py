"""Asks what common sheets give for common cards, for the page "What a sheet gives".

    .venv/bin/python buildtools/sheets_answered.py

asks every question of `proposing/beforehand.py` and writes what is chosen to `kitwright/archive/sheets_answered.json`;
it takes some minutes, since all layouts of each question are decided.
"""

from __future__ import annotations

import time

from kitwright.archive.beforehand import ANSWERED, written
from kitwright.proposing.beforehand import QUESTIONS, asked


def main() -> None:
    found = {}
    for question in QUESTIONS:
        began = time.process_time()
        found[question] = asked(question)
        said = ", ".join(f"{one.cards} of {one.sides[0].family}" for one in found[question])
        print(f"{question.sheet} {question.unit} {question.card}: {said or 'nothing'} ({time.process_time() - began:.1f} s)", flush=True)
        ANSWERED.write_text(written(found), encoding="utf-8")


if __name__ == "__main__":
    main()
