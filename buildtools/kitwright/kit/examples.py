"""What may be typed for an entry, made from the model itself: the line to add where one is missing.

A field says by `examples` what may stand for it, the second of two for who measures in
millimetres; words may be anything, so the remark under the field stands for them.
"""

from __future__ import annotations

import types
from collections.abc import Iterable, Iterator
from typing import Annotated, Any, Literal, Union, get_args, get_origin

import yaml
from pydantic import WithJsonSchema
from pydantic.fields import FieldInfo

from kitwright.kit.model import Spec
from kitwright.kit.remarks import remark

STEP = "  "
"""One level deeper in a file."""
REMARK = 40
"""Characters of the longest remark that is written behind a value: the line must stay one on a terminal."""


def needed(model: type[Spec]) -> tuple[str, ...]:
    """The fields without which an entry of this kind is not sound."""
    return tuple(name for name, info in model.model_fields.items() if info.is_required() or name in model.sound_with)


def key_of(model: type[Spec], name: str) -> str:
    """How a field is typed."""
    return model.model_fields[name].alias or name


def example(model: type[Spec], metric: bool) -> dict[str, Any]:
    """A sound entry of this kind, as it would be read from a file: mappings, lists and text."""
    return {key_of(model, name): example_for(model, name, metric) for name in needed(model)}


def example_for(model: type[Spec], name: str, metric: bool) -> Any:
    """What may stand for one field."""
    info = model.model_fields[name]
    said = _said(info.examples, metric)
    if said is None:
        said = next((one for each in info.metadata if (one := _marked(each, metric)) is not None), None)
    return example_of(info.annotation, metric, remark(model, name)) if said is None else said


def example_of(annotation: Any, metric: bool, words: str | None = None) -> Any:
    """What may be typed for a type; `words` where it takes any."""
    origin = get_origin(annotation)
    if origin is Annotated:
        kind, *marks = get_args(annotation)
        said = next((one for mark in marks if (one := _marked(mark, metric)) is not None), None)
        return example_of(kind, metric, words) if said is None else said
    if origin in (Union, types.UnionType):
        return example_of(next(side for side in get_args(annotation) if side is not type(None)), metric, words)
    if origin is Literal:
        return str(get_args(annotation)[0])
    if origin is dict:
        key, value = get_args(annotation)
        return {example_of(key, metric, words): example_of(value, metric, words)}
    if origin in (list, tuple):
        return [example_of(get_args(annotation)[0], metric, words)]
    if annotation is bool:
        return "yes"
    if isinstance(annotation, type) and issubclass(annotation, Spec):
        return example(annotation, metric)
    return words or "…"


def _marked(mark: Any, metric: bool) -> Any:
    """What an annotation says may be typed."""
    if isinstance(mark, FieldInfo):
        return _said(mark.examples, metric)
    return _said((mark.json_schema or {}).get("examples"), metric) if isinstance(mark, WithJsonSchema) else None


def _said(examples: list[Any] | None, metric: bool) -> Any:
    return _text(examples[-1 if metric else 0]) if examples else None


def _text(value: Any) -> Any:
    """A value as the text that is typed for it."""
    if isinstance(value, dict):
        return {str(key): _text(one) for key, one in value.items()}
    return [_text(one) for one in value] if isinstance(value, list) else str(value)


# --- as lines -----------------------------------------------------------------------------------


def lines_for(model: type[Spec], names: Iterable[str], metric: bool, indent: int = 0) -> tuple[str, ...]:
    """The lines that add these fields to an entry, each with the remark that explains it."""
    return tuple(line for name in names for line in _lines(model, name, metric, " " * indent))


def lines_under(key: str, kind: type[Spec] | None, metric: bool, indent: int = 0) -> tuple[str, ...]:
    """The lines of an entry under a name of the author's own; `kind`: what it is, if it is more than a word."""
    if kind is None:
        return (f"{' ' * indent}{key}: …",)
    return (f"{' ' * indent}{key}:", *lines_for(kind, needed(kind), metric, indent + len(STEP)))


def _lines(model: type[Spec], name: str, metric: bool, indent: str) -> Iterator[str]:
    key, value, why = key_of(model, name), example_for(model, name, metric), remark(model, name)
    inner = _only_spec(model.model_fields[name].annotation)
    if inner and isinstance(value, dict) and set(value) <= {key_of(inner, each) for each in inner.model_fields}:
        yield f"{indent}{key}:"
        for each in needed(inner):
            yield from _lines(inner, each, metric, indent + STEP)
    elif isinstance(value, str):
        yield f"{indent}{key}: {scalar(value)}" + (f"   # {why}" if why and why != value and len(why) <= REMARK else "")
    else:
        yield f"{indent}{key}:"
        yield from _below(value, indent + STEP)


def _only_spec(annotation: Any) -> type[Spec] | None:
    sides = get_args(annotation) if get_origin(annotation) in (Union, types.UnionType) else (annotation,)
    return next((side for side in sides if isinstance(side, type) and issubclass(side, Spec)), None)


def _below(value: Any, indent: str) -> Iterator[str]:
    for key, one in value.items() if isinstance(value, dict) else ((None, one) for one in value):
        head = f"{indent}- " if key is None else f"{indent}{key}: "
        if isinstance(one, str):
            yield head + scalar(one)
        else:
            yield head + flow(one)


def flow(value: Any) -> str:
    """A value on one line."""
    if isinstance(value, dict):
        return "{" + ", ".join(f"{key}: {flow(one)}" for key, one in value.items()) + "}"
    if isinstance(value, list):
        return "[" + ", ".join(flow(one) for one in value) + "]"
    return scalar(value, ",[]{}")


def scalar(text: str, taken: str = "") -> str:
    """Text as it is typed: plain where that is read back as it is, in quotes elsewhere."""
    try:
        node: Any = yaml.compose(f"k: {text}", Loader=yaml.SafeLoader)
        plain = node.value[0][1].value == text and not set(text) & set(taken)
    except (yaml.YAMLError, AttributeError, IndexError):
        plain = False
    return text if plain else '"' + text.replace("\\", "\\\\").replace('"', '\\"') + '"'
