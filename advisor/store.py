"""Saved consultations: one answer file each, in the person's own state folder."""

from __future__ import annotations

import contextlib
import os
import re
import time
import unicodedata
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from itertools import count
from pathlib import Path

from advisor import answer_file
from advisor.answer_file import AnswerFile
from advisor.errors import AdvisorError, InputError, near, quoted

HOME_VARIABLE = "ADVISOR_HOME"
LONGEST_SLUG = 40
_NAME = re.compile(r"[a-z0-9]+(?:-[a-z0-9]+)*")
_LONGEST_NAME = 80
_LEFTOVER_AFTER_S = 24 * 3600
# Names that some systems keep for devices.
_DEVICES = frozenset({"con", "prn", "aux", "nul", *(f"{port}{n}" for port in ("com", "lpt") for n in range(10))})

Answers = Mapping[str, str | Sequence[str]]


@dataclass(frozen=True)
class Saved:
    """A saved consultation; `fault` says why it cannot be read, if so."""

    name: str
    path: Path
    changed: datetime
    title: str = ""
    answered: int = 0
    fault: str | None = None


def home() -> Path:
    """The folder for saved consultations: below ADVISOR_HOME, else where the system keeps such things."""
    chosen = os.environ.get(HOME_VARIABLE)
    if chosen:
        return Path(chosen).expanduser() / "consultations"
    from platformdirs import user_state_path  # only needed here, and slow to import
    return user_state_path("advisor", appauthor=False) / "consultations"


def slug(title: str) -> str:
    """A title as the name of a file: small letters, digits and hyphens."""
    plain = unicodedata.normalize("NFKD", title).encode("ascii", "ignore").decode().casefold()
    name = "-".join(re.findall(r"[a-z0-9]+", plain.replace("'", "")))
    if len(name) > LONGEST_SLUG:
        name = name[:LONGEST_SLUG + 1].rpartition("-")[0] or name[:LONGEST_SLUG]
    if name in _DEVICES or not name:
        return f"job-{name}".rstrip("-")
    return name


class Store:
    """The saved consultations of one folder."""

    def __init__(self, folder: Path | None = None) -> None:
        self.folder = folder if folder is not None else home()

    def path(self, name: str) -> Path:
        """Where the consultation of that name is, or would be.

        Raises:
            InputError: when that cannot be the name of one; a path never is.
        """
        if not _NAME.fullmatch(name) or len(name) > _LONGEST_NAME:
            raise InputError(f"{quoted(name)} cannot be the name of a saved consultation",
                             help="names are small letters, digits and hyphens; `advisor saved` lists them")
        return self.folder / f"{name}.yaml"

    def create(self, title: str, answers: Answers) -> str:
        """Save a new consultation; returns the name it got, which was free.

        Raises:
            InputError: when it cannot be written.
        """
        self._make_folder()
        self._sweep()
        name = next(name for name in _names(title) if self._reserve(name))
        try:
            self.save(name, title, answers)
        except AdvisorError:
            self.path(name).unlink(missing_ok=True)
            raise
        return name

    def save(self, name: str, title: str, answers: Answers) -> None:
        """Save a consultation under its name, in place of what was there.

        Raises:
            InputError: when it cannot be written; what was there is then unharmed.
        """
        path = self.path(name)
        self._make_folder()
        answer_file.write(path, title, answers)

    def load(self, name: str) -> AnswerFile:
        """Read a saved consultation.

        Raises:
            InputError: when there is none of that name, or its file is damaged.
        """
        self._require(name)
        return answer_file.read(self.path(name))

    def delete(self, name: str) -> None:
        """Delete a saved consultation.

        Raises:
            InputError: when there is none of that name, or it cannot be deleted.
        """
        self._require(name)
        try:
            self.path(name).unlink()
        except OSError as error:
            raise InputError(f"cannot be deleted: {error.strerror}", str(self.path(name))) from error

    def names(self) -> list[str]:
        """The names of the saved consultations."""
        return sorted(path.stem for path in self.folder.glob("*.yaml")
                      if _NAME.fullmatch(path.stem) and path.is_file())

    def saved(self) -> list[Saved]:
        """The saved consultations, the last changed first; a damaged one says so and stays."""
        return sorted(map(self._described, self.names()), key=lambda entry: entry.changed, reverse=True)

    def newest(self) -> str | None:
        """The name of the readable consultation that was changed last."""
        return next((entry.name for entry in self.saved() if entry.fault is None), None)

    def _described(self, name: str) -> Saved:
        path = self.path(name)
        changed = datetime.fromtimestamp(path.stat().st_mtime).astimezone()
        try:
            content = answer_file.read(path)
        except InputError as error:
            return Saved(name, path, changed, fault=str(error))
        return Saved(name, path, changed, content.title, len(content.answers))

    def _require(self, name: str) -> None:
        if not self.path(name).is_file():
            guess = near(name, self.names())
            raise InputError(f"there is no saved consultation {quoted(name)}",
                             help=f"did you mean `{guess}`?" if guess else "`advisor saved` lists them")

    def _make_folder(self) -> None:
        try:
            self.folder.parent.mkdir(parents=True, exist_ok=True)
            self.folder.mkdir(mode=0o700, exist_ok=True)
        except OSError as error:
            raise self._no_folder(error) from error

    def _sweep(self) -> None:
        """Remove what a saving left behind that was cut short long ago; answers are private."""
        for leftover in self.folder.glob(".*.tmp"):
            with contextlib.suppress(OSError):
                if time.time() - leftover.stat().st_mtime > _LEFTOVER_AFTER_S:
                    leftover.unlink()

    def _reserve(self, name: str) -> bool:
        """Take the name if it is free, also when another interview wants it at the same moment."""
        try:
            os.close(os.open(self.path(name), os.O_CREAT | os.O_EXCL | os.O_WRONLY, 0o600))
        except FileExistsError:
            return False
        except OSError as error:
            raise self._no_folder(error) from error
        return True

    def _no_folder(self, error: OSError) -> InputError:
        return InputError(f"answers cannot be kept here: {error.strerror}", str(self.folder),
                          f"set {HOME_VARIABLE} to a folder that can be written to")


def _names(title: str) -> Iterator[str]:
    """Names for a title, the plainest first: the title, with the date, with date and number."""
    yield slug(title)
    dated = f"{slug(title)}-{date.today().isoformat()}"
    yield dated
    yield from (f"{dated}-{number}" for number in count(2))
