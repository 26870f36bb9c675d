"""Figures typed in prose that the kit contradicts; the citation that would stay right is offered.

A figure is read as a value with what it counts or measures, and compared with every value that
the kit has for such a thing. What may just as well be about something else stays silent: a
figure in a clause with an “if” or an “each”, another noun, a sheet that anybody may own.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property, partial
from itertools import islice
from math import ceil
from typing import Any

from kitwright.card.face import everything
from kitwright.check.grounds import grounds
from kitwright.check.typed import Number, Spans, Typed, clause_of, lengths, numbers, plain, singular, sizes, words_after, words_before
from kitwright.cutting import tree
from kitwright.cutting.plan import PaperPlan
from kitwright.errors import MOST_TOLD, Place
from kitwright.findings import Finding
from kitwright.kit.faces import decorations, greetings
from kitwright.kit.names import front_items
from kitwright.labels import BASE, is_base
from kitwright.materials import MATERIALS
from kitwright.papers import ENVELOPES, SHEETS
from kitwright.units import Length, Size, parse_size
from kitwright.work.cite import notes_place, prose, said_of, text_place
from kitwright.work.worked import Worked

MOST = 1000
"""Figures of each kind that are looked at in one text."""
_FIRM = ("title", "summary", "steps")
"""Prose that is about this kit and nothing else."""
_TOLD = (*_FIRM, "questions", "decorations", "pieces", "guides")
_ELSEWHERE = frozenset(
    "if another more other others instead extra spare further would could can may might each every per once day evening week class left first last next "
    "any any’s or your any than least most about nearly almost over under fewer time usual usually standard again twice double".split()
)
"""Words that make a figure one about something else than this batch."""
_AROUND = frozenset(
    "another more other extra spare further about nearly almost over under up than least most each every per or to only’s".split()
)
_STOP = frozenset(
    "of from and or to in on for the with per a an is are was were by at as into onto off out that which who you we it its this these those then than if when while "
    "inch inches mm cm lb gsm g x degrees minutes minute hours hour seconds times percent will go goes come comes gives give makes make".split()
)
_LINK = frozenset(
    "is are was measures measure measuring of at to be cut trimmed finished folded size sized a an the each all just about exactly only it now that which them in".split()
)
_PADS = (*(size for _, size in MATERIALS["patterned"].sold), parse_size("30.5 x 30.5 cm"))
"""Usual pads, and what a foot is rounded to."""


@dataclass(frozen=True)
class _Told:
    """A text that may tell a figure of the kit."""

    facts: _Facts
    text: str
    """Without citations, code and addresses."""
    place: Callable[[int], Place]
    """Where a line of it stands."""
    firm: bool = True
    """Whether it is about this kit alone."""
    counted: bool = True
    """Whether its counts are about this batch."""
    cites: bool = True
    """Whether it may cite."""
    of: Worked | None = None
    """The design that it is about, where it is typed under one."""

    def wrong(self, start: int, code: str, **values: Any) -> Finding:
        """A figure that the kit contradicts."""
        return Finding("warning", self.place(self.text[:start].count("\n") + 1), code, cite=self.cites, unit=self.facts.unit, **values)

    def shown(self, start: int, end: int) -> str:
        """What is typed there, on one line."""
        return " ".join(self.text[start:end].split())

    def hedged(self, start: int, end: int, firm: bool) -> bool:
        """Whether a figure may be about something else."""
        near = {word.casefold() for word in words_before(self.text, start)[:2]}
        near |= {word.casefold() for word, _ in words_after(self.text, end, 4, frozenset())}
        return bool(_AROUND & near) if firm else bool((_ELSEWHERE | _AROUND) & set(clause_of(self.text, start, end)))


def find(worked: Worked) -> Iterator[Finding]:
    """Figures in prose that contradict the kit."""
    every = [_Facts(view) for view in (worked, *(worked.designs if worked.parts else ()))]
    for texts in zip(*(_texts(worked, facts) for facts in every)):
        own = [told for told in texts if told.facts.worked is texts[0].of] or texts
        first, *others = (list(islice(_wrong(told), MOST_TOLD)) for told in own)
        # What is right of one of the designs may be meant of that.
        yield from (one for one in first if all(any(map(partial(_alike, one), those)) for those in others))


def _alike(one: Finding, other: Finding) -> bool:
    """Whether two findings are about the same figure."""
    return one.place == other.place and one.values.get("shown") == other.values.get("shown")


def _texts(worked: Worked, facts: _Facts) -> Iterator[_Told]:
    """Every text that may tell a figure of the kit."""
    kit = worked.kit
    spec = kit.typed or kit.spec
    yield _Told(facts, plain(spec.title), text_place(kit, ("title",)), cites=False)
    for path, text in prose(spec):
        of = None if (whose := said_of(worked, path)) is worked else whose
        first = path[2] if of else path[0]
        if first in _TOLD and path[-1] != "ask":
            other = path[0] == "questions" and isinstance(path[1], int) and _other_batch(spec.questions[path[1]].ask, spec.cards)
            yield _Told(facts, plain(text), text_place(kit, path), first in _FIRM, not other, of=of)
    yield _Told(facts, plain(kit.notes), notes_place(kit), firm=False)


_OTHER = frozenset("another more fewer less other others instead double twice half halve a4 letter".split())
"""Words of a question whose answer is about another batch, or other paper."""


def _other_batch(ask: str, cards: int) -> bool:
    """Whether a question is about another batch than the kit's: its answer may tell what that one takes."""
    said = plain(ask)
    words = {word.casefold() for word in re.findall(r"[^\W_][\w’'-]*", said)}
    return bool(_OTHER & words) or any(
        n.value != cards and "card" in [singular(w) for w, _ in words_after(said, n.end, 3, _STOP)] for n in islice(numbers(said), MOST)
    )


