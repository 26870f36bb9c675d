"""Differences in what is cut: pieces, counts, papers, and the guides, their labels and cuts."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from fractions import Fraction

from kitwright.cutting.plan import Layout
from kitwright.cutting.tree import Leaf, pieces
from kitwright.labels import design_of, is_base
from kitwright.release.both import Both, Difference
from kitwright.release.designpaths import below
from kitwright.release.marks import Mark, cut_marks, marks_of, paired_layouts, strokes, whole_sheet
from kitwright.release.paths import Grade
from kitwright.release.values import Value, Values
from kitwright.units import Length
from kitwright.work.worked import Worked


def pieces_changed(both: Both) -> Iterator[Difference]:
    """Sizes, outlines and uses of the labels; those that are gone or new."""
    old, new, unit = both.old.worked, both.new.worked, both.new.worked.kit.spec.unit
    for label, size in old.sizes.items():
        after = both.renamed.get(label, label)
        if after not in new.sizes:
            yield both.change(
                f"pieces.{label}",
                "piece-gone",
                size,
                grade="write in",
                tells=_of_label(both, label),
                old=marks_of(old, label),
                label=label,
                unit=unit,
            )
        elif size != new.sizes[after]:
            yield both.change(
                f"pieces.{after}.size" if not is_base(after) else below(design_of(after), "card.base.size"),
                "size",
                size,
                new.sizes[after],
                tells=(
                    f"pieces.{label}.size",
                    f"cut.{label}",
                    f"cut.{after}",
                    *((below(design_of(label), "base.cut"),) if is_base(label) else ()),
                ),
                old=marks_of(old, label),
                new=marks_of(new, after),
                label=after,
                unit=unit,
            )
    for label in new.sizes:
        if label not in old.sizes and label not in both.renamed.values():
            yield both.change(
                f"pieces.{label}",
                "piece-new",
                None,
                new.sizes[label],
                grade="recut",
                tells=_of_label(both, label),
                new=marks_of(new, label),
                label=label,
                use=use_of(new, label),
                unit=unit,
            )
    for label, piece in old.kit.spec.pieces.items():
        after = both.renamed.get(label, label)
        other = new.kit.spec.pieces.get(after)
        if other is None:
            continue
        if piece.notch != other.notch or piece.shape != other.shape:
            yield both.change(
                f"pieces.{after}.shape",
                "outline",
                # No words say which, but one outline is not another.
                now=_outline(both.new.values, after),
                grade="recut",
                tells=both.below(*(f"pieces.{each}.{what}" for each in (label, after) for what in ("shape", "notch"))),
                old=marks_of(old, label),
                new=marks_of(new, after),
                label=after,
            )
        if piece.use != other.use:
            yield both.change(f"pieces.{after}.use", "use", piece.use, other.use, tells=(f"pieces.{label}.use",), label=after)
        if piece.may_turn != other.may_turn:
            yield both.change(
                f"pieces.{after}.may_turn", "may-turn", piece.may_turn, other.may_turn, tells=(f"pieces.{label}.may_turn",), label=after
            )


def _outline(values: Values, label: str) -> Value:
    starts = tuple(f"pieces.{label}.{what}" for what in ("shape", "notch"))
    return tuple((path, value) for path, value in values.items() if path.startswith(starts))


def _of_label(both: Both, label: str) -> tuple[str, ...]:
    return both.below(f"pieces.{label}", f"counts.{label}", f"cut.{label}")


def use_of(worked: Worked, label: str) -> str:
    """What a label is for; `base` for the base, and nothing where the kit does not say."""
    return label if is_base(label) else worked.kit.spec.pieces[label].use


def renamed(both: Both, told: list[Difference]) -> Iterator[Difference]:
    """Labels that were renamed throughout, where no guide and no card has told it."""
    for label, after in both.renamed.items():
        if not any(c.kind in ("label-on-sheet", "label-on-card") and (c.was, c.now) == (label, after) for c in told):
            yield both.change(f"pieces.{after}", "renamed", label, after, grade="write in", tells=named(both, label, after))


def named(both: Both, label: str, after: str) -> tuple[str, ...]:
    """Paths that differ in nothing but a new label: where it was told, all of them are."""
    if both.renamed.get(label) != after:
        return ()
    was, now = both.old.values, both.new.values
    same = [
        path
        for path in both.differing
        if (was.get(path), now.get(path)) == (label, after)
        or (path != (there := _twin(path, label, after)) and was.get(path) == now.get(there))
        or (path != (here := _twin(path, after, label)) and was.get(here) == now.get(path))
    ]
    return (*same, "pieces[]")


def _twin(path: str, label: str, other: str) -> str:
    """The same path of another label."""
    head, _, rest = path.partition(".")
    own, dot, tail = rest.partition(".")
    if head == "made":
        return f"{head}.{own}.{other}" if tail == label else path
    return f"{head}.{other}{dot}{tail}" if head in ("pieces", "counts", "cut") and own == label else path


def counts_changed(both: Both) -> Iterator[Difference]:
    """How many of each label the batch takes, where that does not follow from the number of cards."""
    old, new = both.old.worked, both.new.worked
    for label in old.sizes:
        after = both.renamed.get(label, label)
        if after not in new.sizes or (old.kit.spec.cards != new.kit.spec.cards and _share(old, label) == _share(new, after)):
            continue
        was, now = old.counts(label), new.counts(after)
        for paper in dict.fromkeys([*was, *now]):
            n, m = was.get(paper, 0), now.get(paper, 0)
            if n != m:
                yield both.change(
                    f"counts.{after}.{paper}",
                    "count",
                    n,
                    m,
                    tells=(f"counts.{label}.{paper}",),
                    old=marks_of(old, label),
                    new=marks_of(new, after),
                    label=after,
                    paper=paper_name(both, paper),
                )


def _share(worked: Worked, label: str) -> dict[tuple[str, str], Fraction]:
    """How many of a label a card of each design takes, by paper."""
    found: dict[tuple[str, str], Fraction] = {}
    for kit in (design.kit for design in worked.designs):
        piece = kit.spec.pieces.get(label)
        share = piece.share if piece else {kit.spec.card.base.paper: Fraction(1)} if label == kit.base else {}
        found |= {(kit.design, paper): n for paper, n in share.items()}
    return found


def paper_name(both: Both, key: str) -> str:
    """What a paper is called, now or at last."""
    return (both.new.worked.kit.papers.get(key) or both.old.worked.kit.papers[key]).name


def papers_changed(both: Both) -> Iterator[Difference]:
    """Papers that are used no more, or only now; all else of them is told by its path."""
    old, new = both.old.worked, both.new.worked
    for gone, kind, plans, others in ((True, "paper-gone", old.plans, new), (False, "paper-new", new.plans, old)):
        for plan in plans:
            key = plan.paper
            if others.plan(key) is None:
                tells = both.below(f"sheets.{key}", f"sheet.{key}", f"made.{key}", f"runs.{key}", f"papers.{key}")
                was, now = (plan.sheets, None) if gone else (None, plan.sheets)
                yield both.change(f"sheets.{key}", kind, was, now, grade="recut", tells=tells, paper=paper_name(both, key))


# --- guides ---------------------------------------------------------------------------------------


def guides_changed(both: Both) -> Iterator[Difference]:
    """Labels and cuts on the sheets, sheet by sheet."""
    old, new = both.old.worked, both.new.worked
    pairs = list(paired_layouts(old, new))
    for i, before, j, after in pairs:
        tells = both.below(f"layouts[{i}]", f"layouts[{j}]")
        yield from _labels(both, i, before, j, after, tells)
        yield from _cuts(both, i, before, j, after, tells)
        if strokes(before) == strokes(after):
            yield from _gives(both, before, j, after, tells)
        if before.name != after.name:
            yield both.change(f"layouts[{j}].name", "sheet-name", before.name, after.name, grade="cosmetic", tells=tells, sheet=j + 1)
        if i != j:
            yield both.change(
                f"layouts[{j}].number", "sheet-number", i + 1, j + 1, grade="cosmetic", tells=tells, sheet=j + 1, name=after.name
            )
    for j, layout in enumerate(new.layouts):
        if j not in {pair[2] for pair in pairs}:
            yield both.change(
                f"layouts[{j}].cuts",
                "guide-new",
                None,
                layout.name,
                grade="recut",
                tells=both.below(f"layouts[{j}]"),
                new=whole_sheet(j, layout),
                sheet=j + 1,
            )
    for i, layout in enumerate(old.layouts):
        if i not in {pair[0] for pair in pairs}:
            yield both.change(f"layouts[{i}].cuts", "guide-gone", layout.name, grade="write in", tells=both.below(f"layouts[{i}]"))


def _labels(both: Both, i: int, before: Layout, j: int, after: Layout, tells: tuple[str, ...]) -> Iterator[Difference]:
    """Pieces with another label: at one place where the strokes are the same, one by one where they only moved."""
    was, now = pieces(before.tree), pieces(after.tree)
    if strokes(before) == strokes(after):
        there = {leaf.rect: leaf for leaf in now}
        matched = [(leaf, there[leaf.rect]) for leaf in was if leaf.rect in there]
    else:
        # Of pieces that merely changed places, the cuts tell.
        sizes, alike = both.old.worked.sizes, _alike(before, after) and len(was) == len(now)
        matched = [(a, b) for a, b in zip(was, now) if alike and b.label and sizes.get(b.label) == sizes.get(a.label or "")]
    groups: dict[tuple[str, str], list[tuple[Leaf, Leaf]]] = {}
    for leaf, other in matched:
        if leaf.label and other.label and leaf.label != other.label:
            groups.setdefault((leaf.label, other.label), []).append((leaf, other))
    for (a, b), leaves in groups.items():
        yield both.change(
            f"layouts[{j}].pieces",
            "label-on-sheet",
            a,
            b,
            grade="write in",
            tells=(*tells, *named(both, a, b)),
            old=(Mark("sheet", i, tuple(leaf.rect for leaf, _ in leaves)),),
            new=(Mark("sheet", j, tuple(leaf.rect for _, leaf in leaves)),),
            sheet=j + 1,
            name=after.name,
            use=use_of(both.new.worked, b),
            pieces=len(leaves),
            sized=all(leaf.rect.size == other.rect.size for leaf, other in leaves),
        )


def _gives(both: Both, before: Layout, j: int, after: Layout, tells: tuple[str, ...]) -> Iterator[Difference]:
    """What is a piece on one sheet and left over on the other, though the strokes are the same."""
    was, now = ({leaf.rect for leaf in pieces(layout.tree)} for layout in (before, after))
    if was != now:
        grade: Grade = "recut" if now - was else "write in"
        told = tuple(sorted(before.yields.items())), tuple(sorted(after.yields.items()))
        yield both.change(f"layouts[{j}].pieces", "sheet-gives", *told, grade=grade, tells=tells, sheet=j + 1, name=after.name)


def _alike(before: Layout, after: Layout) -> bool:
    """Whether two sheets are cut by the same strokes, though at other marks."""
    return [(c.axis, c.off) for c in before.cuts] == [(c.axis, c.off) for c in after.cuts]


def _cuts(both: Both, i: int, before: Layout, j: int, after: Layout, tells: tuple[str, ...]) -> Iterator[Difference]:
    if strokes(before) == strokes(after):
        return
    fine = _cut_out(before, both.renamed) == _cut_out(after, {})
    grade: Grade = "write in" if fine or _good_and_enough(both, before) else "recut"
    was, now = before.cuts, after.cuts
    moved = [(a, b) for a, b in zip(was, now) if a.measure != b.measure]
    path, sheet = f"layouts[{j}].cuts", j + 1
    if _alike(before, after) and moved:
        marks = cut_marks(i, [a for a, _ in moved]), cut_marks(j, [b for _, b in moved])
        measures: dict[tuple[Length, Length], list[int]] = {}
        for a, b in moved:
            measures.setdefault((a.measure, b.measure), []).append(b.number)
        unit = both.new.worked.kit.spec.unit
        for (one, other), numbers in measures.items():
            yield both.change(
                path,
                "cut-at",
                one,
                other,
                grade=grade,
                tells=tells,
                old=marks[0],
                new=marks[1],
                sheet=sheet,
                name=after.name,
                cuts=tuple(numbers),
                unit=unit,
            )
    else:
        yield both.change(
            path,
            "cut-otherwise",
            before.strokes,
            after.strokes,
            grade=grade,
            tells=tells,
            old=whole_sheet(i, before),
            new=whole_sheet(j, after),
            sheet=sheet,
            name=after.name,
            fine=fine,
        )


def _good_and_enough(both: Both, before: Layout) -> bool:
    """Whether the pieces that an old copy had cut from a sheet keep their sizes, and all its sheets give as many as the new batch takes."""
    old, new = both.old.worked, both.new.worked
    for label in before.yields:
        after = both.renamed.get(label, label)
        if after in new.sizes and new.sizes[after] != old.sizes[label]:
            return False
        if sum(plan.made.get(label, 0) for plan in old.plans) < sum(new.counts(after).values()):
            return False
    return True


def _cut_out(layout: Layout, renamed: dict[str, str]) -> Counter[tuple[str | None, Length, Length, int]]:
    return Counter(
        (renamed.get(leaf.label or "", leaf.label or ""), leaf.rect.width, leaf.rect.height, leaf.gives) for leaf in pieces(layout.tree)
    )
