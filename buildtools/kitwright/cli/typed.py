"""How a command is typed on this machine, so that what is told can be typed as it stands."""

from __future__ import annotations

import json
import os
import re
import shlex
import shutil
import sys
from dataclasses import dataclass
from pathlib import Path

STARTED = "KITWRIGHT_STARTED"
"""What run.py says of itself: the word for Python and the script's path, as a JSON list."""
_BARE = re.compile(r"[\w.:\\/~+-]+")


@dataclass(frozen=True)
class Typed:
    """The words with which any command begins here."""

    words: tuple[str, ...]
    windows: bool
    """Whether they are typed into PowerShell or cmd, rather than into a POSIX shell."""

    def quoted(self, word: str) -> str:
        """A word as the shell takes it whole."""
        if not self.windows:
            return shlex.quote(word)
        return word if _BARE.fullmatch(word) else f'"{word}"'

    def line(self, *more: str) -> str:
        """A whole command."""
        return " ".join(self.quoted(word) for word in (*self.words, *more))

    def go(self, folder: Path) -> str:
        """The command that goes to a folder."""
        # PowerShell and cmd know pushd both, and with it cmd changes the drive too.
        other = self.windows and folder.drive.casefold() != Path.cwd().drive.casefold()
        return f"{'pushd' if other else 'cd'} {self.quoted(str(folder))}"

    @property
    def shorter(self) -> str | None:
        """What makes `kitwright` alone do in a shell; None where it does already. On Windows a line for PowerShell and one for cmd."""
        if self.words == ("kitwright",):
            return None
        line = self.line()
        if self.windows:
            return f"function kitwright {{ {line} @args }}\ndoskey kitwright={line} $*"
        # Read by bash, zsh and fish alike; quotes inside the other kind of quotes where that can be.
        return f'alias kitwright="{line}"' if not set(line) & set('"$`\\!') else f"alias kitwright={shlex.quote(line)}"

    @property
    def kept_in(self) -> str | None:
        """The file whose lines every new window's shell reads; None where no such file is there for sure."""
        if self.windows:
            return None
        bash = "~/.bash_profile" if sys.platform == "darwin" else "~/.bashrc"
        shells = {"zsh": "~/.zshrc", "fish": "~/.config/fish/config.fish", "bash": bash}
        return shells.get(Path(os.environ.get("SHELL", "")).name, "~/.profile")


def typed_here() -> Typed:
    """How commands were started this time: by run.py, as an installed command, or by its path."""
    windows = os.name == "nt"
    try:
        words = json.loads(os.environ.get(STARTED, "null"))
    except ValueError:
        words = None
    if isinstance(words, list) and words and all(isinstance(word, str) for word in words):
        return Typed(tuple(words), windows)
    program = Path(sys.argv[0]).absolute()
    if program.name == "__main__.py":
        return Typed((sys.executable, "-m", "kitwright"), windows)
    found = shutil.which("kitwright")
    if found and Path(found).resolve().with_suffix("") == program.resolve().with_suffix(""):
        return Typed(("kitwright",), windows)
    return Typed((str(program),), windows)