def _wrong(told: _Told) -> Iterator[Finding]:
    found = list(islice(sizes(told.text, told.facts.unit), MOST))
    for size in found:
        yield from _size(told, size)
    within = Spans((size.start, size.end) for size in found)
    for count in islice(numbers(told.text), MOST) if told.counted else ():
        if count.start not in within:
            yield from _count(told, count)
    for length in islice(lengths(told.text, told.facts.unit), MOST):
        yield from _length(told, length)


# --- counts -----------------------------------------------------------------------------------


def _count(told: _Told, count: Number) -> Iterator[Finding]:
    text, words = told.text, words_after(told.text, count.end, 4, _STOP)
    for i, (word, end) in enumerate(words):
        if i and word.casefold() in _AROUND:
            return
        noun, labels = singular(word), told.facts.labels_of(word, [w for w, _ in words[:i]])
        if noun == "card":
            yield from _cards(told, count, end)
        elif noun == "sheet":
            yield from _sheets(told, count, end)
        elif labels:
            yield from _pieces(told, count, end, labels)
        else:
            continue
        return
    if not words and (before := [w.casefold() for w in words_before(text, count.start)[:2]]):
        if before[0] in ("makes", "make") or before[::-1] in (["batch", "of"],):
            yield from _cards(told, count, count.end)


_CLAIMS = frozenset("make makes give gives get all our these the is of for batch kit".split())
"""Words before a number of cards that make it the whole batch."""


def _part(told: _Told, count: Number, end: int) -> bool:
    """Whether fewer cards than the batch may be some of them, as in “five cards fit a box”."""
    claimed = _CLAIMS & {word.casefold() for word in words_before(told.text, count.start)[:1]} or re.match(
        r"\s+(from|in\s+all|altogether|out\s+of|come)\b", told.text[end:]
    )
    return count.value < told.facts.worked.kit.spec.cards and not claimed


