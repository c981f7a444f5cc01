"""Answer files to advice, one after another; a bad file does not stop the rest."""

from __future__ import annotations

import os
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path

from advisor import answer_file
from advisor.consultation.advice import Advice
from advisor.consultation.consult import UNTITLED, Advisor
from advisor.consultation.texts import System
from advisor.errors import AdvisorError, InputError

ADVISED, BAD_INPUT, STOP_OR_REFER = 0, 1, 3
ENDINGS = (".yaml", ".yml")
_STATUS = {"advice": ADVISED, "close_call": ADVISED, "incomplete": BAD_INPUT, "stop": STOP_OR_REFER,
           "refer": STOP_OR_REFER}
_ENDED = ("stop", "refer", "incomplete")


@dataclass(frozen=True)
class Outcome:
    """What came of one file: advice, or the error that says what is wrong with it."""

    path: Path
    advice: Advice | None
    error: AdvisorError | None
    unused: tuple[str, ...] = ()

    @property
    def exit_status(self) -> int:
        """The exit status this file alone would give."""
        return BAD_INPUT if self.advice is None else exit_status_of(self.advice)


def answer_files(names: Iterable[str]) -> list[Path]:
    """The files named; in the place of a folder the answer files right in it, by name.

    Raises:
        InputError: a folder that cannot be looked into, or without any answer file.
    """
    return [path for name in names for path in (_in_folder(Path(name)) if Path(name).is_dir() else [Path(name)])]


def _in_folder(folder: Path) -> list[Path]:
    try:
        found = sorted(name for name in os.listdir(folder)
                       if name.lower().endswith(ENDINGS) and not name.startswith("."))
    except OSError as error:
        raise InputError(f"this folder cannot be read: {error.strerror or error}", str(folder),
                         "see that you may look into it, or name the files") from error
    if not found:
        raise InputError("there is no answer file in this folder", str(folder),
                         f"their names end in {' or '.join(ENDINGS)}; folders within it are not looked into")
    return [folder / name for name in found]


def advise_file(advisor: Advisor, path: Path, units: System | None = None) -> Outcome:
    """Advice for one answer file."""
    try:
        file = answer_file.read(path)
        consultation = advisor.consult(file.answers, file.title or UNTITLED, units, file.places)
        advice = consultation.advice().model_copy(update={"file": printable(path)})
        unused = () if advice.status in _ENDED else tuple(consultation.unused_answers())
    except AdvisorError as error:
        return Outcome(path, None, error)
    return Outcome(path, advice, missing_in(advice, path), unused)


def missing_in(advice: Advice, path: Path) -> InputError | None:
    """What is said to somebody whose answers do not suffice for advice; None when they do."""
    if advice.status != "incomplete":
        return None
    names = ", ".join(f"`{line.question}`" for line in advice.missing)
    return InputError(f"these answers are missing: {names}", str(path),
                      "add them to `answers:`; nothing safe can be said without them")


def printable(path: Path) -> str:
    """The path as text; names that are no text are written out, since JSON cannot hold them."""
    return str(path).encode("utf-8", "backslashreplace").decode("utf-8")


def exit_status_of(advice: Advice) -> int:
    """The exit status of one advice."""
    return _STATUS[advice.status]


def exit_status(statuses: Iterable[int]) -> int:
    """One status for all: bad input outweighs a stop, a stop outweighs advice."""
    found = set(statuses)
    return next((status for status in (BAD_INPUT, STOP_OR_REFER) if status in found), ADVISED)
