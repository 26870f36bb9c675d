"""Plain text as a model: everything that can't be read is found at once, each slip a code and its values, at its line."""

from __future__ import annotations

import difflib
import re
import types
from collections.abc import Iterable, Iterator
from copy import deepcopy
from functools import lru_cache
from typing import Annotated, Any, Literal, TypeVar, Union, get_args, get_origin

from pydantic import ValidationError
from pydantic_core import ErrorDetails

from kitwright.errors import MOST_TOLD, Lacking, Place, Slips, UserError
from kitwright.kit.examples import example, example_for, example_of, flow, key_of, lines_for, lines_under, needed
from kitwright.kit.fields import Unfit
from kitwright.kit.model import DESIGN_FORM, LABEL_FORM, Club, KitSpec, PastSpec, PersonSpec, Spec
from kitwright.kit.yamltext import Document

T = TypeVar("T", bound=Spec)
Loc = tuple[int | str, ...]
"""Where pydantic met something: keys and indices from the top, and steps of its own between them."""


ROUNDS = 4
"""How often a file is looked at again, with what was wrong in it mended."""


def validated(model: type[T], document: Document, unit: str = "in") -> T:
    """A document as one of the models.

    Args:
        model: which.
        document: the text, with its lines.
        unit: what a bare number in it means, `in` or `mm`.

    Raises:
        UserError: all that is wrong, each with file and line.
    """
    slips = Slips()
    made = looked_through(model, document, slips, unit)
    slips.stop()
    assert made is not None, "nothing was read, and nothing is wrong"
    return made


def looked_through(model: type[T], document: Document, slips: Slips, unit: str = "in") -> T | None:
    """A document as one of the models, for those who only look on: all that is wrong is noted.

    An entry that is wrong stands there as an example of what would be right. What two entries
    together get wrong is thus seen beside what is wrong with others; but nothing may be worked
    out or written from it. None where that can't be.

    Args:
        model: which.
        document: the text, with its lines.
        slips: where it is noted.
        unit: what a bare number means.
    """
    for told in document.slips:
        slips.add(told)
    metric = unit == "mm" or document.data.get("region") == "metric"
    if document.fault:
        add = lines_for(model, needed(model) or model.model_fields, metric)
        if document.fault == "empty":
            slips.add(Lacking("spec.empty-file", place=document.place(()), add=add))
        else:
            slips.add(Lacking("spec.no-names", place=document.place(()), add=add))
        return None
    if () in document.broken:
        return None
    mending = _Mending(model, document, metric)
    for again in range(ROUNDS):
        try:
            return model.model_validate(mending.data, context={"unit": unit})
        except ValidationError as error:
            found = error.errors(include_url=False)
        own = list(_of_its_own(found, mending)) if not again else list(mending.newly_seen(found))
        own.sort(key=lambda one: mending.place(one["loc"]).line or 0)
        lacking: dict[Loc, list[Loc]] = {}
        for one in own[: MOST_TOLD + 1]:
            if one["type"] == "missing":
                lacking.setdefault(mending.path(one["loc"][:-1]), []).append(one["loc"])
            else:
                slips.add(_slip(one, mending))
        for locs in lacking.values():
            slips.add(_missing(locs, mending))
        if len(own) > MOST_TOLD or not all(mending.mend(one) for one in found):
            break
    return None


