"""What stands under each field of the model, for whoever shows it: editors, and errors about what is missing."""

from __future__ import annotations

import ast
import inspect
import sys
from functools import cache

from kitwright.kit.model import Spec


def remark(model: type[Spec], name: str) -> str | None:
    """What stands under a field, in its own class or one above."""
    classes = [one for one in model.__mro__ if issubclass(one, Spec)]
    return next((text for one in classes if (text := _remarks(one.__module__).get((one.__name__, name)))), None)


@cache
def _remarks(module: str) -> dict[tuple[str, str], str]:
    """What stands under the fields of a module's classes, by class and field."""
    return {
        (made.name, field.target.id): under.value.value
        for made in ast.parse(inspect.getsource(sys.modules[module])).body
        if isinstance(made, ast.ClassDef)
        for field, under in zip(made.body, made.body[1:])
        if isinstance(field, ast.AnnAssign) and isinstance(field.target, ast.Name)
        if isinstance(under, ast.Expr) and isinstance(under.value, ast.Constant) and isinstance(under.value.value, str)
    }
