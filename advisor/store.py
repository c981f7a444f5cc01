"""Saved consultations: one answer file each, in the person's own state folder.

Beside `name.yaml` stands `name.previous`, the version before it; `name.damaged` is a file that could not be read when
the version before it took its place.
"""

from __future__ import annotations

import contextlib
import os
import re
import time
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from functools import cached_property
from itertools import count
from pathlib import Path

from advisor import answer_file, lock, whole_file
from advisor.answer_file import AnswerFile, VersionError
from advisor.errors import InputError, near, quoted
from advisor.places import CHOOSE_ANOTHER, home, names_for

_NAME = re.compile(r"[a-z0-9]+(?:-[a-z0-9]+)*")
_LONGEST_NAME = 80
_LEFTOVER_AFTER_S = 24 * 3600

Answers = Mapping[str, str | Sequence[str]]
_Seen = tuple[int, int, int]


@dataclass(frozen=True)
class Saved:
    """A saved consultation; `fault` says why it cannot be read, if so."""

    name: str
    path: Path
    changed: datetime
    title: str = ""
    answered: int = 0
    fault: str | None = None


class DamagedError(InputError):
    """A saved consultation cannot be read, but the version before it can: `earlier`, saved at `changed`."""

    def __init__(self, fault: InputError, name: str, earlier: AnswerFile, changed: datetime) -> None:
        super().__init__(fault.what, fault.where,
                         f"`advisor ask --resume {name}` goes on with the version before it, if you like")
        self.earlier, self.changed = earlier, changed


class OpenElsewhereError(InputError):
    """Another interview has the consultation open."""

    def __init__(self, path: Path, holder: lock.Holder) -> None:
        super().__init__("this consultation is open in another interview", str(path),
                         "end that one first; or begin a new one with these answers: `advisor ask --from FILE`")
        self.holder = holder


class ChangedElsewhereError(InputError):
    """The file is not as this program left it; it is not overwritten."""

    def __init__(self, path: Path) -> None:
        super().__init__("another program has changed this file meanwhile", str(path), "save under another name")