class _Mending:
    """A document whose wrong entries are put right by examples, one round after another."""

    def __init__(self, model: type[Spec], document: Document, metric: bool) -> None:
        self.model, self.document, self.metric = model, document, metric
        self.data = deepcopy(document.data)
        self._renamed: dict[Loc, Loc] = {}
        """Where entries that were misspelt stand in the file, by where they belong."""
        self._poorer: set[Loc] = set()
        """Entries of which a part was taken away: what they lack now was there."""

    def path(self, loc: Loc) -> Loc:
        """The part of pydantic's location that stands in the data."""
        path: Loc = ()
        here: Any = self.data
        for step in loc:
            held: Any = here
            if isinstance(here, dict) and step in here or isinstance(here, list) and isinstance(step, int) and step < len(here):
                path, here = (*path, step), held[step]
        return path

    def typed(self, path: Loc) -> Loc:
        """Where something stands in the file itself."""
        for new, old in self._renamed.items():
            if path[: len(new)] == new:
                return (*old, *path[len(new) :])
        return path

    def place(self, loc: Loc) -> Place:
        """File and line of where pydantic met something."""
        return self.document.place(self.typed(self.path(loc)))

    def newly_seen(self, found: list[ErrorDetails]) -> Iterator[ErrorDetails]:
        """What could not be seen before: what entries get wrong together, and what stands under a misspelt word."""
        for error in found:
            path = self.path(error["loc"])
            together = isinstance(error.get("ctx", {}).get("error"), UserError) and not any(p[: len(path)] == path for p in self._poorer)
            if together or self.typed(path) != path and error["type"] != "missing":
                yield error

    def mend(self, error: ErrorDetails) -> bool:
        """Put an entry right; False where nothing is known that would be."""
        loc = error["loc"]
        if error["type"] == "extra_forbidden":
            at, word = self.path(loc[:-1]), str(loc[-1])
            entries = _inside(self.data, at)
            if word not in entries:
                return True
            said, near = entries.pop(word), _misspelt(word, self.model, loc)
            if near and near not in entries:
                entries[near] = said
                self._renamed[(*at, near)] = self.typed((*at, word))
            else:
                self._poorer.add(at)
            return True
        if error["type"] == "missing":
            entries = _inside(self.data, self.path(loc[:-1]))
            if isinstance(entries, dict) and loc[-1] not in entries:
                entries[loc[-1]] = _example_at(self.model, loc, self.metric)
            return True
        path = self.path(loc)
        if not path:
            return False
        entries = _inside(self.data, path[:-1])
        if _KEY in loc:
            entries.pop(path[-1], None)
            self._poorer.add(path[:-1])
            return True
        if any(path[-1] in (*kind.counted_together, *kind.named_together) for kind in _models_of(_at(self.model, path[:-1]))):
            self._poorer.add(path[:-1])
        if isinstance(path[-1], int) and any(path[-2] in kind.named_together for kind in _models_of(_at(self.model, path[:-2]))):
            self._poorer.add(path[:-2])
        entries[path[-1]] = _example_at(self.model, path, self.metric)
        return entries[path[-1]] is not None


def _inside(data: Any, path: Loc) -> Any:
    for step in path:
        data = data[step]
    return data


def _near(word: str, words: Iterable[str], least: float = 0.5) -> str | None:
    """The word that was probably meant."""
    return next(iter(difflib.get_close_matches(word, words, 1, least)), None)


def _example_at(model: type[Spec], loc: Loc, metric: bool) -> Any:
    """What may stand somewhere; None where that is not known."""
    step = loc[-1]
    for kind in _at(model, loc[:-1]):
        origin = get_origin(kind)
        if isinstance(kind, type) and issubclass(kind, Spec):
            name = next((name for name, info in kind.model_fields.items() if step in (name, info.alias)), None)
            # A block of a front is one entry of it, typed as a list.
            return example_for(kind, name, metric) if name else example(kind, metric) if isinstance(step, int) else None
        if origin in (list, tuple):
            return example_of(get_args(kind)[0], metric)
        if origin is dict:
            return example_of(get_args(kind)[1], metric)
    return None


def _of_its_own(found: list[ErrorDetails], mending: _Mending) -> Iterator[ErrorDetails]:
    """One error for each entry, without those that only follow from another.

    A misspelt key leaves the right one missing too, and so does one that stands elsewhere, or in
    a line that can't be read: the word itself is the cause. And a list is too short for want of those of
    its entries that are wrong.
    """
    model, document = mending.model, mending.document
    meant: dict[Loc, set[str]] = {}
    elsewhere: set[tuple[str, str]] = set()
    for error in found:
        if error["type"] == "extra_forbidden":
            word = str(error["loc"][-1])
            meant.setdefault(error["loc"][:-1], set()).add(_near(word, _fit(model, error["loc"])) or word)
            elsewhere |= {(under, word) for under in _homes(model).get(word, ())}
    moved = {under for under, _ in elsewhere}
    unread = document.unread | {_near(word, _homes(model), 0.75) for word in document.unread}
    told: set[Loc] = set()
    for error in found:
        path = mending.path(error["loc"])
        if error["type"] == "missing":
            key = str(error["loc"][-1])
            under = str(path[-1]) if path else ""
            if key in meant.get(error["loc"][:-1], ()) or key in unread or (under, key) in elsewhere:
                continue
            path = (*path, key)
        elif path and path[-1] in moved and _inside(mending.data, path) is None:
            # Its lines are there, but not indented below it.
            continue
        elif error["type"] == "too_short" and len(error["input"]) >= error["ctx"]["min_length"]:
            # Of a list only what could be read was counted.
            continue
        if path not in told and not any(path[: len(broken)] == broken for broken in document.broken):
            told.add(path)
            yield error


