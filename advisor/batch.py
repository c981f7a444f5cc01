"""Answer files to advice, one after another; a bad file does not stop the rest."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path

from advisor import answer_file
from advisor.consultation.advice import Advice
from advisor.consultation.consult import UNTITLED, Advisor
from advisor.consultation.texts import System
from advisor.errors import AdvisorError, InputError

ADVISED, BAD_INPUT, STOP_OR_REFER = 0, 1, 3
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


def advise_file(advisor: Advisor, path: Path, units: System | None = None) -> Outcome:
    """Advice for one answer file."""
    try:
        file = answer_file.read(path)
        consultation = advisor.consult(file.answers, file.title or UNTITLED, units, file.places)
        advice = consultation.advice()
        unused = () if advice.status in _ENDED else tuple(consultation.unused_answers())
    except AdvisorError as error:
        return Outcome(path, None, error)
    if advice.status == "incomplete":
        names = ", ".join(f"`{line.question}`" for line in advice.missing)
        return Outcome(path, advice, InputError(f"these answers are missing: {names}", str(path),
                                                "add them to `answers:`; nothing safe can be said without them"))
    return Outcome(path, advice, None, unused)


def advise_files(advisor: Advisor, paths: Iterable[Path], units: System | None = None) -> Iterator[Outcome]:
    """Advice for each file, in the order given."""
    for path in paths:
        yield advise_file(advisor, path, units)


def exit_status_of(advice: Advice) -> int:
    """The exit status of one advice."""
    return _STATUS[advice.status]


def exit_status(outcomes: Iterable[Outcome]) -> int:
    """One status for all: bad input outweighs a stop, a stop outweighs advice."""
    statuses = {outcome.exit_status for outcome in outcomes}
    return next((status for status in (BAD_INPUT, STOP_OR_REFER) if status in statuses), ADVISED)