def _cards(told: _Told, count: Number, end: int) -> Iterator[Finding]:
    facts, firm = told.facts, told.firm
    if (
        count.value == 1
        or count.value in (facts.firm_cards if firm else facts.cards)
        or told.hedged(count.start, end, firm)
        or not firm
        and _part(told, count, end)
    ):
        return
    yield told.wrong(count.start, "figures.cards", shown=told.shown(count.start, end), cards=facts.worked.kit.spec.cards)


def _sheets(told: _Told, count: Number, end: int) -> Iterator[Finding]:
    facts, firm, after = told.facts, told.firm, told.text[end:]
    plans = facts.papers_named(after[:60])
    if plans:
        right = {n for plan in plans for n in facts.sheets_of(plan)}
    else:
        if facts.something_else(after):
            return
        right, plans = facts.firm_sheets if firm else facts.sheets, facts.worked.plans
        claimed = {"from", "of", "takes", "needs", "uses", "take", "need", "use"} & {
            w.casefold() for w in words_before(told.text, count.start)[:1]
        }
        if count.value < 1 or count.value == 1 and (not claimed or not firm):
            return
    if count.value in right or told.hedged(count.start, end, firm):
        return
    have = tuple((plan.sheets, facts.worked.kit.papers[plan.paper].name) for plan in plans)
    yield told.wrong(count.start, "figures.sheets", shown=told.shown(count.start, end), have=have, paper=plans[0].paper)


def _pieces(told: _Told, count: Number, end: int, labels: list[str]) -> Iterator[Finding]:
    facts, firm = told.facts, told.firm
    if count.value.denominator != 1 or count.value == 1 or count.value in facts.counts(labels) or facts.something_else(told.text[end:]):
        return
    if told.hedged(count.start, end, firm) and not (
        firm and {"each", "every", "per"} & {w.casefold() for w, _ in words_after(told.text, end, 4, frozenset())}
    ):
        return
    have = tuple((sum(facts.worked.counts(label).values()), label) for label in labels)
    paper = next(iter(facts.worked.counts(labels[0])))
    yield told.wrong(count.start, "figures.pieces", shown=told.shown(count.start, end), have=have, paper=paper)


# --- sizes and lengths --------------------------------------------------------------------------


def _size(told: _Told, size: Typed[Size]) -> Iterator[Finding]:
    facts, firm, text, shown = told.facts, told.firm, told.text, told.shown(size.start, size.end)
    after = [word for word, _ in words_after(text, size.end, 4, _STOP)]
    known = facts.sized(after, words_before(text, size.start), re.search(r"[,:(]\s*$", text[: size.start]) is not None)
    if known is None:
        # Some other thing's, where a noun of its own follows; a sheet that anybody may own.
        bare = re.fullmatch(r"\d+\s*\S\s*\d+", shown) is not None
        if after or bare and not firm or told.hedged(size.start, size.end, firm) or facts.anywhere(size):
            return
        known = facts.cited
    if any(_same(size, one) for _, one in known) or known is facts.sheet_sizes and (not firm or facts.anywhere(size)):
        return
    if told.hedged(size.start, size.end, firm) and not firm:
        return
    what, nearest = min(known, key=lambda k: _far(size.value, k[1]))
    yield told.wrong(size.start, "figures.size", shown=shown, what=what, size=nearest)


def _far(a: Size, b: Size) -> Length:
    return min(abs(a.width - s.width) + abs(a.height - s.height) for s in (b, b.turned))


def _same(typed: Typed[Size], size: Size) -> bool:
    return any(
        abs(typed.value.width - s.width) <= typed.grain and abs(typed.value.height - s.height) <= typed.grain for s in (size, size.turned)
    )