_KEY = "[key]"
"""Stands in pydantic's location for what stands before a colon."""


# --- which words fit where --------------------------------------------------------------------


def _inner(annotation: Any) -> Iterator[Any]:
    """A type, and what it is put together from: the sides of a union, without the dressing of annotations."""
    origin = get_origin(annotation)
    if origin is Annotated:
        yield from _inner(get_args(annotation)[0])
    elif origin in (Union, types.UnionType):
        for side in get_args(annotation):
            yield from _inner(side)
    else:
        yield annotation


def _below(annotation: Any, step: str | int) -> list[Any]:
    """The types that may stand one step further down."""
    found: list[Any] = []
    for kind in _inner(annotation):
        origin = get_origin(kind)
        if isinstance(kind, type) and issubclass(kind, Spec):
            found += [info.annotation for name, info in kind.model_fields.items() if step in (name, info.alias)]
        elif origin is dict and isinstance(step, str):
            found.append(get_args(kind)[1])
        elif origin in (list, tuple) and isinstance(step, int):
            found.append(get_args(kind)[0])
    return found


def _models_of(kinds: Iterable[Any]) -> list[type[Spec]]:
    return [model for kind in kinds for model in _models(kind)]


def _models(annotation: Any) -> list[type[Spec]]:
    return [kind for kind in _inner(annotation) if isinstance(kind, type) and issubclass(kind, Spec)]


def _keys(model: type[Spec]) -> list[str]:
    return [info.alias or name for name, info in model.model_fields.items()]


def _at(model: type[Spec], loc: Loc) -> list[Any]:
    """The types that may stand somewhere."""
    current: list[Any] = [model]
    for step in loc:
        # A step of pydantic's own, such as the side of a union, is none of the file's.
        current = [inner for kind in current for inner in _below(kind, step)] or current
    return [inner for kind in current for inner in _inner(kind)]


def _fit(model: type[Spec], loc: Loc) -> tuple[str, ...]:
    """The words that may stand where one was met."""
    return tuple(dict.fromkeys(word for m in _models_of(_at(model, loc[:-1])) for word in _keys(m)))


def _choices(model: type[Spec], loc: Loc) -> tuple[str, ...]:
    """What may be chosen from where something else was met; before a colon too."""
    kinds = _at(model, loc)
    if loc[-1] == _KEY:
        kinds = [get_args(kind)[0] for kind in _at(model, loc[:-2]) if get_origin(kind) is dict]
    return tuple(choice for kind in kinds if get_origin(kind) is Literal for choice in get_args(kind))


@lru_cache
def _homes(model: type[Spec]) -> dict[str, list[str]]:
    """Every word of a file, with the entries under which it may stand; an empty name for the top."""
    homes: dict[str, list[str]] = {}
    waiting: list[tuple[type[Spec], str]] = [(model, "")]
    seen: set[tuple[type[Spec], str]] = set()
    while waiting:
        current, under = waiting.pop(0)
        if (current, under) in seen:
            continue
        seen.add((current, under))
        for name, info in current.model_fields.items():
            word = info.alias or name
            homes.setdefault(word, []).append(under)
            waiting += [(inner, word) for inner in _deep(info.annotation)]
    return homes


def _deep(annotation: Any) -> Iterator[type[Spec]]:
    """The models that a type holds at any depth of lists and mappings."""
    for kind in _inner(annotation):
        if isinstance(kind, type) and issubclass(kind, Spec):
            yield kind
        for inner in get_args(kind) if get_origin(kind) in (list, tuple, dict) else ():
            yield from _deep(inner)


