"""What a job sheet is made of, with no thought of page or Markdown: parts, each with its blocks."""

from __future__ import annotations

from dataclasses import dataclass

from advisor.consultation.advice import Batch, Minutes, WorkingTimeLine
from advisor.drawings import Drawing
from advisor.report.blocks import Block


@dataclass(frozen=True)
class Signal:
    """A caution under its signal word."""

    signal: str
    text: str
    because: str | None = None
    strong: bool = False


@dataclass(frozen=True)
class Figure:
    """A drawing to scale."""

    drawing: Drawing


@dataclass(frozen=True)
class Reading:
    """Something to read off and write down; `answers` is the question a later consultation has about it."""

    id: str
    name: str
    unit: str | None
    go_when: str
    answers: str | None = None


@dataclass(frozen=True)
class Thing:
    """Something to have at hand, with a box to tick: what, how much, and what to know of it."""

    id: str
    what: str
    how_much: str | None = None
    note: str | None = None


@dataclass(frozen=True)
class Step:
    """One step of the work and everything that belongs to it."""

    id: str
    number: int
    text: str
    duration: str | None
    right_when: str | None
    if_not: str | None
    hold: str | None
    wait: Minutes | None
    because: str
    source: str
    judged: bool = False


@dataclass(frozen=True)
class Mixing:
    """The mixing table: one row a batch, with its clock."""

    headings: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    batches: tuple[Batch, ...]
    amounts: tuple[tuple[str, str], ...]
    note: str


@dataclass(frozen=True)
class WorkingTime:
    """A working time with its slider; `clock` where no batch has a clock of its own."""

    id: str
    line: WorkingTimeLine
    clock: bool


@dataclass(frozen=True)
class ToConfirm:
    """A number to read on the maker's sheet, with a blank; `number` says which one of the product it is `about`."""

    id: str
    text: str
    used: str | None
    about: str = ""
    number: str = ""


@dataclass(frozen=True)
class Margin:
    """One row of the margins: cells as printed, what it comes to, formula, numbers and source."""

    cells: tuple[str, ...]
    verdict: str
    formula: str
    source: str


@dataclass(frozen=True)
class Margins:
    """All margins under their headings."""

    headings: tuple[str, ...]
    rows: tuple[Margin, ...]


@dataclass(frozen=True)
class Record:
    """Room for what was done that has no place beside a step."""

    readings: tuple[Reading, ...]


SheetBlock = Block | Figure | Signal | Reading | Thing | Step | Mixing | WorkingTime | ToConfirm | Margins | Record


@dataclass(frozen=True)
class Part:
    """A heading and what stands under it; `folded` parts are looked up rather than worked through."""

    id: str
    heading: str
    blocks: tuple[SheetBlock, ...]
    alarm: bool = False
    folded: bool = False
    on_paper: bool = True


@dataclass(frozen=True)
class Sheet:
    """The whole sheet."""

    title: str
    verdict: str
    status: str
    today: str | None
    stamp: str
    parts: tuple[Part, ...]
