"""An interview that waits at each line until a test types it, so that a test may look around between two lines."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from queue import SimpleQueue
from threading import Thread

from advisor.interview.asker import Line, Paragraph
from advisor.interview.session import Outcome

PATIENCE_S = 120.0
Typed = str | type[BaseException]


class HeldInterview:
    """Runs `hold` beside the test, never at the same time as it: one of the two always waits for the other.

    `line` is what is being asked (None once the interview has ended), `shown` what was shown since the last line typed.
    """

    def __init__(self, hold: Callable[[HeldInterview], Outcome]) -> None:
        self._hold = hold
        self._typed: SimpleQueue[Typed] = SimpleQueue()
        self._came: SimpleQueue[Line | None] = SimpleQueue()
        self._fault: BaseException | None = None
        self.line: Line | None = None
        self.shown: list[Paragraph] = []
        self.outcome: Outcome | None = None
        self._thread = Thread(target=self._run, daemon=True)
        self._thread.start()
        self._wait()

    def type(self, text: Typed) -> None:
        """Type a line, or leave as by Ctrl-C (KeyboardInterrupt) or Ctrl-D (EOFError); returns at the next line."""
        self.shown = []
        self._typed.put(text)
        self._wait()

    def end(self) -> None:
        """Leave, however often that takes."""
        while self.line is not None:
            self.type(KeyboardInterrupt)
        self._thread.join(PATIENCE_S)

    # -- the asker's side

    def show(self, paragraph: Paragraph) -> None:
        """Keep what is shown."""
        self.shown.append(paragraph)

    def meanwhile(self, work: Iterator[None]) -> None:
        """Nothing: the test waits."""

    def read(self, line: Line) -> str:
        """Wait for the test to type."""
        self._came.put(line)
        typed = self._typed.get(timeout=PATIENCE_S)
        if isinstance(typed, str):
            return typed
        raise typed

    def _run(self) -> None:
        try:
            self.outcome = self._hold(self)
        except BaseException as fault:  # handed to the test, which raises it
            self._fault = fault
        self._came.put(None)

    def _wait(self) -> None:
        self.line = self._came.get(timeout=PATIENCE_S)
        if self._fault is not None:
            raise self._fault
