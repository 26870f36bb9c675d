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
from functools import cached_property
from itertools import islice
from math import ceil

from kitwright.check.typed import Number, Spans, Typed, clause_of, lengths, numbers, plain, singular, sizes, words_after, words_before
from kitwright.cutting import tree
from kitwright.cutting.stock import PATTERNED_STOCK
from kitwright.errors import MOST_TOLD, Place
from kitwright.findings import Finding
from kitwright.kit.names import BASE, front_items
from kitwright.papers import ENVELOPES, SHEETS
from kitwright.telling.words import listed, number, sheets_text
from kitwright.units import Length, Size, length_text, parse_size, size_text
from kitwright.work.cite import notes_place, prose
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
_PADS = (*(size for _, size in PATTERNED_STOCK), parse_size("30.5 x 30.5 cm"))
"""Usual pads, and what a foot is rounded to."""


def find(worked: Worked) -> Iterator[Finding]:
    """Figures in prose that contradict the kit."""
    facts = _Facts(worked)
    for text, firm, counted, place, mend in _texts(worked):
        said = plain(text)
        for start, problem, remedy in islice(_wrong(facts, said, firm, counted), MOST_TOLD):
            yield Finding("warning", place(said[:start].count("\n") + 1), problem, mend(remedy))


def _texts(worked: Worked) -> Iterator[tuple[str, bool, bool, Callable[[int], Place], Callable[[str], str]]]:
    """Every text that may tell a figure of the kit: itself, whether it is about this kit alone, whether about this batch, its place, and how a remedy is said there."""
    kit = worked.kit
    spec = kit.typed or kit.spec
    yield spec.title, True, True, lambda _: kit.place("title"), lambda remedy: re.sub(r",? and cite it:.*", "", remedy)
    for path, text in prose(spec):
        if path[0] in _TOLD and path[-1] not in ("ask",):
            yield (
                text,
                path[0] in _FIRM,
                not (path[0] == "questions" and _other_batch(spec.questions[path[1]].ask, spec.cards)),
                lambda _, path=path: kit.place(*path),
                lambda remedy: remedy,
            )
    yield kit.notes, False, True, notes_place(kit), lambda remedy: remedy


_OTHER = frozenset("another more fewer less other others instead double twice half halve a4 letter".split())
"""Words of a question whose answer is about another batch, or other paper."""


def _other_batch(ask: str, cards: int) -> bool:
    """Whether a question is about another batch than the kit's: its answer may tell what that one takes."""
    said = plain(ask)
    words = {word.casefold() for word in re.findall(r"[^\W_][\w’'-]*", said)}
    return bool(_OTHER & words) or any(
        n.value != cards and "card" in [singular(w) for w, _ in words_after(said, n.end, 3, _STOP)] for n in islice(numbers(said), MOST)
    )


def _wrong(facts: _Facts, text: str, firm: bool, counted: bool) -> Iterator[tuple[int, str, str]]:
    """Where a figure stands, what is wrong with it, and what would be right."""
    found = list(islice(sizes(text, facts.unit), MOST))
    for size in found:
        yield from _size(facts, text, size, firm)
    within = Spans((size.start, size.end) for size in found)
    for count in islice(numbers(text), MOST) if counted else ():
        if count.start not in within:
            yield from _count(facts, text, count, firm)
    for length in islice(lengths(text, facts.unit), MOST):
        yield from _length(facts, text, length)


def _hedged(text: str, start: int, end: int, firm: bool) -> bool:
    """Whether the figure may be about something else."""
    near = {word.casefold() for word in words_before(text, start)[:2]} | {
        word.casefold() for word, _ in words_after(text, end, 4, frozenset())
    }
    return bool(_AROUND & near) if firm else bool((_ELSEWHERE | _AROUND) & set(clause_of(text, start, end)))


# --- counts -----------------------------------------------------------------------------------


def _count(facts: _Facts, text: str, count: Number, firm: bool) -> Iterator[tuple[int, str, str]]:
    words = words_after(text, count.end, 4, _STOP)
    for i, (word, end) in enumerate(words):
        if i and word.casefold() in _AROUND:
            return
        noun, shown = singular(word), " ".join(text[count.start : end].split())
        labels = facts.labels_of(word, [w for w, _ in words[:i]])
        if noun == "card":
            yield from _cards(facts, text, count, end, shown, firm)
        elif noun == "sheet":
            yield from _sheets(facts, text, count, end, shown, firm)
        elif labels:
            yield from _pieces(facts, text, count, end, shown, labels, firm)
        else:
            continue
        return
    if not words and (before := [w.casefold() for w in words_before(text, count.start)[:2]]):
        if before[0] in ("makes", "make") or before[::-1] in (["batch", "of"],):
            yield from _cards(facts, text, count, count.end, " ".join(text[count.start : count.end].split()), firm)


