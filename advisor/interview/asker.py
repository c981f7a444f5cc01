"""What the interview needs of a terminal: to show paragraphs and to read one line."""

from __future__ import annotations

import textwrap
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from typing import Protocol

from advisor.errors import clean_text

NARROWEST = 20
LONGEST_TEXT = 4000


@dataclass(frozen=True)
class Paragraph:
    """A text to show: set in by `indent`, its lead (such as a number) hanging before it; `strong` stands out."""

    text: str
    indent: int = 0
    lead: str = ""
    strong: bool = False


BLANK = Paragraph("")


def _nothing(typed: str) -> str:
    return ""


@dataclass(frozen=True)
class Line:
    """A line to read: the choices it may name, and what a text typed so far would be taken as."""

    prompt: str
    choices: Sequence[str] = ()
    words: Sequence[str] = ()
    several: bool = False
    taken_as: Callable[[str], str] = _nothing


class Asker(Protocol):
    """A terminal, or what stands in for one."""

    def show(self, paragraph: Paragraph) -> None:
        """Show a paragraph, wrapped to the width there is."""

    def meanwhile(self, work: Iterator[None]) -> None:
        """Work that may be done bit by bit while a person reads and types, where the terminal allows that."""

    def read(self, line: Line) -> str:
        """Read one line.

        Raises:
            KeyboardInterrupt, EOFError: when the person leaves.
        """


def wrapped(paragraph: Paragraph, width: int) -> list[str]:
    """The lines of a paragraph, none wider than `width`; whatever is not printable is written out."""
    text = clean_text(" ".join(paragraph.text.split()), LONGEST_TEXT)
    first = " " * paragraph.indent + paragraph.lead
    room = max(width, NARROWEST)
    # On a very narrow terminal a deep indent would leave one word a line.
    later = " " * min(len(first), room // 3)
    lines = textwrap.wrap(text, room, initial_indent=first, subsequent_indent=later, break_on_hyphens=False)
    return lines or [first.rstrip()]
