"""Two states of a kit side by side, and one change between them as a record."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from functools import cached_property
from typing import Any

from kitwright.labels import base_label
from kitwright.release.designpaths import below, within
from kitwright.release.marks import Mark
from kitwright.release.paths import Grade, differing, grade_of
from kitwright.release.values import Value, Values
from kitwright.work.worked import Worked


@dataclass(frozen=True)
class Copy:
    """What a copy of one state says."""

    worked: Worked
    values: Values
    """By path."""


@dataclass(frozen=True)
class Difference:
    """One change; `kitwright.telling.changes` words it, by its kind."""

    path: str
    """Where, as `values` names it."""
    kind: str
    """How it is told."""
    grade: Grade
    was: Value
    now: Value
    values: Mapping[str, Any]
    """What else it takes to tell it."""
    tells: tuple[str, ...] = ()
    """Further paths that it tells."""
    old: tuple[Mark, ...] = field(default=(), compare=False)
    """Where it shows on the drawings of the old state."""
    new: tuple[Mark, ...] = field(default=(), compare=False)
    """Where it shows on those of the new one."""
    design: str = ""
    """The design that it is about, where the kit has several and it is about one."""

    def told_in(self, unit: str) -> Difference:
        """The same, its sizes told in a unit."""
        return replace(self, values={**self.values, "unit": unit}) if "unit" in self.values else self

    def below(self, design: str) -> Difference:
        """A change of a design as one of the whole kit."""
        old, new = (tuple(replace(mark, design=design) for mark in marks) for marks in (self.old, self.new))
        tells = tuple(below(design, path) for path in self.tells)
        return replace(self, path=below(design, self.path), tells=tells, old=old, new=new, design=design)

    @property
    def about(self) -> tuple[str, ...]:
        """What it is about, whatever the value there, and wherever it stands among others."""
        return (
            self.kind,
            self.design,
            *(str(self.values.get(name, "")) for name in ("label", "paper", "name", "stage", "what", "key", "use")),
        )

    @property
    def paths(self) -> tuple[str, ...]:
        """Every path that it tells."""
        return (self.path, *self.tells)


def _inner(values: Values, design: str) -> Values:
    """What is said of a design, by its paths there."""
    found = ((within(path), value) for path, value in values.items())
    return {path: value for (of, path), value in found if of == design}


@dataclass(frozen=True)
class Both:
    """Two states of one kit."""

    old: Copy
    new: Copy

    @cached_property
    def designs(self) -> dict[str, Both]:
        """Each design that both have, seen alone; empty where neither has several."""
        there, now = ({each.kit.design: each for each in one.worked.designs if one.worked.parts} for one in (self.old, self.new))
        return {name: self._alone(there[name], now[name]) for name in now if name in there}

    def _alone(self, old: Worked, new: Worked) -> Both:
        copies = (Copy(design, _inner(of.values, design.kit.design)) for design, of in ((old, self.old), (new, self.new)))
        both = Both(*copies)
        # A piece that one design has no more need not be gone.
        vars(both)["renamed"] = self.renamed
        return both

    @cached_property
    def redesigned(self) -> dict[str, str]:
        """Designs that have only another name now, by their old ones."""
        before, after = ((one.worked.kit.typed or one.worked.kit.spec).designs for one in (self.old, self.new))
        found: dict[str, str] = {}
        for name in (name for name in before if name not in after):
            like = (each for each in after if each not in before and each not in found.values() and after[each] == before[name])
            if now := next(like, None):
                found[name] = now
        return found

    @cached_property
    def differing(self) -> tuple[str, ...]:
        """Every path at which they say something else."""
        return tuple(differing(self.old.values, self.new.values))

    @cached_property
    def renamed(self) -> dict[str, str]:
        """Labels that were renamed throughout: gone from one state, new in the other, for the same papers.

        Of one size, or else for the very same thing; of several, the one that is for the same thing.
        """
        before, after = self.old.worked.kit.spec.pieces, self.new.worked.kit.spec.pieces
        gone = [label for label in before if label not in after]
        found: dict[str, str] = {}
        for sized in (True, False):
            for label in gone:
                if label in found:
                    continue
                piece = before[label]
                like = [
                    c
                    for c in after
                    if c not in before and c not in found.values() and after[c].share == piece.share
                    if (after[c].size == piece.size if sized else piece.use and after[c].use == piece.use)
                ]
                if like:
                    found[label] = next((c for c in like if after[c].use == piece.use), like[0])
        bases = {base_label(was): base_label(now) for was, now in self.redesigned.items()}
        return found | self._exchanged() | bases

    def _exchanged(self) -> dict[str, str]:
        """Labels that stand in both states and go round among the same pieces: each size, with what it is for, has another's letter."""
        before, after = self.old.worked.kit.spec.pieces, self.new.worked.kit.spec.pieces
        found = {
            label: other
            for label, piece in before.items()
            for other, now in after.items()
            if piece.use and label in after and other in before and piece.size != after[label].size
            if (now.size, now.use, now.share) == (piece.size, piece.use, piece.share)
        }
        return found if set(found) == set(found.values()) else {}

    def change(
        self,
        path: str,
        kind: str,
        was: Value = None,
        now: Value = None,
        *,
        grade: Grade | None = None,
        tells: Iterable[str] = (),
        old: tuple[Mark, ...] = (),
        new: tuple[Mark, ...] = (),
        **values: Any,
    ) -> Difference:
        """A change between them; its grade is that of its path unless given."""
        return Difference(
            path, kind, grade or grade_of(path, was, now), was, now, values, tuple(p for p in tells if p in self.differing), old, new
        )

    def below(self, *starts: str) -> tuple[str, ...]:
        """Every differing path that is one of these, or stands below it."""
        return tuple(p for p in self.differing if any(p == s or p.startswith((f"{s}.", f"{s}[")) for s in starts))
