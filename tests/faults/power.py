"""A disk as a power cut leaves it: what was not settled may be lost, whatever the order in which it was done.

`Recorded` watches the calls by which a file is saved. `states` then gives every folder that could be found after a
power cut at one moment: a file that was not settled holds all, some or nothing of what was written; of the names that
were changed after the folder was last settled, any may have been kept and any lost.
"""

from __future__ import annotations

import os
from collections.abc import Iterator
from dataclasses import dataclass, field
from itertools import product
from pathlib import Path
from typing import Any

import pytest

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