def _length(told: _Told, length: Typed[Length]) -> Iterator[Finding]:
    """A border, a gap, a band, the score; or how wide or tall a piece is."""
    facts, text, shown = told.facts, told.text, told.shown(length.start, length.end)
    after = [singular(word) for word, _ in words_after(text, length.end, 1, _STOP)]
    before = [word for word in words_before(text, length.start) if word.casefold() not in _LINK]
    noun = after[0] if after else ""
    if noun in ("wide", "tall", "high", "long", "deep"):
        known = facts.sized([], words_before(text, length.start), True)
        if (
            known
            and known is not facts.sheet_sizes
            and not any(abs(length.value - side) <= length.grain for _, s in known for side in (s.width, s.height))
        ):
            what, size = known[0]
            yield told.wrong(length.start, "figures.side", shown=f"{shown} {noun}", what=what, size=size, upright=noun in ("tall", "high"))
        return
    near = singular(before[0]) if before else ""
    named = next(
        (w for w in ("border", "gap", "band", "score") if w in (noun, near) or w == "score" and near in ("scored", "scoring")), None
    )
    if named is None or not (right := facts.lengths(named)) or told.hedged(length.start, length.end, True):
        return
    if not any(abs(length.value - one) <= length.grain for one in right):
        yield told.wrong(length.start, "figures.length", shown=shown, what=named, right=tuple(right))


# --- what the kit says ----------------------------------------------------------------------------


What = tuple[str, str | None]
"""Whose size it is: `size` of the card, the base or a label; `sheet` of a paper; `envelope`. So it is cited."""