_FILES: dict[str, type[Spec]] = {"kit": KitSpec, "club": Club, "person": PersonSpec, "past kit": PastSpec}


def _elsewhere(word: str, model: type[Spec]) -> str | None:
    """The other file that knows a word."""
    return next((file for file, its in _FILES.items() if its is not model and word in _homes(its)), None)


def _misspelt(word: str, model: type[Spec], loc: Loc) -> str | None:
    """What a word that belongs nowhere was probably meant for."""
    return None if word in _homes(model) or _elsewhere(word, model) else _near(word, _fit(model, loc))


_TAIL = re.compile(r"\d+\s*(?:mm|cm|in)?\b")
"""How a word begins that is the rest of a length behind a comma."""


def _unknown(word: str, model: type[Spec], loc: Loc, document: Document, at: Loc, place: Place) -> UserError:
    """A word that can't stand where it does: one that belongs elsewhere, or one that nobody knows."""
    here, homes = _fit(model, loc), _homes(model)
    near = _near(word, here)
    if word in homes:
        return UserError("spec.wrong-place", place=place, word=word, near=near, under=tuple(dict.fromkeys(homes[word])), fitting=here)
    other = _elsewhere(word, model)
    if other:
        return UserError("spec.wrong-file", place=place, word=word, near=near, file=other, fitting=here)
    if near:
        return UserError("spec.misspelt", place=place, word=word, near=near)
    far = _near(word, homes, 0.75)
    if far:
        return UserError("spec.misspelt-and-misplaced", place=place, word=word, near=far, under=homes[far][0], fitting=here)
    block = document.blocks.get(at)
    if _TAIL.match(word) and block and block.flow:
        return UserError("spec.comma-in-braces", place=place, word=word)
    return UserError("spec.unknown-word", place=place, word=word, fitting=here)


# --- as records -------------------------------------------------------------------------------

_SHAPES = {
    "string_type": "spec.no-text",
    "list_type": "spec.no-list",
    "tuple_type": "spec.no-list",
    "dict_type": "spec.no-lines",
    "model_type": "spec.no-lines",
    "model_attributes_type": "spec.no-lines",
}
"""Where something of another shape stands than is asked for, by pydantic's kind of error."""


def _slip(error: ErrorDetails, mending: _Mending) -> UserError:
    """What pydantic refused, as a user error with its place."""
    model, document = mending.model, mending.document
    loc, kind, given, ctx = error["loc"], error["type"], error.get("input"), error.get("ctx", {})
    place = mending.place(loc)
    if isinstance(own := ctx.get("error"), UserError):
        return own.at(mending.place((*loc, own.entry)) if isinstance(own, Unfit) else place)
    # The side of a union is none of the file's; what is before a colon, or should not be there, is told by itself.
    steps = loc if kind == "extra_forbidden" or _KEY in loc else mending.path(loc)
    names = [step for step in steps if isinstance(step, str)]
    key = names[-1] if names else ""
    key = "name" if key == _KEY else key
    text = given if isinstance(given, str) else None
    if kind == "extra_forbidden":
        return _unknown(key, model, loc, document, mending.typed(mending.path(loc[:-1])), place)
    if given is None and isinstance(loc[-1], str) and mending.path(loc)[-1:] == (key,):
        return _blank(mending.path(loc), mending, place)
    if kind == "literal_error" and loc[-1] == _KEY:
        return UserError("spec.no-such-entry", place=place, text=text, under=str(loc[-3]), choices=_choices(model, loc))
    if kind == "literal_error":
        return UserError("spec.no-choice", place=place, text=text, key=key, choices=_choices(model, loc))
    if kind == "greater_than_equal":
        return UserError("spec.too-small", place=place, text=text, key=key, least=ctx["ge"])
    if kind == "less_than_equal":
        return UserError("spec.too-large", place=place, text=text, key=key, most=ctx["le"])
    if kind.startswith("int_"):
        return UserError("spec.no-whole-number", place=place, text=text, key=key)
    if kind.startswith("bool_"):
        return UserError("spec.neither-yes-nor-no", place=place, text=text, key=key)
    if kind == "string_pattern_mismatch":
        return _misnamed(text, ctx["pattern"], loc, document, place)
    if isinstance(loc[-1], int) and mending.path(loc)[-1:] == loc[-1:] and (given is None or kind == "string_too_short"):
        return UserError("spec.empty-entry", place=place, key=key)
    if kind in ("string_too_short", "too_short"):
        return UserError("spec.empty", place=place, key=key)
    if kind in ("string_too_long", "too_long"):
        return UserError("spec.too-long", place=place, key=key, most=ctx["max_length"])
    if _SHAPES.get(kind) == "spec.no-lines" and text and isinstance(loc[-1], int):
        needs = [info.alias or name for one in _models_of(_at(model, loc)) for name, info in one.model_fields.items() if info.is_required()]
        if needs:
            return UserError("spec.bare-entry", place=place, key=key, text=text, needs=tuple(needs))
    if kind in _SHAPES:
        return UserError(_SHAPES[kind], place=place, key=key)
    return UserError("spec.refused", place=place, key=key, why=error["msg"])


