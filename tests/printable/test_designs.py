"""The printable of a kit of several designs: what is the kit's once, then each design under its name."""

import pytest
from kitwright.printable.back_page import supplies_and_post
from kitwright.printable.blocks import Heading, Prose, Side
from kitwright.printable.card_facts import facts
from kitwright.printable.edition import EDITIONS
from kitwright.printable.job import Job
from kitwright.printable.making import steps
from kitwright.printable.sheet_lists import ROOMY, cut
from kitwright.release.stamp import PreviewStamp
from making import make_worked
from several import SEVERAL


@pytest.fixture(scope="module")
def job(tmp_path_factory):
    return Job(make_worked(tmp_path_factory.mktemp("designs"), SEVERAL), EDITIONS["letter"], "outline", PreviewStamp())


def within(blocks):
    """Every block, those beside one another too."""
    for block in blocks:
        yield block
        if isinstance(block, Side):
            for stack in block.stacks:
                yield from within(stack)


def heads(blocks) -> list[str]:
    return [block.plain for block in within(blocks) if isinstance(block, Heading)]


def test_each_design_is_put_together_under_its_name_and_all_is_cut_first(job):
    blocks = [block for chunk in steps(job) for block in chunk.blocks]
    assert heads(blocks) == [
        "Step by step",
        "Cut everything",
        "Standing: stamp the sentiments in one go",
        "Standing: score and fold the bases",
        "Standing: build all the fronts",
        "Lying: score and fold the bases",
        "Lying: build all the fronts",
    ]
    numbers = [block.number for block in within(blocks) if hasattr(block, "number")]
    assert numbers == [1, 2, 3, 4, 5, 6]


def test_the_first_page_tells_each_design_and_where_pieces_go(job):
    assert [fact.name for fact in facts(job, looks=True)] == ["Standing · 8 cards", "Lying · 8 cards"]
    table = cut(job, ROOMY)
    assert [column.head for column in table.columns] == ["", "", "", "Standing", "Lying"]
    row = next(row for row in table.rows if row.cells[0].text == "B")
    assert [cell.text for cell in row.cells][3:] == ["4", "4"] and row.cells[3].notes == ("of each",)


def test_the_post_tells_of_each_what_differs(job):
    leads = [block.plain for block in within(supplies_and_post(job)) if isinstance(block, Prose) and not isinstance(block, Heading)]
    assert [text.split(":")[0] for text in leads if text.startswith(("Envelope:", "Weight", "Letter"))] == [
        "Envelope",
        "Weight, Standing",
        "Weight, Lying",
        "Letter",
    ]
