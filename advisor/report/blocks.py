"""What a report is made of: sections of text, items and tables, with no thought of paper or terminal."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Literal

Tone = Literal["plain", "strong", "alarm"]


@dataclass(frozen=True)
class Line:
    """A paragraph, with a label before it where it has one."""

    text: str
    label: str | None = None
    tone: Tone = "plain"


@dataclass(frozen=True)
class Item:
    """One entry of a list: a bullet, or a number where it has one.

    `tail` goes on in the paragraph of the head, `below` stands under it.
    """

    head: Line
    below: tuple[Line, ...] = ()
    number: int | None = None
    tail: tuple[Line, ...] = ()


@dataclass(frozen=True)
class Table:
    """Rows of cells under headings; every row has one cell for each heading."""

    headings: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]


@dataclass(frozen=True)
class Group:
    """A heading inside a section."""

    title: str


Block = Line | Item | Table | Group


@dataclass(frozen=True)
class Section:
    """A heading and what stands under it; an `alarm` section is set apart from everything else."""

    id: str
    heading: str
    blocks: tuple[Block, ...]
    tone: Tone = "plain"


def section(id_: str, heading: str, blocks: Iterable[Block], tone: Tone = "plain") -> Iterator[Section]:
    """The section, unless there is nothing to say in it."""
    filled = tuple(blocks)
    if filled:
        yield Section(id_, heading, filled, tone)


def texts_of(sections: Iterable[Section]) -> Iterator[str]:
    """Every text a reader of the sections sees, in order."""
    for one in sections:
        yield one.heading
        for block in one.blocks:
            yield from _texts(block)


def _texts(block: Block) -> Iterator[str]:
    if isinstance(block, Group):
        yield block.title
    elif isinstance(block, Table):
        yield from block.headings
        for row in block.rows:
            yield from row
    else:
        for line in (block,) if isinstance(block, Line) else (block.head, *block.tail, *block.below):
            yield from filter(None, (line.label, line.text))
