"""How far long work has come, on standard error."""

from __future__ import annotations

import sys
from types import TracebackType

from rich.console import Console
from rich.progress import BarColumn, MofNCompleteColumn, Progress, TaskID, TextColumn, TimeElapsedColumn


class Bar:
    """Live progress on a terminal; elsewhere nothing, or with `lines` a line for every tenth that is done."""

    def __init__(self, *, lines: bool) -> None:
        self._live = sys.stderr.isatty()
        self._lines = lines
        self._progress = Progress(TextColumn("{task.description}"), BarColumn(), MofNCompleteColumn(),
                                  TimeElapsedColumn(), console=Console(stderr=True), redirect_stdout=False)
        self._tasks: dict[str, TaskID] = {}
        self._told: dict[str, int] = {}

    def __enter__(self) -> Bar:
        if self._live:
            self._progress.start()
        return self

    def __exit__(self, kind: type[BaseException] | None, error: BaseException | None,
                 trace: TracebackType | None) -> None:
        if self._live:
            self._progress.stop()

    def show(self, what: str, done: int, of: int) -> None:
        """So many of so many are done."""
        if self._live:
            if what not in self._tasks:
                self._tasks[what] = self._progress.add_task(what, total=of)
            self._progress.update(self._tasks[what], completed=done)
        elif self._lines and (done == of or 10 * done // max(of, 1) > self._told.get(what, 0)):
            self._told[what] = 10 * done // max(of, 1)
            print(f"advisor: {what} {done} of {of}", file=sys.stderr, flush=True)
