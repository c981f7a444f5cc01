"""How it is to be made: the specification with its tables of plies and pieces."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import groupby

from advisor.consultation.advice import SpecificationLine, Why
from advisor.knowledge.rulebase import RuleBase
from advisor.report import phrases, references
from advisor.report.amounts import cell
from advisor.report.blocks import Block, Group, Item, Line, Table
from advisor.report.running import listed, row_in_words

_FEW_ROWS = 2


def specification(lines: Iterable[SpecificationLine], rule_base: RuleBase, details: bool) -> Iterator[Block]:
    """Lines first in the order of the rules, then the tables of plies and pieces."""
    tables = []
    for line in lines:
        if line.rows:
            tables.append(line)
        elif not line.columns:
            yield Item(Line(line.say, line.about), tuple(reason(line.why, rule_base, details)))
    for table in tables:
        yield from _table(table, details)


def _table(line: SpecificationLine, details: bool) -> Iterator[Block]:
    headings = tuple(line.columns.values())
    rows = tuple(tuple(cell(row.get(name)) for name in line.columns) for row in line.rows)
    shown = rows if details else tuple(_alike_together(rows))
    if not details and len(shown) <= _FEW_ROWS:
        yield Item(Line(listed(row_in_words(headings, row) for row in shown), line.about),
                   tail=(Line(line.say),) if line.say else ())
        return
    yield Group(line.about)
    yield Table(headings, shown)
    if line.say:
        yield Line(line.say)


def _alike_together(rows: tuple[tuple[str, ...], ...]) -> Iterator[tuple[str, ...]]:
    """Rows that differ only in the running number before them as one, `1 to 12`."""
    counted = [(row, int(row[0]) - place if row[0].isdecimal() else row[0]) for place, row in enumerate(rows)]
    for _, group in groupby(counted, key=lambda one: (one[1], one[0][1:])):
        alike = [row for row, _ in group]
        first, last = alike[0], alike[-1]
        yield first if len(alike) == 1 else (f"{first[0]} {phrases.TO} {last[0]}", *first[1:])


def reason(why: Why, rule_base: RuleBase, details: bool) -> Iterator[Line]:
    """Why a line stands there and who says so, with the details only."""
    if details:
        yield Line(why.because, phrases.BECAUSE)
        yield Line(f"{references.short(why.source, rule_base)} ({why.rule})", phrases.SAID_BY)
