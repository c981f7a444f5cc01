"""The plain back-end: append-only lines, no keys beyond Enter; for simple terminals and screen readers."""

from __future__ import annotations

import shutil
import sys
from collections.abc import Iterator
from typing import TextIO

from advisor.interview.asker import Line, Paragraph, wrapped
from advisor.signs import spelled

_NOT_TEXT = "\N{REPLACEMENT CHARACTER}"


class PlainAsker:
    """Reads whole lines from a stream and writes to another, by default standard input and standard error."""

    def __init__(self, source: TextIO | None = None, target: TextIO | None = None,
                 width: int | None = None) -> None:
        self._source, self._target = source or sys.stdin, target or sys.stderr
        self._width = width

    def show(self, paragraph: Paragraph) -> None:
        """Write a paragraph, wrapped to the terminal."""
        # One column is left free: some terminals break the line once more when the last one is used.
        width = self._width or shutil.get_terminal_size().columns - 1
        self._write("".join(f"{line}\n" for line in wrapped(paragraph, width)))

    def meanwhile(self, work: Iterator[None]) -> None:
        """Nothing: reading a line holds everything up, and what was not prepared is made when it is needed."""

    def read(self, line: Line) -> str:
        """Read one line.

        Raises:
            EOFError: at the end of the input.
        """
        self._write(line.prompt)
        try:
            typed = self._source.readline()
        except UnicodeDecodeError:
            return _NOT_TEXT
        if not typed:
            raise EOFError
        return typed.rstrip("\r\n")

    def _write(self, text: str) -> None:
        """Write what the stream can encode; a sign it lacks is spelled rather than an end to the interview."""
        self._target.write(spelled(text, getattr(self._target, "encoding", None)))
        self._target.flush()
