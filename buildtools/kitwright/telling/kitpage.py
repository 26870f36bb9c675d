"""What a kit's page says in a phrase or two; whatever is a plain value, its template prints itself."""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction
from math import ceil

from kitwright.cutting.plan import Layout, PaperPlan
from kitwright.kit.kit import PastKit
from kitwright.kit.model import Paper
from kitwright.labels import design_of, is_base
from kitwright.papers import NamedSize
from kitwright.past.kept import OldPrintable
from kitwright.telling.backs import back_text, marked
from kitwright.telling.folds import fold_text
from kitwright.telling.materials import kind_text
from kitwright.telling.past import OLD, pages_text, paper_text
from kitwright.telling.post import overall_text
from kitwright.telling.shapes import shaped_with
from kitwright.telling.words import article, label_text, led, listed, number, sheets_text, spelled
from kitwright.units import Size, size_text
from kitwright.work import supplies
from kitwright.work.worked import Worked


def makes_text(worked: Worked) -> str:
    """`9 cards in two looks`; of several designs `16 cards in two designs`."""
    if len(worked.designs) > 1:
        return f"{number(worked.kit.spec.cards, 'card', 'cards')} in {spelled(len(worked.designs))} designs"
    looks = len(worked.faces)
    return number(worked.kit.spec.cards, "card", "cards") + (f" in {spelled(looks)} looks" if looks > 1 else "")


def line_of(entry: Worked | PastKit, old: OldPrintable | None = None) -> tuple[str, ...]:
    """What other pages say of a kit below its title: cards and size; of a past kit, what is known."""
    if isinstance(entry, PastKit):
        cards = (number(entry.spec.cards, "card", "cards"),) if entry.spec.cards else ()
        return (*cards, OLD, *((pages_text(old), paper_text(old)) if old else ()))
    spec = entry.kit.spec
    sizes = dict.fromkeys(design.base.finished for design in entry.designs)
    designs = (f"{spelled(len(entry.designs))} designs",) if entry.parts else ()
    return (number(spec.cards, "card", "cards"), *designs, *(f"{shape_word(size)} {size_text(size, entry.unit)}" for size in sizes))


def shape_word(size: Size) -> str:
    """`square`, `upright` or `landscape`."""
    return "square" if size.width == size.height else "upright" if size.width < size.height else "landscape"


OPEN, FEWER, MANY = 3, 2, 4
"""Sheets whose guides stand open on a kit's page, while each further one lies closed, in a line; and how many where the
page is long anyway, since the sheets are more than so many, or the designs several."""


def open_sheets(worked: Worked) -> int:
    """How many sheets stand open on the kit's page."""
    return FEWER if len(worked.layouts) > MANY or worked.parts else OPEN


def paper_kind(paper: Paper) -> str:
    """`80 lb cover`, `patterned paper`, `cardstock`, `clear film`."""
    return paper.weight.text if paper.weight else kind_text(paper.kind)


def at_hand(plan: PaperPlan) -> int:
    """Whole sheets of a paper to have at hand."""
    return ceil(plan.sheets)


def spare_text(plan: PaperPlan) -> str:
    """Pieces that the sheets of a paper give besides: `2 A and 3 B`."""
    return listed([f"{n} {label_text(label, n)}" for label, n in plan.spare.items()])


def use_text(worked: Worked, label: str) -> str:
    """What a label is for, and what is done to it besides cutting."""
    if is_base(label):
        return "card base" if folded(worked, label) else "not folded"
    piece = worked.kit.spec.pieces[label]
    return ", ".join(filter(None, (piece.use, shaped_with(piece, worked.unit))))


def folded(worked: Worked, label: str) -> bool:
    """Whether a base is folded at all; a tag or a postcard is not."""
    return bool(worked.of(design_of(label)).base.scored.scores)


def from_text(worked: Worked, label: str, paper: str) -> str:
    """From which paper pieces of a label are: `River, back up`."""
    return ", ".join(filter(None, (worked.kit.papers[paper].name, back_text(worked, label, [paper]))))


def yields_text(worked: Worked, layout: Layout) -> str:
    """What each sheet gives: `9 A (back up) and 18 B`."""
    return listed([marked(f"{n} {label_text(label, n)}", back_text(worked, label, layout.papers)) for label, n in layout.yields.items()])


def sheets_of(worked: Worked, amounts: Iterable[tuple[str, Fraction]]) -> str:
    """Sheets by paper: `2 sheets each of River and Meadow and 1 sheet of Sky`."""
    alike: dict[Fraction, list[str]] = {}
    for paper, sheets in amounts:
        alike.setdefault(sheets, []).append(worked.kit.papers[paper].name)
    return listed([f"{sheets_text(n)} {'each ' if len(names) > 1 else ''}of {listed(names)}" for n, names in alike.items()])


def cut_text(worked: Worked, layout: Layout) -> str:
    """What a guide is cut from for the whole batch."""
    return sheets_of(worked, [(plan.paper, run.sheets) for plan in worked.plans for run in plan.runs if run.layout == layout])


def bases_text(worked: Worked) -> str:
    """How large the bases are cut and how they are folded, in a phrase; of several designs the sizes alone."""
    scored = [design.base for design in worked.designs if design.base.scored.scores]
    sizes = list(dict.fromkeys(size_text(base.cut, worked.unit) for base in scored))
    folds = list(dict.fromkeys(fold_text(base) for base in scored))
    return f"{sizes[0]}, {folds[0]}" if len(scored) == 1 else listed(sizes)


