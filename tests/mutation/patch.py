"""Makes a change inside a function of a module that is imported already: the function gets other code."""

from __future__ import annotations

import ast
import importlib
from collections.abc import Iterator
from pathlib import Path
from types import CodeType, FunctionType
from typing import Any

from tests.mutation.changes import Change, changed_tree


def can_patch(change: Change) -> bool:
    """Return whether a change is inside a function, and not among the usual values of its parameters."""
    return bool(change.function) and not change.statement.startswith(("def ", "class "))


def patch(root: Path, change: Change) -> bool:
    """Make the change; return False where it takes a new import."""
    function = _function(change)
    if function is None:
        return False
    code = compile(changed_tree(root, change), function.__code__.co_filename, "exec")
    first = function.__code__.co_firstlineno
    new = [part for part in _codes(code) if part.co_firstlineno == first and part.co_name == function.__code__.co_name]
    if len(new) != 1 or new[0].co_freevars != function.__code__.co_freevars:
        return False
    function.__code__ = new[0]
    return True


def _function(change: Change) -> FunctionType | None:
    """Return the outermost function or method that has the change."""
    here: Any = importlib.import_module(change.path.removesuffix(".py").replace("/", "."))
    for name in change.function.split("."):
        here = _bare(vars(here).get(name))
        if isinstance(here, FunctionType):
            return here
        if not isinstance(here, type):
            return None
    return None


def _bare(thing: Any) -> Any:
    """Return the function behind a property, a kept value or another wrapper."""
    for name in ("fget", "func", "__func__", "__wrapped__"):
        if not isinstance(thing, FunctionType | type) and isinstance(getattr(thing, name, None), FunctionType):
            return getattr(thing, name)
    return thing


def _codes(code: CodeType) -> Iterator[CodeType]:
    for part in code.co_consts:
        if isinstance(part, CodeType):
            yield part
            yield from _codes(part)


def source(root: Path, change: Change) -> str:
    """Return the text of the module with the change, for a new import."""
    return ast.unparse(changed_tree(root, change))
