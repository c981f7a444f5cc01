"""Records of a job, as the job sheet saves them: what was done, and what a later consultation need not ask again."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Annotated, Any, Literal

from pydantic import BaseModel, ConfigDict, Field, StringConstraints, ValidationError

from advisor.answer_file import MOST_ANSWERS, AnswerFile
from advisor.consultation.consult import LONGEST_TITLE
from advisor.errors import InputError, clean_text, quoted
from advisor.knowledge.plain_file import content_of

FORMAT = 1
LARGEST = 1_000_000
_MOST_ENTRIES = 500
_WHAT_IT_IS = "a record is the JSON file that the job sheet saves; an answer file is read by --from"

Name = Annotated[str, StringConstraints(pattern=r"^[a-z][a-z0-9_]{0,80}$")]
Short = Annotated[str, StringConstraints(max_length=200)]
Long = Annotated[str, StringConstraints(max_length=4000)]
Unit = Annotated[str, StringConstraints(max_length=20)]


class _Entry(BaseModel):
    model_config = ConfigDict(frozen=True, extra="forbid", strict=True)


class ReadingTaken(_Entry):
    """A reading: `question` is what it answers later, if anything; `unit` is meant where none is typed."""

    name: Long
    question: Name | Literal[""] = ""
    unit: Unit = ""
    value: Short
    at: Short = ""


class BatchMixed(_Entry):
    """A batch as it was mixed."""

    batch: int = Field(ge=1, le=10_000)
    done: Short = ""
    mixed_at: Short = ""
    temperature: Short = ""
    mass: Short = ""


class StepDone(_Entry):
    """A step: when it was ticked and its hold point passed, what came out, and a note."""

    step: int = Field(ge=1, le=10_000)
    done: Short = ""
    hold_passed: Short = ""
    result: Literal["", "right", "not right", "not done"] = ""
    note: Short = ""


class MakerNumber(_Entry):
    """A number read on the maker's sheet."""

    text: Long
    value: Short


class JobRecord(_Entry):
    """The whole record; `recall` are the answers that the rules take from the job for a later look at it."""

    advisor_record: Literal[1]
    title: Annotated[str, StringConstraints(max_length=LONGEST_TITLE)] = ""
    rules: Short = ""
    saved: Short = ""
    who: Short = ""
    answers: dict[Name, Long | Annotated[list[Long], Field(max_length=100)]] = Field(default_factory=dict,
                                                                                  max_length=MOST_ANSWERS)
    recall: dict[Name, Long] = Field(default_factory=dict, max_length=MOST_ANSWERS)
    readings: Annotated[list[ReadingTaken], Field(max_length=_MOST_ENTRIES)] = Field(default_factory=list)
    batches: Annotated[list[BatchMixed], Field(max_length=_MOST_ENTRIES)] = Field(default_factory=list)
    steps: Annotated[list[StepDone], Field(max_length=_MOST_ENTRIES)] = Field(default_factory=list)
    maker: Annotated[list[MakerNumber], Field(max_length=_MOST_ENTRIES)] = Field(default_factory=list)
    notes: Long = ""


def read(path: Path | str) -> JobRecord:
    """Read a record.

    Raises:
        InputError: when the file cannot be read or is not a record of this version; it names the place.
    """
    return parse(content_of(path, str(path), LARGEST), str(path))


def parse(content: bytes, shown: str) -> JobRecord:
    """Read the content of a record; `shown` names it in messages.

    Raises:
        InputError: as `read`.
    """
    try:
        data = json.loads(content.decode("utf-8-sig"), object_pairs_hook=_once)
    except (ValueError, RecursionError) as error:  # not UTF-8, not JSON, a number too long to read, or too deep
        line = getattr(error, "lineno", 1)
        raise InputError("this is not a record of a job", f"{shown}:{line}", _WHAT_IT_IS) from error
    return _checked(data, shown)


def _once(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    """Of a name given twice one reader takes the first and another the last, so it is refused."""
    whole = dict(pairs)
    if len(whole) != len(pairs):
        raise ValueError("a name is given twice")
    return whole


def _checked(data: Any, shown: str) -> JobRecord:
    if not isinstance(data, dict) or "advisor_record" not in data:
        raise InputError("this is not a record of a job", shown, _WHAT_IT_IS)
    version = data["advisor_record"]
    if type(version) is not int or version != FORMAT:
        told = quoted(str(version)) if isinstance(version, int | float | str) else "unknown"
        raise InputError(f"this record is of version {told}, and only version {FORMAT} can be read", shown,
                         "a later program wrote it; a wrong reading could mislead")
    try:
        return JobRecord.model_validate(data)
    except ValidationError as error:
        first = error.errors()[0]
        place = ".".join(map(str, first["loc"]))
        raise InputError(f"the record has a mistake at {quoted(place)}: {clean_text(first['msg'], 200).lower()}", shown,
                         "save it anew from the job sheet rather than changing it by hand") from error


def answers_of(record: JobRecord, shown: str) -> AnswerFile:
    """What the record answers for a later look at the job.

    The job's own answers, over them what the rules recall of it, over those what was read off at the bench.
    """
    read_off = {reading.question: _with_unit(reading) for reading in record.readings if reading.question}
    answers: dict[str, str | list[str]] = {**record.answers, **record.recall, **read_off}
    title = clean_text(" ".join(record.title.split()), LONGEST_TITLE)
    return AnswerFile(title, answers, dict.fromkeys(answers, shown))


def _with_unit(reading: ReadingTaken) -> str:
    """The reading as typed; a bare number is in the unit that the sheet printed beside it."""
    value = reading.value.strip().replace(",", ".")
    bare = value.lstrip("+-").replace(".", "", 1).isdecimal()
    return f"{value} {reading.unit}" if bare and reading.unit else value


def told(record: JobRecord) -> list[str]:
    """The record in a few lines, for the beginning of an interview."""
    lines = [f"{reading.name}: {reading.value}" + (f" at {reading.at}" if reading.at else "")
             for reading in record.readings]
    lines += [f"Step {step.step}: {', '.join(filter(None, (step.result, step.note)))}" for step in record.steps
              if step.result == "not right" or step.note]
    if record.batches:
        lines.append(f"Batches on record: {len(record.batches)}")
    if record.notes:
        lines.append(f"Notes: {record.notes}")
    return lines