def from_sheets(worked: Worked) -> str:
    """What patterned paper the batch takes, in a phrase: `from half a sheet each of four papers, 12 × 12 in`; of cardstock alone, what it takes of that."""
    papers = worked.kit.papers
    plans = [plan for plan in worked.plans if papers[plan.paper].material.printed] or list(worked.plans)
    amounts = {plan.sheets for plan in plans}
    sizes = {size_text(plan.demand.sheet, worked.unit) for plan in plans}
    n = len(plans)
    told = sheets_text(amounts.pop()) if len(amounts) == 1 else sheets_text(sum((plan.sheets for plan in plans), Fraction()))
    if n > 1:
        told += f" {'each ' if not amounts else ''}of {spelled(n)} papers"
    return f"from {told}" + (f", {sizes.pop()}" if len(sizes) == 1 else "")


def guide_line(worked: Worked, layout: Layout, amounts: Iterable[tuple[str, Fraction]] | None = None) -> str:
    """A guide in a line: `Half a sheet each of River and Meadow · each gives 12 A`.

    Args:
        worked: the kit.
        layout: the guide.
        amounts: sheets by paper; those of the kit's own batch when left out.
    """
    told = cut_text(worked, layout) if amounts is None else sheets_of(worked, amounts)
    return f"{led(told)} · each gives {yields_text(worked, layout)}"


def left_text(layout: Layout, unit: str) -> str:
    """What remains of a sheet: `2 of 3 × 1 in and 12 × ½ in`."""
    left = [size_text(rest.size, unit) for rest in layout.leftovers]
    return listed([f"{left.count(size)} of {size}" if left.count(size) > 1 else size for size in dict.fromkeys(left)]) or "nothing"


def counted_text(counts: Iterable[tuple[str, int]]) -> str:
    """Pieces by label: `9 A and 3 bases`."""
    return listed([f"{n} {label_text(label, n)}" for label, n in counts])


def labels_text(labels: Iterable[str]) -> str:
    """Labels without a count, as of many: `A and bases`."""
    return listed([label_text(label, 2) for label in labels])


def decorations(worked: Worked) -> list[tuple[str, bool]]:
    """What else is added to the cards, each once, and whether it is left to the maker."""
    spots = (spot for design in worked.designs for side in design.face.every for spot in side.spots)
    return list(dict.fromkeys((spot.name, spot.optional) for spot in spots))


def design_line(design: Worked) -> str:
    """What a design makes: `8 cards in two looks, side fold`."""
    return ", ".join(filter(None, (makes_text(design), fold_text(design.base) if design.base.scored.scores else "")))


def design_second(design: Worked) -> str:
    """How large its card is, and its envelope: `4¼ × 5½ in, in a US A2 envelope`."""
    unit, envelope = design.unit, design.kit.spec.card.envelope
    size = size_text(design.base.finished, unit)
    called = envelope and (envelope.name or f"envelope of {size_text(envelope.size, unit)}")
    return ", ".join(filter(None, (size, overall_text(design, unit), f"in {article(called)} {called}" if called else "")))


def envelopes_of(worked: Worked) -> list[tuple[int, NamedSize]]:
    """Envelopes for the batch, each kind once."""
    found: dict[tuple[str, Size], tuple[int, NamedSize]] = {}
    for design in worked.designs:
        if envelope := design.kit.spec.card.envelope:
            n, _ = found.get((envelope.name, envelope.size), (0, envelope))
            found[envelope.name, envelope.size] = (n + design.kit.spec.cards, envelope)
    return list(found.values())


def besides_text(worked: Worked, cards: int | None = None) -> str:
    """What a kit takes besides its papers in a line, by what each is called in a shop: `12 envelopes, stamp or printer, trimmer, scorer, adhesive, foam`."""
    each = [n for _, n in supplies.envelopes_of(worked, cards or worked.kit.spec.cards)]
    kinds = f" of {spelled(len(each))} kinds" if len(each) > 1 else ""
    told = [number(sum(each), "envelope", "envelopes") + kinds] if each else []
    told += ["stamp or printer"] if greetings(worked) else []
    told += ["trimmer", "scorer", "adhesive"]
    told += ["scissors", "hole punch"] if any(piece.shape and piece.shape.tag for piece in worked.kit.spec.pieces.values()) else []
    raised = any(placed.raised for design in worked.designs for side in design.face.every for placed in side.stack)
    return ", ".join([*told, *(["foam"] if raised else []), *(name for name, _ in decorations(worked))])


def greetings(worked: Worked) -> list[tuple[str, Size]]:
    """All that is stamped or printed on the cards, each once, and how large."""
    words = (said for design in worked.designs for side in design.face.every for said in side.sentiments)
    return list(dict.fromkeys((said.text, said.rect.size) for said in words))


def on_mat_title(papers: list[str]) -> str:
    """Which papers lie on a cutting mat."""
    return f"{listed(papers)} on a cutting mat"


def on_mat_alt(paper: str, mat: str, counts: Iterable[tuple[str, int]]) -> str:
    """What the drawing of a sheet on its mat shows."""
    return f"A sheet of {paper} on a cutting mat of {mat} with {counted_text(counts)}."
