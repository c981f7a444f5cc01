"""A disk as a power cut leaves it: what was not settled may be lost, whatever the order in which it was done.

`Recorded` watches the calls by which a file is saved. `states` then gives every folder that could be found after a
power cut at one moment: a file that was not settled holds all, some or nothing of what was written; of the names that
were changed after the folder was last settled, any may have been kept and any lost. `python -m tests.faults.power`
tries them all and prints how many were survived.
"""

from __future__ import annotations

import os
import sys
import tempfile
from collections.abc import Iterator
from dataclasses import dataclass, field
from itertools import product
from pathlib import Path
from typing import Any

import pytest

from advisor.errors import InputError
from advisor.store import Store

OLD: dict[str, str] = {"goal": "plan_joint"}
NEW: dict[str, str] = {"goal": "plan_joint", "gap_max": "14 mm"}
# Whether the save had returned when the power went, and the answers that can be read afterwards.
Found = list[tuple[bool, "dict[str, str | list[str]] | None"]]
Step = tuple[str, ...]


@dataclass
class Recorded:
    """The calls made on one folder, in order; `contents` are the bytes written to each file that was made."""

    folder: Path
    steps: list[Step] = field(default_factory=list)
    contents: dict[str, bytes] = field(default_factory=dict)
    _names: dict[int, str] = field(default_factory=dict)

    def watch(self, patch: pytest.MonkeyPatch) -> None:
        """Record from now on, until the patch is undone."""
        opened, wrote, synced, closed = os.open, os.write, os.fsync, os.close
        linked, replaced, unlinked = os.link, os.replace, os.unlink

        def open_(path: Any, flags: int, *mode: Any, **more: Any) -> int:
            descriptor = opened(path, flags, *mode, **more)
            if flags & os.O_CREAT and Path(path).parent == self.folder:
                self.steps.append(("make", Path(path).name))
                self.contents[Path(path).name] = b""
            if Path(path).parent == self.folder or Path(path) == self.folder:
                self._names[descriptor] = Path(path).name if Path(path) != self.folder else ""
            return descriptor

        def write(descriptor: int, content: bytes) -> int:
            length = wrote(descriptor, content)
            name = self._names.get(descriptor)
            if name:
                self.contents[name] += bytes(content)[:length]
                self.steps.append(("write", name))
            return length

        def fsync(descriptor: int) -> None:
            synced(descriptor)
            if descriptor in self._names:
                self.steps.append(("settle", self._names[descriptor]))

        def close(descriptor: int) -> None:
            self._names.pop(descriptor, None)
            closed(descriptor)

        def link(one: Any, other: Any) -> None:
            linked(one, other)
            self.steps.append(("link", Path(one).name, Path(other).name))

        def replace(one: Any, other: Any) -> None:
            replaced(one, other)
            self.steps.append(("rename", Path(one).name, Path(other).name))

        def unlink(path: Any) -> None:
            unlinked(path)
            self.steps.append(("unlink", Path(path).name))

        for name, call in (("open", open_), ("write", write), ("fsync", fsync), ("close", close), ("link", link),
                           ("replace", replace), ("unlink", unlink)):
            patch.setattr(os, name, call)


def states(before: dict[str, bytes], recorded: Recorded, done: int) -> Iterator[dict[str, bytes]]:
    """Every folder that can be found after a power cut when so many steps were done."""
    steps = recorded.steps[:done]
    settled = max((place + 1 for place, step in enumerate(steps) if step == ("settle", "")), default=0)
    loose = [step for step in steps[settled:] if step[0] in ("make", "link", "rename", "unlink")]
    certain = [step for step in steps[:settled] if step[0] in ("make", "link", "rename", "unlink")]
    unsettled = [name for name in recorded.contents
                 if ("make", name) in steps and ("settle", name) not in steps]
    whole = recorded.contents
    for kept in product((True, False), repeat=len(loose)):
        for share in product((0.0, 0.5, 1.0), repeat=len(unsettled)):
            contents = dict(whole)
            for name, part in zip(unsettled, share, strict=True):
                contents[name] = whole[name][:int(len(whole[name]) * part)]
            chosen = [step for step, stays in zip(loose, kept, strict=True) if stays]
            yield _folder(dict(before), contents, [*certain, *chosen])


def _folder(names: dict[str, bytes], contents: dict[str, bytes], steps: list[Step]) -> dict[str, bytes]:
    """The files there are after changes of names; a name whose file was never named itself has the file's content."""
    for step in steps:
        if step[0] == "make":
            names[step[1]] = contents[step[1]]
        elif step[0] == "unlink":
            names.pop(step[1], None)
        else:
            source = names.get(step[1], contents.get(step[1]))
            if source is not None:
                names[step[2]] = source
            if step[0] == "rename":
                names.pop(step[1], None)
    return names


def found_after_cuts(folder: Path, *, before: int, links: bool = True) -> Found:
    """Cut the power after each step of the save that follows `before` saves."""
    store = Store(folder / "kept")
    store.folder.mkdir()
    for number in range(before):
        _save(store, number, OLD)
    recorded, there = Recorded(store.folder), {path.name: path.read_bytes() for path in store.folder.iterdir()}
    with pytest.MonkeyPatch.context() as patch:
        if not links:
            patch.setattr(os, "link", _no_links)
        recorded.watch(patch)
        _save(store, before, NEW)
    found: Found = []
    for done in range(len(recorded.steps) + 1):
        for number, state in enumerate(states(there, recorded, done)):
            place = folder / f"{done}-{number}"
            place.mkdir()
            for name, content in state.items():
                (place / name).write_bytes(content)
            found.append((done == len(recorded.steps), _answers_in(place)))
    return found


def wrong_in(found: Found, before: int) -> Found:
    """Those that hold neither the old answers nor the new, or not the new ones although the save had returned."""
    allowed = (OLD if before else None, NEW)
    return [(returned, answers) for returned, answers in found
            if answers not in allowed or (returned and answers != NEW)]


def _save(store: Store, number: int, answers: dict[str, str]) -> None:
    if number == 0:
        store.create("Cowl", answers)
    else:
        store.save("cowl", "Cowl", answers)


def _no_links(one: object, other: object) -> None:
    raise PermissionError(1, "Operation not permitted")


def _answers_in(folder: Path) -> dict[str, str | list[str]] | None:
    try:
        return Store(folder).load("cowl").answers
    except InputError:
        return None


def main() -> int:
    """First and later saves, on disks with and without second names; status 1 where anything was lost."""
    count = lost = 0
    for saves in range(4):
        for links in (True, False):
            with tempfile.TemporaryDirectory() as temporary:
                found = found_after_cuts(Path(temporary), before=saves, links=links)
                count, lost = count + len(found), lost + len(wrong_in(found, saves))
    print(f"{count} states after a power cut, {count - lost} with the old answers or the new")
    return 1 if lost else 0


if __name__ == "__main__":
    sys.exit(main())
