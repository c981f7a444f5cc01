"""`advisor audit`: test the rule base like a program."""

from __future__ import annotations

import argparse

from rich.table import Table

from advisor.audit import present
from advisor.audit.run import Report, Wish, audit
from advisor.commands.page import Page
from advisor.commands.progress import Bar


def run(options: argparse.Namespace) -> int:
    """Audit the rules; 0 when they are clean, 1 when anything is wrong."""
    wish = Wish(rules=options.rules, scenarios=options.scenarios, cases=options.cases, seed=options.seed,
                processes=options.processes, mutate=options.mutate)
    with Bar(lines=True) as bar:
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
