"""What is needed, what to buy, and in which batches it is mixed."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import groupby

from advisor.consultation.advice import Advice, Quantity
from advisor.knowledge.rulebase import RuleBase
from advisor.report import phrases
from advisor.report.amounts import batch_cells, how_much, to_buy
from advisor.report.blocks import Block, Item, Line, Table
from advisor.report.making import reason
from advisor.report.running import sentence
from advisor.units import Systems

_START = 2


def quantities(advice: Advice, rule_base: RuleBase) -> Iterator[Block]:
    """Every amount with its range, what it was worked out from, and who says so."""
    for line in advice.quantities:
        below = [*(Line(text) for text in (_spread(line), line.note) if text), Line(line.basis, phrases.BASIS)]
        yield Item(Line(how_much(line, advice.units), line.item), (*below, *reason(line.why, rule_base, True)))


def shopping(advice: Advice, details: bool) -> Iterator[Block]:
    """What to buy: packs or the high end, the range that is needed, and what the rule says of it.

    Without the details, what nobody measures out runs on in one paragraph, and so does what is needed but not bought.
    """
    wanted = [line for line in advice.quantities if line.buy]
    if any(line.amount is not None for line in wanted):
        yield Line(phrases.BUY_HIGH_END)
    by_eye = [] if details else [line for line in wanted if not _bought(line, advice.units)]
    for line in wanted:
        if line not in by_eye:
            text = _with_note(_bought(line, advice.units), _spread(line), line.note)
            yield Item(Line(text, line.item) if text else Line(line.item))
    if by_eye:
        yield Item(Line(" ".join(map(_by_eye, by_eye)), phrases.BY_EYE))
    if not details:
        yield from _not_bought(advice)


def _not_bought(advice: Advice) -> Iterator[Block]:
    """What is mixed from what was bought, with the range and what the rule says of it."""
    said = []
    for line in advice.quantities:
        amount = how_much(line, advice.units) if line.amount is not None or not line.note else None
        if not line.buy:
            said.append(sentence(f"{line.item}: {_with_note(amount, _spread(line), line.note)}"))
    if said:
        yield Item(Line(" ".join(said), phrases.FROM_IT))


def _by_eye(line: Quantity) -> str:
    return sentence(f"{line.item}: {line.note}" if line.note else line.item)


def _bought(line: Quantity, system: Systems) -> str | None:
    if line.amount is None:
        return line.packs
    bought, needed = to_buy(line, system), how_much(line, system)
    return bought if bought == needed else f"{bought}; {phrases.NEEDED} {needed}"


def _with_note(*parts: str | None) -> str:
    return ". ".join(filter(None, parts))


def _spread(line: Quantity) -> str | None:
    return f"{phrases.SPREAD_FROM}: {line.spread_from}" if line.spread_from else None


def batches(advice: Advice, details: bool) -> Iterator[Block]:
    """The cups in order, with their times; without the details those that differ only in their start are one row."""
    if advice.batches:
        rows = [batch_cells(batch, advice.units) for batch in advice.batches]
        yield Table(phrases.BATCH_HEADINGS, tuple(rows if details else _alike(rows)))
        yield Line(phrases.BATCH_CLOCK)


def _alike(rows: Iterable[tuple[str, ...]]) -> Iterator[tuple[str, ...]]:
    for _, group in groupby(rows, key=lambda row: (row[1], row[_START + 1:])):
        alike = list(group)
        first, last = alike[0], alike[-1]
        numbers = first[0] if len(alike) == 1 else f"{first[0]} {phrases.TO} {last[0]}"
        yield (numbers, first[1], ", ".join(row[_START] for row in alike), *first[_START + 1:])
