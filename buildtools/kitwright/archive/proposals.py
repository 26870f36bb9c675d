"""What a question gave, as a folder to look at: the page, a picture of each layout and of all, and a file to print."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path

from kitwright.archive import apart
from kitwright.archive.proposals_page import look, page, view_of
from kitwright.drawing.png import png
from kitwright.drawing.proposals.overview import Caption, overview
from kitwright.drawing.proposals.plate import WIDE, WIDER, Plate, as_made, is_wide, plates, scales_of, usual_row, wide_row
from kitwright.drawing.scene import Scene
from kitwright.kit.model import Club
from kitwright.kit.theme import Theme
from kitwright.proposing.papered import AsMade
from kitwright.proposing.records import Answer, Proposal
from kitwright.telling.layout_names import what
from kitwright.telling.proposals import asked, partly, reason, sizes, ways_out
from kitwright.telling.proposals_page import overview_alt, scale_said, title

PAGE, WHOLE, PDF = "index.html", "layouts.png", "layouts.pdf"


class LookedAt:
    """A folder in which an answer is looked at: whole in the end, and as far as it has come while it is looked for."""

    def __init__(
        self, folder: Path, club: Club, theme: Theme, typed: Callable[[int], str] = lambda number: "", in_file: bool = False
    ) -> None:
        """Nothing is written yet.

        Args:
            folder: where it goes; made where there is none.
            club: whose colours and cautions it bears.
            theme: the archive's.
            typed: the command that picks a layout, by its number.
            in_file: whether the question stands in a file, in whose words a better one is told.

        Raises:
            UserError: the folder holds something else.
        """
        self.folder, self.club, self.theme, self.typed, self.in_file = folder, club, theme, typed, in_file
        self._painted: dict[str, tuple[bytes, ...]] = {}
        apart.free(folder, apart.PROPOSED)

    def put(self, answer: Answer, *, done: bool = True) -> int:
        """Write what there is to look at, whole or not at all; what was there of an earlier answer goes.

        Args:
            answer: what was found, or what was found so far.
            done: whether that is all; until then the file to print and the picture of all of them are left for later.

        Returns:
            How many files are new or differ.

        Raises:
            UserError: the folder holds something else, or can't be written.
        """
        made = as_made(answer)
        drawn = plates(answer.wish, made)
        files = {name: data for one, plate in zip(answer.proposals, drawn) for name, data in self._pictures(one, plate).items()}
        last = (WHOLE, PDF) if done and answer.proposals else None
        if last:
            files[WHOLE] = png(overview_of(answer, made, self.in_file), palette=self.club.palette)
            # Loaded late: until then nothing is printed.
            from kitwright.printable.proposals import proposals_pdf

            files[PDF] = proposals_pdf(answer, self.club, in_file=self.in_file)
        view = view_of(answer, drawn, self.club, typed=self.typed, pictures=pictures_of, files=last, done=done, in_file=self.in_file)
        files |= look(self.theme, self.club, type_too=done) | {PAGE: page(view, self.theme)}
        return apart.write(self.folder, files, apart.PROPOSED)

    def _pictures(self, one: Proposal, plate: Plate) -> dict[str, bytes]:
        """Painted once, as often as they are shown."""
        key = repr((one.sides, one.kinds, one.cuts))
        if key not in self._painted:
            self._painted[key] = tuple(png(scene, palette=self.club.palette) for scene in (plate.fronts, *plate.sheets))
        return dict(zip(pictures_of(one.number), self._painted[key]))


def pictures_of(number: int) -> tuple[str, str, str]:
    """Where the pictures of a layout lie in the folder: of its cards, of its first sheet, and of other sheets where there are any."""
    at = f"{apart.PICTURES}/layout-{number:02}"
    return f"{at}.png", f"{at}-sheet.png", f"{at}-other-sheets.png"


def overview_of(answer: Answer, made: Sequence[AsMade], in_file: bool = False) -> Scene:
    """The picture of all layouts of an answer.

    Args:
        answer: what was found.
        made: its layouts with the papers that are shown.
        in_file: whether the question stands in a file.
    """
    wish, unit = answer.wish, answer.wish.unit
    wide, row = (WIDER, wide_row(wish)) if is_wide(answer.proposals) else (WIDE, usual_row(wish))
    scales = scales_of(wish, wide, row)
    captions = [
        Caption(one.number, what(one), (" · ".join(sizes(one, unit)), reason(one, unit, answer.proposals))) for one in answer.proposals
    ]
    notes = [asked(wish), *ways_out(answer, in_file), scale_said(scales.card, scales.sheet), *partly(answer)]
    return overview(plates(wish, made, wide, row), captions, title(answer), notes, overview_alt(answer))


def write(
    folder: Path,
    answer: Answer,
    club: Club,
    typed: Callable[[int], str] = lambda number: "",
    *,
    theme: Theme | None = None,
    done: bool = True,
) -> int:
    """An answer as a folder to look at, at once; see `LookedAt`."""
    return LookedAt(folder, club, theme or Theme(), typed).put(answer, done=done)