def _missing(locs: list[Loc], mending: _Mending) -> UserError:
    """Keys of one entry that are not there, with the lines to add, indented as they must be, and the line below which they fit."""
    document, path, place = mending.document, mending.typed(mending.path(locs[0][:-1])), mending.place(locs[0][:-1])
    fields = [field for loc in locs if (field := _field(mending.model, loc))]
    kind, order = fields[0][0], list(fields[0][0].model_fields)
    names = sorted((name for _, name in fields), key=order.index)
    keys = tuple(key_of(kind, name) for name in names)
    block = document.blocks.get(path)
    if block is None or block.flow:
        between = tuple(f"{key}: {flow(example_for(kind, name, mending.metric))}" for key, name in zip(keys, names))
        return Lacking("spec.missing", place=place, keys=keys, add=between, below=None)
    first = order.index(names[0])
    known = sorted(order, key=lambda other: (order.index(other) > first, -order.index(other)))
    beside = next((at for other in known if (at := (*path, key_of(kind, other))) in document.lines), None)
    below = document.end(beside) if beside else place.line
    return Lacking("spec.missing", place=place, keys=keys, add=lines_for(kind, names, mending.metric, block.indent), below=below)


def _blank(loc: Loc, mending: _Mending, place: Place) -> UserError:
    """A key with nothing behind its colon, with the lines as they might be."""
    path, key = mending.typed(mending.path(loc)), str(loc[-1])
    block = mending.document.blocks.get(path[:-1])
    indent = block.indent if block and not block.flow else 0
    field = _field(mending.model, loc)
    if field:
        add = lines_for(field[0], [field[1]], mending.metric, indent)
    else:
        add = lines_under(key, next(iter(_models_of(_at(mending.model, loc))), None), mending.metric, indent)
    return UserError("spec.blank", place=place, key=key, add=add, needed=bool(field and field[1] in needed(field[0])))


def _field(model: type[Spec], loc: Loc) -> tuple[type[Spec], str] | None:
    """The class and the field that a location names; None for an entry whose name is the author's."""
    kinds = _models_of(_at(model, loc[:-1]))
    return next(((kind, name) for kind in kinds for name, info in kind.model_fields.items() if loc[-1] in (name, info.alias)), None)


def _names(document: Document, key: str) -> tuple[str, ...]:
    """The names that a file gives to its pieces or its papers."""
    said = document.data.get(key)
    return tuple(said) if isinstance(said, dict) else ()


def _misnamed(text: str | None, pattern: str, loc: Loc, document: Document, place: Place) -> UserError:
    """A name in the wrong form; one of the other kind is told as such."""
    pieces, papers = _names(document, "pieces"), _names(document, "papers")
    if pattern == LABEL_FORM:
        if text in papers:
            return UserError("names.paper-for-a-piece", place=place, text=text, pieces=pieces)
        return UserError("names.no-label", place=place, text=text)
    if "look" in loc:
        return UserError("pieces.no-such-look", place=place, look=text or "")
    if "colours" in loc:
        return UserError("pieces.no-such-colour", place=place, colour=text or "")
    if pattern == DESIGN_FORM:
        return UserError("designs.no-name", place=place, text=text)
    if text in pieces:
        return UserError("names.piece-for-a-paper", place=place, text=text, papers=papers)
    return UserError("names.no-short-name", place=place, text=text)