class Store:
    """The saved consultations of one folder."""

    def __init__(self, folder: Path | None = None) -> None:
        self._chosen = folder
        self._seen: dict[str, _Seen | None] = {}

    @cached_property
    def folder(self) -> Path:
        """The folder where they stand."""
        return self._chosen if self._chosen is not None else home()

    def path(self, name: str) -> Path:
        """Where the consultation of that name is, or would be.

        Raises:
            InputError: when that cannot be the name of one; a path never is.
        """
        if not _NAME.fullmatch(name) or len(name) > _LONGEST_NAME:
            raise InputError(f"{quoted(name)} cannot be the name of a saved consultation",
                             help="names are small letters, digits and hyphens; `advisor saved` lists them")
        return self.folder / f"{name}.yaml"

    def create(self, title: str, answers: Answers, set_aside: Answers | None = None) -> str:
        """Save a new consultation; returns the name it got, which was free.

        Raises:
            InputError: when it cannot be written.
        """
        self._make_folder()
        self._sweep()
        text = answer_file.written(title, answers, set_aside)
        for name in names_for(title):
            path = self.path(name)
            with contextlib.suppress(FileExistsError):
                answer_file.write(path, text, replace=False)
                with contextlib.suppress(OSError):
                    _previous(path).unlink()  # of another consultation, whose file somebody took away
                self._seen[name] = _seen(path)
                return name
        raise AssertionError("the names never end")

    def save(self, name: str, title: str, answers: Answers, set_aside: Answers | None = None) -> None:
        """Save a consultation under its name, in place of what was there, which becomes the previous version.

        Raises:
            ChangedElsewhereError: when that is not what this store read or saved last.
            InputError: when it cannot be written; what was there is then unharmed.
        """
        path = self.path(name)
        self._make_folder()
        there = _seen(path)
        if there is not None and self._seen.get(name, there) != there:
            raise ChangedElsewhereError(path)
        if there is not None:
            with contextlib.suppress(OSError):  # better no previous version than no new one
                whole_file.second_name(path, _previous(path))
        try:
            answer_file.write(path, answer_file.written(title, answers, set_aside))
        finally:
            self._seen[name] = _seen(path)  # a fault can come after the new version has its name

    def load(self, name: str) -> AnswerFile:
        """Read a saved consultation.

        Raises:
            DamagedError: when it cannot be read, but the version before it can.
            InputError: when there is none of that name, or it cannot be read.
        """
        self._require(name)
        path = self.path(name)
        self._seen[name] = _seen(path)
        try:
            return answer_file.read(path)
        except VersionError:
            raise
        except InputError as fault:
            earlier = self._earlier(path)
            if earlier is None:
                raise
            raise DamagedError(fault, name, earlier, _changed(_previous(path))) from fault

    def restore(self, name: str) -> Path:
        """Put the previous version in the place of a damaged one; returns where the damaged one is kept.

        Raises:
            InputError: when that cannot be done; everything is then as it was.
        """
        path = self.path(name)
        aside = next(place for place in _places_aside(path) if not os.path.lexists(place))
        try:
            whole_file.second_name(path, aside)
            whole_file.write(path, _previous(path).read_bytes())
        except OSError as error:
            raise InputError(f"cannot be written: {error.strerror or error}", str(path), CHOOSE_ANOTHER) from error
        self._seen[name] = _seen(path)
        return aside

    def hold(self, name: str) -> lock.Lock | None:
        """Keep other interviews from the consultation until the lock is released; None where that is not possible.

        Raises:
            OpenElsewhereError: when another interview has it.
        """
        path = self.path(name)
        try:
            return lock.take(path.with_name(f".{name}.lock"))
        except lock.TakenError as taken:
            raise OpenElsewhereError(path, taken.holder) from taken

    def delete(self, name: str) -> None:
        """Delete a saved consultation and every version of it that is kept.

        Raises:
            InputError: when there is none of that name, an interview has it open, or it cannot be deleted.
        """
        self._require(name)
        path = self.path(name)
        held = self.hold(name)
        try:
            for version in (_previous(path), *self.folder.glob(f"{name}.damaged*"), path):
                version.unlink(missing_ok=True)
        except OSError as error:
            raise InputError(f"cannot be deleted: {error.strerror}", str(path),
                             "see that you may write to its folder") from error
        finally:
            if held is not None:
                held.release()

    def names(self) -> list[str]:
        """The names of the saved consultations.

        Raises:
            InputError: when the folder is there and cannot be read.
        """
        try:
            return sorted(path.stem for path in self.folder.iterdir()
                          if path.suffix == ".yaml" and _NAME.fullmatch(path.stem) and path.is_file())
        except FileNotFoundError:
            return []
        except OSError as error:
            raise InputError(f"cannot be read: {error.strerror}", str(self.folder), CHOOSE_ANOTHER) from error

    def saved(self) -> list[Saved]:
        """The saved consultations, the last changed first; a damaged one says so and stays."""
        found = [self._described(name) for name in self.names()]
        return sorted(found, key=lambda entry: entry.changed, reverse=True)

    def newest(self) -> str | None:
        """The name of the readable consultation that was changed last."""
        return next((entry.name for entry in self.saved() if entry.fault is None), None)

    def _described(self, name: str) -> Saved:
        path = self.path(name)
        try:
            content = self.load(name)
        except InputError as error:
            return Saved(name, path, _changed(path), fault=str(error))
        return Saved(name, path, _changed(path), content.title, len(content.answers))

    def _earlier(self, path: Path) -> AnswerFile | None:
        try:
            return answer_file.read(_previous(path))
        except InputError:
            return None

    def _require(self, name: str) -> None:
        if not self.path(name).is_file():
            guess = near(name, self.names())
            raise InputError(f"there is no saved consultation {quoted(name)}",
                             help=f"did you mean `{guess}`?" if guess else "`advisor saved` lists them")

    def _make_folder(self) -> None:
        try:
            whole_file.make_folder(self.folder)
        except OSError as error:
            raise InputError(f"answers cannot be kept here: {error.strerror}", str(self.folder),
                             CHOOSE_ANOTHER) from error

    def _sweep(self) -> None:
        """Remove what a saving left behind that was cut short long ago; answers are private."""
        for leftover in self.folder.glob(".*.tmp"):
            with contextlib.suppress(OSError):
                if time.time() - leftover.stat().st_mtime > _LEFTOVER_AFTER_S:
                    leftover.unlink()



def _previous(path: Path) -> Path:
    return path.with_suffix(".previous")


def _places_aside(path: Path) -> Iterator[Path]:
    yield path.with_suffix(".damaged")
    yield from (path.with_suffix(f".damaged-{number}") for number in count(2))


def _changed(path: Path) -> datetime:
    try:
        return datetime.fromtimestamp(path.stat().st_mtime).astimezone()
    except FileNotFoundError:  # deleted a moment ago
        return datetime.now().astimezone()


def _seen(path: Path) -> _Seen | None:
    """What tells one version of a file from another; None where there is none."""
    try:
        found = path.stat()
    except OSError:
        return None
    return found.st_ino, found.st_mtime_ns, found.st_size
