"""Calls of the operating system that fail: the nth one, or every one from the nth on, as when a disk is full or gone.

`python -m tests.faults.calls` tries every call of every way of saving with every fault and prints how many were
survived; the tests try a full disk and a kill.
"""

from __future__ import annotations

import errno
import os
import sys
import tempfile
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest

from advisor.errors import InputError
from advisor.store import DamagedError, Store

CALLS = ("open", "write", "fsync", "close", "link", "replace", "unlink", "mkdir")
ERRNOS = (errno.ENOSPC, errno.EROFS, errno.EIO, errno.EDQUOT, errno.EACCES)
OLD: dict[str, str] = {"goal": "plan_joint"}
NEW: dict[str, str] = {"goal": "plan_joint", "gap_max": "14 mm"}
_MOST_CALLS = 60


class Killed(BaseException):
    """The process ended at this call: nothing after it was done either."""


@dataclass(frozen=True)
class Fault:
    """What goes wrong at which call; without an error number the process ends there."""

    at: int
    number: int | None
    lasting: bool


class _Failing:
    def __init__(self, fault: Fault) -> None:
        self.fault, self.count = fault, 0

    def wrapped(self, name: str, call: Callable[..., Any]) -> Callable[..., Any]:
        def failing(*given: Any, **more: Any) -> Any:
            self.count += 1
            late = self.count > self.fault.at and (self.fault.lasting or self.fault.number is None)
            if self.count != self.fault.at and not late:
                return call(*given, **more)
            if name == "write" and not late:
                call(given[0], given[1][:len(given[1]) // 2])  # a disk fills up in the middle of a file
            if name == "close":
                call(*given, **more)  # a descriptor is gone even where closing it tells of a fault
            if self.fault.number is None:
                raise Killed
            raise OSError(self.fault.number, os.strerror(self.fault.number))
        return failing


@contextmanager
def failing(fault: Fault) -> Iterator[_Failing]:
    """The calls fail meanwhile."""
    counter = _Failing(fault)
    with pytest.MonkeyPatch.context() as patch:
        for name in CALLS:
            patch.setattr(os, name, counter.wrapped(name, getattr(os, name)))
        yield counter


@dataclass(frozen=True)
class Way:
    """A way of saving, what is there before, and what may be read after it failed."""

    name: str
    prepare: Callable[[Store], None]
    act: Callable[[Store], object]
    allowed: tuple[dict[str, str] | None, ...]


def _create(store: Store) -> None:
    store.create("Cowl", OLD)


def _create_and_save(store: Store) -> None:
    _create(store)
    store.save("cowl", "Cowl", OLD)


def _create_save_and_damage(store: Store) -> None:
    _create_and_save(store)
    store.path("cowl").write_bytes(b"\0\0\0")


def _nothing(store: Store) -> None:
    """Not even the folder is there."""


WAYS = (
    Way("first save", _nothing, lambda store: store.create("Cowl", NEW), (None, NEW)),
    Way("second save", _create, lambda store: store.save("cowl", "Cowl", NEW), (OLD, NEW)),
    Way("third save", _create_and_save, lambda store: store.save("cowl", "Cowl", NEW), (OLD, NEW)),
    Way("restoring", _create_save_and_damage, lambda store: store.restore("cowl"), (OLD,)),
)


def readable(folder: Path) -> dict[str, str | list[str]] | None:
    """The answers that a person can still get at; None where there are none."""
    try:
        return Store(folder).load("cowl").answers
    except DamagedError as error:
        return error.earlier.answers
    except InputError:
        return None


def tried(way: Way, fault: Fault, folder: Path) -> tuple[bool, str | None]:
    """Whether the fault struck, and what was wrong afterwards."""
    store = Store(folder / "consultations")
    way.prepare(store)
    told = True
    with failing(fault) as counter, suppress(Killed):
        try:
            way.act(store)
            told = False
        except InputError:
            pass
    found = readable(store.folder)
    if found not in way.allowed:
        return True, f"{way.name}, {fault}: {found}"
    if not told and fault.number is not None and found != way.allowed[-1]:
        return True, f"{way.name}, {fault}: it said that it had saved, and it had not"
    return counter.count >= fault.at, None


def all_tried(folder: Path, errnos: Sequence[int] = ERRNOS) -> Iterator[str | None]:
    """Every way with every fault at every call: what was wrong, or None, for each fault that struck."""
    for way in WAYS:
        for number in (*errnos, None):
            for lasting in (False, True) if number is not None else (True,):
                for at in range(1, _MOST_CALLS):
                    place = Path(tempfile.mkdtemp(dir=folder))
                    struck, wrong = tried(way, Fault(at, number, lasting), place)
                    if not struck:
                        break
                    yield wrong


if __name__ == "__main__":
    with tempfile.TemporaryDirectory() as temporary:
        results = list(all_tried(Path(temporary)))
    wrongs = [wrong for wrong in results if wrong]
    print(*wrongs, f"{len(results)} faults, {len(results) - len(wrongs)} survived", sep="\n")
    sys.exit(1 if wrongs else 0)
