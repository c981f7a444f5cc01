"""`advisor audit`: test the rule base like a program."""

from __future__ import annotations

import argparse
import sys
from types import TracebackType

from rich.console import Console
from rich.progress import BarColumn, MofNCompleteColumn, Progress, TaskID, TextColumn, TimeElapsedColumn
from rich.table import Table

from advisor.audit import present
from advisor.audit.run import Report, Wish, audit
from advisor.commands.page import Page


def run(options: argparse.Namespace) -> int:
    """Audit the rules; 0 when they are clean, 1 when anything is wrong."""
    wish = Wish(rules=options.rules, scenarios=options.scenarios, cases=options.cases, seed=options.seed,
                processes=options.processes, mutate=options.mutate)
    with _Bar() as bar:
        report = audit(wish, bar.show)
    _print(report, options.firing)
    return 1 if report.faults else 0


def _print(report: Report, firing: bool) -> None:
    page = Page()
    for line in present.summary(report):
        page.print(line)
    table = Table("Coverage", "reached")
    for row in present.coverage(report):
        table.add_row(*row)
    page.print(table)
    lines = [*present.remarks(report), *present.mutation(report), *(present.firing(report) if firing else ()),
             *present.faults(report)]
    for line in lines:
        page.print(line, soft_wrap=True)
    count = len(report.faults)
    page.print(f"{count} fault{'' if count == 1 else 's'} found" if count else "clean: no faults found")


class _Bar:
    """Live progress on standard error; lines now and then where that is no terminal."""

    def __init__(self) -> None:
        self._progress = Progress(TextColumn("{task.description}"), BarColumn(), MofNCompleteColumn(),
                                  TimeElapsedColumn(), console=Console(stderr=True))
        self._tasks: dict[str, TaskID] = {}
        self._told: dict[str, int] = {}

    def __enter__(self) -> _Bar:
        if sys.stderr.isatty():
            self._progress.start()
        return self

    def __exit__(self, kind: type[BaseException] | None, error: BaseException | None,
                 trace: TracebackType | None) -> None:
        self._progress.stop()

    def show(self, what: str, done: int, of: int) -> None:
        """So many of so many are done."""
        if sys.stderr.isatty():
            if what not in self._tasks:
                self._tasks[what] = self._progress.add_task(what, total=of)
            self._progress.update(self._tasks[what], completed=done)
        elif done == of or 10 * done // max(of, 1) > self._told.get(what, 0):
            self._told[what] = 10 * done // max(of, 1)
            print(f"advisor: {what} {done} of {of}", file=sys.stderr, flush=True)