@dataclass(frozen=True)
class _Facts:
    """The values of a kit that prose may tell."""

    worked: Worked

    @property
    def unit(self) -> str:
        return self.worked.kit.spec.unit

    @cached_property
    def firm_cards(self) -> set[Fraction]:
        """Cards of the batch, and of a look."""
        spec = self.worked.kit.spec
        return {Fraction(n) for n in (spec.cards, *(look.cards for look in spec.front.looks), *spec.arrangements.mix.values())}

    @cached_property
    def cards(self) -> set[Fraction]:
        """Besides those of the batch: half of them, and those that a sheet makes."""
        spec = self.worked.kit.spec
        found = self.firm_cards | {Fraction(spec.cards, 2)}
        for plan in self.worked.plans:
            needs = {label: Fraction(n, spec.cards) for label, n in plan.demand.needs.items() if n}
            for run in plan.runs:
                made = run.layout.yields
                found |= {Fraction(made[label] // each) for label, each in needs.items() if label in made}
        return found

    @cached_property
    def sheets(self) -> set[Fraction]:
        """Sheets of a paper, of papers of one kind, of all; and what they are when half sheets are bought whole."""
        plans, kit = self.worked.plans, self.worked.kit
        found = {n for plan in plans for n in self.sheets_of(plan)} | {Fraction(len(plans))}
        for kind in (*dict.fromkeys(kit.papers[plan.paper].kind for plan in plans), ""):
            of_kind = [plan for plan in plans if not kind or kit.papers[plan.paper].kind == kind]
            for n in range(2, len(of_kind) + 1):
                found |= {sum((p.sheets for p in of_kind[i : i + n]), Fraction(0)) for i in range(len(of_kind) - n + 1)}
            found |= {Fraction(len(of_kind)), sum((Fraction(ceil(p.sheets)) for p in of_kind), Fraction(0))}
        return found

    def sheets_of(self, plan: PaperPlan) -> set[Fraction]:
        """What may be said of the sheets of one paper."""
        found = {plan.sheets, Fraction(ceil(plan.sheets)), *(run.sheets for run in plan.runs)}
        return found | ({plan.demand.given} if plan.demand.given is not None else set())

    @cached_property
    def firm_sheets(self) -> set[Fraction]:
        """The sheets that a summary tells: of the patterned papers, each or together, or of all."""
        plans = [plan for plan in self.worked.plans if self.worked.kit.papers[plan.paper].material.printed] or list(self.worked.plans)
        found = {n for plan in plans for n in self.sheets_of(plan)}
        for some in (plans, self.worked.plans):
            found |= {sum((p.sheets for p in some), Fraction(0)), sum((Fraction(ceil(p.sheets)) for p in some), Fraction(0))}
        return found | {Fraction(len(plans))} if all(plan.sheets <= 1 for plan in plans) else found

    def something_else(self, after: str) -> bool:
        """Whether strips or sheets are of something that is no paper of the kit: strips of tape, sheets of tissue."""
        match = re.match(r"\s+of\s+(?:the\s+|a\s+|an\s+)?([^\W\d_][\w’-]*)", after)
        known = {
            word.casefold()
            for plan in self.worked.plans
            for word in (plan.paper, self.worked.kit.papers[plan.paper].kind, *self.worked.kit.papers[plan.paper].name.split())
        }
        return match is not None and match[1].casefold() not in known | {
            "patterned",
            "paper",
            "papers",
            "cardstock",
            "each",
            "it",
            "them",
            "these",
            "this",
            "letter",
            "any",
            "one",
            "our",
            "your",
            "sheet",
        }

    def papers_named(self, after: str) -> tuple[PaperPlan, ...]:
        """The plan of the paper that is named right after: `of Meadow stripe`."""
        said = " ".join(after.split()).casefold()
        return tuple(
            plan
            for plan in self.worked.plans
            if said.startswith((f"of {self.worked.kit.papers[plan.paper].name.casefold()}", f"of {plan.paper} ", f"of the {plan.paper} "))
            or said.rstrip(".,;!") == f"of {plan.paper}"
        )

    def labels_of(self, word: str, between: list[str]) -> list[str]:
        """The pieces that a word names: a label, or what they are for; told apart by the words before it."""
        pieces = self.worked.kit.spec.pieces
        for label in (word, word.removesuffix("s"), word.removesuffix("’s")):
            if label in pieces:
                return [label]
        noun = singular(word)
        if is_base(noun):
            return [label for label in self.worked.sizes if is_base(label)]
        uses = {label: [singular(w) for w in re.findall(r"[\w’-]+", piece.use)] for label, piece in pieces.items()}
        found = [label for label, use in uses.items() if use[-1:] == [noun]]
        closer = [label for label in found if set(map(singular, between)) & set(uses[label][:-1])]
        return closer or found

    def counts(self, labels: list[str]) -> set[Fraction]:
        """How many there may be of some pieces: on a card, on a sheet, in the batch, off one cut."""
        found = {len(labels), len({paper for label in labels for paper in self.worked.counts(label)}), *self._guide_counts(labels)}
        batch = [self.worked.counts(label) for label in labels]
        found |= {n for counts in batch for n in (*counts.values(), sum(counts.values()))} | {sum(n for c in batch for n in c.values())}
        faces = [[p.label for p in face.layers[:1]] + [p.label for _, p in everything(face, None)] for face in self.worked.faces]
        found |= {on.count(label) for on in faces for label in labels} | {sum(on.count(label) for label in labels) for on in faces}
        for layout in self.worked.layouts:
            each = [layout.yields.get(label, 0) for label in labels]
            found |= {*each, sum(each)}
        return {Fraction(n) for n in found} | {Fraction(n, 2) for n in found}

    def _guide_counts(self, labels: list[str]) -> set[int]:
        """The numbers on the author's guides that give such a piece."""
        found: set[int] = set()

        def walk(entries: object) -> None:
            for entry in entries if isinstance(entries, list) else []:
                text, below = next(iter(entry.items())) if isinstance(entry, dict) else (entry, None)
                found.update(int(n.value) for n in numbers(str(text)) if n.value.denominator == 1)
                walk(below)

        for layout in self.worked.layouts:
            if layout.guide is not None and set(labels) & set(layout.yields):
                walk(self.worked.kit.spec.guides[layout.guide].cuts)
        return found

    # Sizes, each with what has it.

    @cached_property
    def cited(self) -> list[tuple[What, Size]]:
        """Everything of the card that has a size to cite."""
        worked = self.worked
        found: list[tuple[What, Size]] = [(("size", "card"), worked.base.finished), (("size", BASE), worked.base.cut)]
        found += [(("size", label), size) for label, size in worked.sizes.items() if not is_base(label)]
        found += [(("size", label), piece.size) for label, piece in worked.kit.spec.pieces.items()]
        envelope = worked.kit.spec.card.envelope
        return found + ([(("envelope", None), envelope.size)] if envelope else [])

    @cached_property
    def sheet_sizes(self) -> list[tuple[What, Size]]:
        return [(("sheet", plan.paper), plan.demand.sheet) for plan in self.worked.plans]

    def sized(self, after: list[str], before: list[str], close: bool) -> list[tuple[What, Size]] | None:
        """What the noun beside a size stands for; None where there is none that the kit knows."""
        for i, word in enumerate(after):
            if found := self._sized(word, after[:i]):
                return found
        for i, word in enumerate(before):
            if word.casefold() in _LINK and not (close and word in self.worked.kit.spec.pieces and i == 0):
                continue
            if word in ("A", "I") and i == 0 and not close:
                return None
            return self._sized(word, before[i + 1 : i + 3]) or None
        return None

    def _sized(self, word: str, beside: list[str]) -> list[tuple[What, Size]]:
        noun, base = singular(word), self.worked.base
        if noun in ("sheet", "pad", "paper", "cardstock", "vellum", "film", "chipboard"):
            return self.sheet_sizes
        if noun == "card":
            return [(("size", "card"), base.finished), (("size", BASE), base.cut)]
        if noun == "envelope" and (envelope := self.worked.kit.spec.card.envelope):
            return [(("envelope", None), envelope.size)]
        if labels := self.labels_of(word, beside):
            return [
                (("size", label), size)
                for label in labels
                for size in ([self.worked.sizes[label]] + ([self.worked.kit.spec.pieces[label].size] if not is_base(label) else []))
            ]
        return []

    def anywhere(self, size: Typed[Size]) -> bool:
        """Whether the size is that of something about: a part of a sheet, a band, a sheet that can be bought."""
        spec, base = self.worked.kit.spec, self.worked.base
        others = [s for _, s in (*self.cited, *self.sheet_sizes)] + [base.panel(panel) for panel in base.scored.panels]
        others += [s for ground in grounds(self.worked) for s in (*(b.size for b in ground.face.bands), ground.face.field.size)]
        others += [d.size for d, _ in decorations(spec)] + [greeting.size for greeting, _ in greetings(spec)]
        others += [s for named in (*SHEETS, *ENVELOPES) for s in (named.size,)] + list(_PADS)
        others += [s for layout in self.worked.layouts for s in _parts(layout.tree)]
        others += [
            piece.shape.window.size for piece in spec.pieces.values() if piece.shape and piece.shape.window and piece.shape.window.size
        ]
        return any(_same(size, other) for other in others)

    def lengths(self, what: str) -> list[Length]:
        """The borders, gaps, bands or the score, the one that is cited first."""
        worked, faces = self.worked, [ground.face for ground in grounds(self.worked)]
        if what == "score":
            return list(dict.fromkeys([worked.base.score, *(score.at for score in worked.base.scored.scores)]))
        if what == "band":
            return [side for face in worked.face.every for band in face.bands for side in (band.width, band.height)][::-1]
        if what == "gap":
            inner = [item.gap for item, _ in front_items(worked.kit) if item.gap is not None]
            gaps = [face.gap for face in faces if face.gap is not None]
            return list(dict.fromkeys([*gaps, *inner])) if gaps else []
        layers = [pair for face in faces for pair in zip(face.layers, face.layers[1:])]
        borders = [face.border for face in faces if face.border is not None]
        margins = [
            m
            for below, on in layers
            for m in (
                on.rect.x - below.rect.x,
                on.rect.y - below.rect.y,
                below.rect.right - on.rect.right,
                below.rect.bottom - on.rect.bottom,
            )
        ]
        return list(dict.fromkeys([*borders, *margins])) if borders else []


def _parts(node: tree.Node) -> Iterator[Size]:
    """The size of every part that a sheet is ever cut into."""
    yield node.rect.size
    for part in getattr(node, "parts", ()):
        yield from _parts(part)
