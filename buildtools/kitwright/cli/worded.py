"""A command whose help stands in the catalogue, `kitwright.telling.help`."""

from __future__ import annotations

from typing import Any

import click

from kitwright.telling.help import COMMANDS


class Worded(click.Command):
    """A command that finds what it says of itself, and of each option, by its name."""

    def __init__(self, name: str, *, prints: bool = False, **given: Any) -> None:
        self.prints = prints
        """Whether its work is what it prints, so that nothing is done where that is lost."""
        words = COMMANDS[name]
        lines = "\n".join(f"  kitwright {example}" for example in words.examples)
        heading = "Example:" if len(words.examples) == 1 else "Examples:"
        super().__init__(name, **given | {"help": words.about, "epilog": f"\b\n{heading}\n{lines}"})
        for param in self.params:
            if isinstance(param, click.Option):
                param.help = words.options[param.opts[0]]