_CLAIMS = frozenset("make makes give gives get all our these the is of for batch kit".split())
"""Words before a number of cards that make it the whole batch."""


def _part(facts: _Facts, text: str, count: Number, end: int) -> bool:
    """Whether fewer cards than the batch may be some of them, as in “five cards fit a box”."""
    claimed = _CLAIMS & {word.casefold() for word in words_before(text, count.start)[:1]} or re.match(
        r"\s+(from|in\s+all|altogether|out\s+of|come)\b", text[end:]
    )
    return count.value < facts.worked.kit.spec.cards and not claimed


def _cards(facts: _Facts, text: str, count: Number, end: int, shown: str, firm: bool) -> Iterator[tuple[int, str, str]]:
    if (
        count.value == 1
        or count.value in (facts.firm_cards if firm else facts.cards)
        or _hedged(text, count.start, end, firm)
        or not firm
        and _part(facts, text, count, end)
    ):
        return
    have = number(facts.worked.kit.spec.cards, "card", "cards")
    yield (
        count.start,
        f"“{shown}” is said here, but the kit makes {have}",
        f"say {have}, and cite it: [[cards]], or [[count of cards]] for the number alone",
    )


def _sheets(facts: _Facts, text: str, count: Number, end: int, shown: str, firm: bool) -> Iterator[tuple[int, str, str]]:
    keys = facts.papers_named(text[end : end + 60])
    if keys:
        right, whose = {n for key in keys for n in facts.sheets_of(key)}, keys
    else:
        if facts.something_else(text[end:]):
            return
        right, whose = facts.firm_sheets if firm else facts.sheets, ()
        claimed = {"from", "of", "takes", "needs", "uses", "take", "need", "use"} & {
            w.casefold() for w in words_before(text, count.start)[:1]
        }
        if count.value < 1 or count.value == 1 and (not claimed or not firm):
            return
    if count.value in right or _hedged(text, count.start, end, firm):
        return
    told = [
        f"{sheets_text(p.sheets)} of {facts.worked.kit.papers[p.paper].name}" for p in facts.worked.plans if not whose or p.paper in whose
    ]
    example = whose[0] if whose else facts.worked.plans[0].paper
    yield (
        count.start,
        f"“{shown}” is said here, but the kit takes {listed(told)}",
        f"say the right number, and cite it: [[sheets of {example}]]",
    )


def _pieces(facts: _Facts, text: str, count: Number, end: int, shown: str, labels: list[str], firm: bool) -> Iterator[tuple[int, str, str]]:
    if count.value.denominator != 1 or count.value == 1 or count.value in facts.counts(labels) or facts.something_else(text[end:]):
        return
    if _hedged(text, count.start, end, firm) and not (
        firm and {"each", "every", "per"} & {w.casefold() for w, _ in words_after(text, end, 4, frozenset())}
    ):
        return
    have = listed([f"{sum(facts.worked.counts(label).values())} {label}" for label in labels])
    yield (
        count.start,
        f"“{shown}” is said here, but neither card nor sheet nor batch has that many: the batch takes {have}",
        f"say the right number, and cite it: [[count of {labels[0]}]], or [[{labels[0]} per sheet of {next(iter(facts.worked.counts(labels[0])))}]]",
    )


# --- sizes and lengths --------------------------------------------------------------------------


def _size(facts: _Facts, text: str, size: Typed, firm: bool) -> Iterator[tuple[int, str, str]]:
    shown = " ".join(text[size.start : size.end].split())
    after = [word for word, _ in words_after(text, size.end, 4, _STOP)]
    known = facts.sized(after, words_before(text, size.start), re.search(r"[,:(]\s*$", text[: size.start]) is not None)
    if known is None:
        # Some other thing's, where a noun of its own follows; a sheet that anybody may own.
        bare = re.fullmatch(r"\d+\s*\S\s*\d+", shown) is not None
        if after or bare and not firm or _hedged(text, size.start, size.end, firm) or facts.anywhere(size):
            return
        known = facts.cited
    if any(_same(size, one) for _, one in known) or known is facts.sheet_sizes and (not firm or facts.anywhere(size)):
        return
    if _hedged(text, size.start, size.end, firm) and not firm:
        return
    phrase, nearest = min(known, key=lambda k: _far(size.value, k[1]))
    yield (
        size.start,
        f"“{shown}” is said here, but {_named(phrase)} is {size_text(nearest, facts.unit)}",
        f"say {size_text(nearest, facts.unit)}, and cite it: [[{phrase}]]",
    )


