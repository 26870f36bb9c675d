"""An archive that holds a club and nothing else yet."""

from pathlib import Path

import pytest
from archive.small import CLUB
from click.testing import CliRunner, Result
from kitwright.cli import cli
from kitwright.past import pdf, reading
from kitwright.past.pdf import found


class Desk:
    """A folder of one's own: the archive in it, and old printables beside that."""

    def __init__(self, home: Path) -> None:
        self.home, self.root, self.kits, self.old = home, home / "club", home / "club" / "kits", home / "old"
        self.kits.mkdir(parents=True)
        self.old.mkdir()
        (self.kits / "club.yaml").write_text(CLUB, encoding="utf-8")

    def put(self, files: dict[str, bytes]) -> None:
        """Put old printables in place, by their names below `old`."""
        for name, data in files.items():
            (self.old / name).parent.mkdir(parents=True, exist_ok=True)
            (self.old / name).write_bytes(data)

    def run(self, *words: str, status: int = 0, typed: str | None = None) -> Result:
        """A command, and the status that it has to end with."""
        result = CliRunner().invoke(cli, ["--root", str(self.root), *words], input=typed, catch_exceptions=False)
        assert result.exit_code == status, result.output
        return result

    @property
    def ids(self) -> list[str]:
        return sorted(f.name for f in self.kits.iterdir() if f.is_dir())


@pytest.fixture(autouse=True, scope="session")
def read_here():
    """PDFs of our own are read without a helping process, which takes half a second to start; `test_reading.py` tries those."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(reading._Helper, "ask", lambda helper, data: found(data))
        patch.setattr(pdf, "LARGE", 300)
        patch.setattr(pdf, "SMALL", 150)
        yield


@pytest.fixture
def desk(tmp_path) -> Desk:
    return Desk(tmp_path)
