"""Plain text as a model: everything that can't be read is found at once, each slip a code and its values, at its line."""

from __future__ import annotations

import difflib
import types
from collections.abc import Iterator
from functools import lru_cache
from typing import Annotated, Any, Literal, TypeVar, Union, get_args, get_origin

from pydantic import ValidationError
from pydantic_core import ErrorDetails

from kitwright.errors import MOST_TOLD, Place, Slips, UserError
from kitwright.kit.model import LABEL_FORM, Club, KitSpec, PastSpec, PersonSpec, Spec
from kitwright.kit.yamltext import Document

T = TypeVar("T", bound=Spec)
Loc = tuple[int | str, ...]
"""Where pydantic met something: keys and indices from the top, and steps of its own between them."""


def validated(model: type[T], document: Document, unit: str = "in") -> T:
    """A document as one of the models.

    Args:
        model: which.
        document: the text, with its lines.
        unit: what a bare number in it means, `in` or `mm`.

    Raises:
        UserError: all that is wrong, each with file and line.
    """
    try:
        return model.model_validate(document.data, context={"unit": unit})
    except ValidationError as error:
        slips = Slips()
        own = sorted(
            _of_its_own(error.errors(include_url=False), document, model),
            key=lambda one: document.place(_path(one["loc"], document)).line or 0,
        )
        for one in own[: MOST_TOLD + 1]:
            slips.add(_slip(one, model, document))
        slips.stop()
        raise AssertionError("a validation error without an error") from None


def _of_its_own(found: list[ErrorDetails], document: Document, model: type[Spec]) -> Iterator[ErrorDetails]:
    """One error for each entry, without those that only follow from another.

    A misspelt key leaves the right one missing too: the word itself is the cause.
    """
    misspelt: dict[Loc, set[str]] = {}
    for error in found:
        if error["type"] == "extra_forbidden":
            words = _fit(model, error["loc"])
            misspelt.setdefault(error["loc"][:-1], set()).update(difflib.get_close_matches(str(error["loc"][-1]), words, 1, 0.5))
    told: set[Loc] = set()
    for error in found:
        path = _path(error["loc"], document)
        if error["type"] == "missing":
            if error["loc"][-1] in misspelt.get(error["loc"][:-1], ()):
                continue
            path = (*path, error["loc"][-1])
        if path not in told:
            told.add(path)
            yield error


def _path(loc: Loc, document: Document) -> Loc:
    """The part of pydantic's location that stands in the file."""
    path: Loc = ()
    for step in loc:
        if (*path, step) in document.lines:
            path = (*path, step)
    return path


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
    return tuple(dict.fromkeys(word for kind in _at(model, loc[:-1]) for m in _models(kind) for word in _keys(m)))


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


def _unknown(word: str, model: type[Spec], loc: Loc, place: Place) -> UserError:
    """A word that can't stand where it does: one that belongs elsewhere, or one that nobody knows."""
    here, homes = _fit(model, loc), _homes(model)
    near = next(iter(difflib.get_close_matches(word, here, 1, 0.5)), None)
    if word in homes:
        return UserError("spec.wrong-place", place=place, word=word, near=near, under=tuple(dict.fromkeys(homes[word])), fitting=here)
    other = next((file for file, its in _FILES.items() if its is not model and word in _homes(its)), None)
    if other:
        return UserError("spec.wrong-file", place=place, word=word, near=near, file=other, fitting=here)
    if near:
        return UserError("spec.misspelt", place=place, word=word, near=near)
    far = next(iter(difflib.get_close_matches(word, homes, 1, 0.75)), None)
    if far:
        return UserError("spec.misspelt-and-misplaced", place=place, word=word, near=far, under=homes[far][0], fitting=here)
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


def _slip(error: ErrorDetails, model: type[Spec], document: Document) -> UserError:
    """What pydantic refused, as a user error with its place."""
    loc, kind, given, ctx = error["loc"], error["type"], error.get("input"), error.get("ctx", {})
    place = document.place(_path(loc, document))
    if isinstance(own := ctx.get("error"), UserError):
        return own.at(place)
    names = [step for step in loc if isinstance(step, str)]
    key = names[-1] if names else ""
    key = "name" if key == _KEY else key
    text = given if isinstance(given, str) else None
    if kind == "extra_forbidden":
        return _unknown(key, model, loc, place)
    if kind == "missing":
        return UserError("spec.missing", place=place, key=key)
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
        return _misnamed(text, ctx["pattern"], document, place)
    if kind in ("string_too_short", "too_short"):
        return UserError("spec.empty", place=place, key=key)
    if kind in ("string_too_long", "too_long"):
        return UserError("spec.too-long", place=place, key=key, most=ctx["max_length"])
    if kind in _SHAPES:
        return UserError(_SHAPES[kind], place=place, key=key)
    return UserError("spec.refused", place=place, key=key, why=error["msg"])


def _names(document: Document, key: str) -> tuple[str, ...]:
    """The names that a file gives to its pieces or its papers."""
    said = document.data.get(key)
    return tuple(said) if isinstance(said, dict) else ()


def _misnamed(text: str | None, pattern: str, document: Document, place: Place) -> UserError:
    """A name in the wrong form; one of the other kind is told as such."""
    pieces, papers = _names(document, "pieces"), _names(document, "papers")
    if pattern == LABEL_FORM:
        if text in papers:
            return UserError("names.paper-for-a-piece", place=place, text=text, pieces=pieces)
        return UserError("names.no-label", place=place, text=text)
    if text in pieces:
        return UserError("names.piece-for-a-paper", place=place, text=text, papers=papers)
    return UserError("names.no-short-name", place=place, text=text)