def _named(phrase: str) -> str:
    what = phrase.partition(" of ")[2] if " of " in phrase else phrase
    return {"card": "the finished card", BASE: "the base", "envelope": "the envelope"}.get(
        what, f"the sheet of {what}" if phrase.startswith("sheet") else what
    )


def _far(a: Size, b: Size) -> Length:
    return min(abs(a.width - s.width) + abs(a.height - s.height) for s in (b, b.turned))


def _same(typed: Typed, size: Size) -> bool:
    return any(
        abs(typed.value.width - s.width) <= typed.grain and abs(typed.value.height - s.height) <= typed.grain for s in (size, size.turned)
    )


def _length(facts: _Facts, text: str, length: Typed) -> Iterator[tuple[int, str, str]]:
    """A border, a gap, a band, the score; or how wide or tall a piece is."""
    shown = " ".join(text[length.start : length.end].split())
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
            phrase, size = known[0]
            yield (
                length.start,
                f"“{shown} {noun}” is said here, but {_named(phrase)} is {size_text(size, facts.unit)}",
                f"say the right length, and cite it: [[{'height' if noun in ('tall', 'high') else 'width'} of {phrase.partition(' of ')[2]}]]",
            )
        return
    near = singular(before[0]) if before else ""
    what = next(
        (w for w in ("border", "gap", "band", "score") if w in (noun, near) or w == "score" and near in ("scored", "scoring")), None
    )
    if what is None or not (right := facts.lengths(what)) or _hedged(text, length.start, length.end, True):
        return
    if not any(abs(length.value - one) <= length.grain for one in right):
        yield (
            length.start,
            f"“{shown}” is said here of the {what}, but it is {listed([length_text(one, facts.unit) for one in right[:2]], 'or')}",
            f"say {length_text(right[0], facts.unit)}, and cite it: [[{what}]]",
        )


