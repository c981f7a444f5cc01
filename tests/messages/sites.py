"""Every place in the program that builds a message, found in its source; and which of them ran."""

from __future__ import annotations

import argparse
import ast
import functools
import importlib
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import advisor
from advisor.errors import Problem

PACKAGE = Path(advisor.__file__).parent
# Functions that take the wording from their caller, so that the caller is the place of the message.
HELPERS = {
    "knowledge/yaml_text.py": {"problem", "_refuse", "_note"}, "knowledge/reading.py": {"problem"},
    "units/parse.py": {"refuse", "without_unit", "unit_refused"}, "units/sides.py": {"refuse", "_clock"},
    "units/refusals.py": {"refuse", "without_unit"},
}
# Faults of the program, which no person can cause, and what one part tells another: none is shown as it is.
_NOT_SHOWN = {"Leave", "_RefusedError", "_MissingInputError", "EngineError", "Unsuitable", "TakenError"}
# What calculators raise is shown only after `computing/run.py` has put it into words; tests/calculators raises each.
_WITHIN = "advisor.calculators."


@dataclass(frozen=True, order=True)
class Site:
    """A call that builds a message: file below the package, first and last line, and the call as written."""

    file: str
    line: int
    last: int
    call: str

    def __str__(self) -> str:
        return f"{self.file}:{self.line}"


@dataclass(frozen=True)
class Built:
    """A message as it was built, and the places in the program on the way to it."""

    lines: frozenset[tuple[str, int]]
    message: Any

    @property
    def kind(self) -> str:
        """The class of the message."""
        return type(self.message).__name__

    @property
    def what(self) -> str:
        """What it says is wrong."""
        return str(getattr(self.message, "what", self.message))

    @property
    def help(self) -> str | None:
        """What it says would help."""
        return getattr(self.message, "help", None)


@functools.cache
def classes() -> dict[str, type]:
    """The classes of messages: the program's own exceptions, `Problem`, and what argparse tells."""
    found: dict[str, type] = {"Problem": Problem, "ArgumentTypeError": argparse.ArgumentTypeError}
    for path in PACKAGE.rglob("*.py"):
        name = ".".join(["advisor", *path.relative_to(PACKAGE).with_suffix("").parts])
        if path.name in ("__init__.py", "__main__.py") or "assets" in path.parts:
            continue
        for thing in vars(importlib.import_module(name)).values():
            if isinstance(thing, type) and issubclass(thing, Exception) and thing.__module__.startswith("advisor.") \
                    and not thing.__module__.startswith(_WITHIN) and thing.__name__ not in _NOT_SHOWN:
                found[thing.__name__] = thing
    return found


@functools.cache
def sites() -> tuple[Site, ...]:
    """Every place that builds a message."""
    found = []
    for path in sorted(PACKAGE.rglob("*.py")):
        file = path.relative_to(PACKAGE).as_posix()
        builders = {*classes(), *HELPERS.get(file, ())}
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Call) and _called(node) in builders:
                found.append(Site(file, node.lineno, node.end_lineno or node.lineno,
                                  " ".join(ast.unparse(node).split())))
    return tuple(sorted(found))


def _called(node: ast.Call) -> str:
    return node.func.attr if isinstance(node.func, ast.Attribute) else getattr(node.func, "id", "")


@contextmanager
def recorded() -> Iterator[list[Built]]:
    """While it lasts, every message built is kept with the lines that led to it."""
    built: list[Built] = []
    # A class without an `__init__` of its own is seen through the one it inherits.
    own = [kind for kind in classes().values() if "__init__" in vars(kind)]
    others = [kind for kind in classes().values() if not any(base in own for base in kind.__mro__)]
    before = {kind: kind.__init__ for kind in (*own, *others)}  # type: ignore[misc]
    for kind, first in before.items():
        kind.__init__ = _noting(first, kind, built)  # type: ignore[misc]
    try:
        yield built
    finally:
        for kind, first in before.items():
            if kind in own:
                kind.__init__ = first  # type: ignore[misc]
            else:
                del kind.__init__  # type: ignore[misc]


def _noting(first: Callable[..., None], kind: type, built: list[Built]) -> Callable[..., None]:
    def noting(self: Any, *given: Any, **named: Any) -> None:
        first(self, *given, **named)
        if type(self) is kind or "__init__" not in vars(type(self)):
            built.append(Built(frozenset(_lines()), self))
    return noting


def _lines() -> Iterator[tuple[str, int]]:
    frame = sys._getframe(2)
    while frame is not None:
        path = Path(frame.f_code.co_filename)
        if path.is_relative_to(PACKAGE):
            yield path.relative_to(PACKAGE).as_posix(), frame.f_lineno
        frame = frame.f_back  # type: ignore[assignment]


def ran(site: Site, built: Built) -> bool:
    """Whether this message was built at that place."""
    return any(file == site.file and site.line <= line <= site.last for file, line in built.lines)
