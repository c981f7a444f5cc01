"""A back-end without a person: typed lines from a list or a function, what is shown kept as text."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator

from advisor.interview.asker import Line, Paragraph, wrapped


class ScriptedAsker:
    """Answers each line to read with the next of `typed`; at the end of it leaves, as Ctrl-D does."""

    def __init__(self, typed: Iterable[str] | Callable[[Line], str], width: int = 79) -> None:
        self._typed = typed if callable(typed) else _next_of(typed)
        self._width = width
        self.lines: list[str] = []

    @property
    def text(self) -> str:
        """Everything shown so far, and what was typed."""
        return "\n".join(self.lines)

    def show(self, paragraph: Paragraph) -> None:
        """Keep the lines of a paragraph."""
        self.lines += wrapped(paragraph, self._width)

    def meanwhile(self, work: Iterator[None]) -> None:
        """Do all of it at once: there is nobody to wait for."""
        for _ in work:
            pass

    def read(self, line: Line) -> str:
        """The next line of the script.

        Raises:
            EOFError: when there is none.
        """
        typed = self._typed(line)
        self.lines.append(f"{line.prompt}{typed}")
        return typed


def _next_of(typed: Iterable[str]) -> Callable[[Line], str]:
    waiting = iter(typed)

    def answer(line: Line) -> str:
        try:
            return next(waiting)
        except StopIteration:
            raise EOFError from None
    return answer