# --- what the kit says ----------------------------------------------------------------------------


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
        found = {n for plan in plans for n in self.sheets_of(plan.paper)} | {Fraction(len(plans))}
        for kind in ("patterned", "cardstock", ""):
            of_kind = [plan for plan in plans if not kind or kit.papers[plan.paper].kind == kind]
            for n in range(2, len(of_kind) + 1):
                found |= {sum((p.sheets for p in of_kind[i : i + n]), Fraction(0)) for i in range(len(of_kind) - n + 1)}
            found |= {Fraction(len(of_kind)), sum((Fraction(ceil(p.sheets)) for p in of_kind), Fraction(0))}
        return found

    def sheets_of(self, key: str) -> set[Fraction]:
        """What may be said of the sheets of one paper."""
        plan = self.worked.plan(key)
        found = {plan.sheets, Fraction(ceil(plan.sheets)), *(run.sheets for run in plan.runs)}
        return found | ({plan.demand.given} if plan.demand.given is not None else set())

    @cached_property
    def firm_sheets(self) -> set[Fraction]:
        """The sheets that a summary tells: of the patterned papers, each or together, or of all."""
        plans = [plan for plan in self.worked.plans if self.worked.kit.papers[plan.paper].kind == "patterned"] or list(self.worked.plans)
        found = {n for plan in plans for n in self.sheets_of(plan.paper)}
        for some in (plans, self.worked.plans):
            found |= {sum((p.sheets for p in some), Fraction(0)), sum((Fraction(ceil(p.sheets)) for p in some), Fraction(0))}
        return found | {Fraction(len(plans))} if all(plan.sheets <= 1 for plan in plans) else found

    def something_else(self, after: str) -> bool:
        """Whether strips or sheets are of something that is no paper of the kit: strips of tape, sheets of tissue."""
        match = re.match(r"\s+of\s+(?:the\s+|a\s+|an\s+)?([^\W\d_][\w’-]*)", after)
        known = {word.casefold() for plan in self.worked.plans for word in (plan.paper, *self.worked.kit.papers[plan.paper].name.split())}
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

    def papers_named(self, after: str) -> tuple[str, ...]:
        """The paper that is named right after: `of Meadow stripe`."""
        said = " ".join(after.split()).casefold()
        return tuple(
            plan.paper
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
        if noun == BASE:
            return [BASE]
        uses = {label: [singular(w) for w in re.findall(r"[\w’-]+", piece.use)] for label, piece in pieces.items()}
        found = [label for label, use in uses.items() if use[-1:] == [noun]]
        closer = [label for label in found if set(map(singular, between)) & set(uses[label][:-1])]
        return closer or found

    def counts(self, labels: list[str]) -> set[Fraction]:
        """How many there may be of some pieces: on a card, on a sheet, in the batch, off one cut."""
        found = {len(labels), len({paper for label in labels for paper in self.worked.counts(label)}), *self._guide_counts(labels)}
        batch = [self.worked.counts(label) for label in labels]
        found |= {n for counts in batch for n in (*counts.values(), sum(counts.values()))} | {sum(n for c in batch for n in c.values())}
        faces = [[p.label for p in face.stack] for face in self.worked.faces]
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

    # Sizes, each with the citation that tells it.

    @cached_property
    def cited(self) -> list[tuple[str, Size]]:
        """Everything of the card that has a size to cite."""
        worked = self.worked
        found = [
            ("size of card", worked.base.finished),
            ("size of base", worked.base.cut),
            *((f"size of {label}", size) for label, size in worked.sizes.items() if label != BASE),
        ]
        found += [(f"size of {label}", piece.size) for label, piece in worked.kit.spec.pieces.items()]
        envelope = worked.kit.spec.card.envelope
        return found + ([("envelope", envelope.size)] if envelope else [])

    @cached_property
    def sheet_sizes(self) -> list[tuple[str, Size]]:
        return [(f"sheet of {plan.paper}", plan.demand.sheet) for plan in self.worked.plans]

    def sized(self, after: list[str], before: list[str], close: bool) -> list[tuple[str, Size]] | None:
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

    def _sized(self, word: str, beside: list[str]) -> list[tuple[str, Size]]:
        noun, base = singular(word), self.worked.base
        if noun in ("sheet", "pad", "paper", "cardstock"):
            return self.sheet_sizes
        if noun == "card":
            return [("size of card", base.finished), ("size of base", base.cut)]
        if noun == "envelope" and (envelope := self.worked.kit.spec.card.envelope):
            return [("envelope", envelope.size)]
        if labels := self.labels_of(word, beside):
            return [
                (f"size of {label}", size)
                for label in labels
                for size in ([self.worked.sizes[label]] + ([self.worked.kit.spec.pieces[label].size] if label != BASE else []))
            ]
        return []

    def anywhere(self, size: Typed) -> bool:
        """Whether the size is that of something about: a part of a sheet, a band, a sheet that can be bought."""
        face, spec = self.worked.face, self.worked.kit.spec
        others = [s for _, s in (*self.cited, *self.sheet_sizes)] + [self.worked.base.back, *(b.size for b in face.bands), face.field.size]
        others += [d.size for d in spec.decorations] + ([spec.sentiment.size] if spec.sentiment else [])
        others += [s for named in (*SHEETS, *ENVELOPES) for s in (named.size,)] + list(_PADS)
        others += [s for layout in self.worked.layouts for s in _parts(layout.tree)]
        others += [
            piece.shape.window.size for piece in spec.pieces.values() if piece.shape and piece.shape.window and piece.shape.window.size
        ]
        return any(_same(size, other) for other in others)

    def lengths(self, what: str) -> list[Length]:
        """The borders, gaps, bands or the score, the one that is cited first."""
        face, worked = self.worked.face, self.worked
        if what == "score":
            return [worked.base.score]
        if what == "band":
            return [side for band in face.bands for side in (band.width, band.height)][::-1]
        if what == "gap":
            inner = [item.gap for item, _ in front_items(worked.kit) if item.gap is not None]
            return list(dict.fromkeys([*([face.gap] if face.gap is not None else []), *inner])) if face.gap is not None else []
        layers = zip(face.layers, face.layers[1:])
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
        return list(dict.fromkeys([face.border, *margins])) if face.border is not None else []


def _parts(node: tree.Node) -> Iterator[Size]:
    """The size of every part that a sheet is ever cut into."""
    yield node.rect.size
    for part in getattr(node, "parts", ()):
        yield from _parts(part)
