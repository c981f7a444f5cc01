"""Pairwise cases: every two answers to two choice questions stand together in some case."""

from __future__ import annotations

from random import Random

from advisor.audit.answering import Answering

Row = dict[str, str]
_TRIES = 4
_SHARE = 2
"""At most one case in so many is a pairwise one."""


class Pairs:
    """A table of choices that covers all pairs of answers, built greedily; the same for the same seed."""

    def __init__(self, answering: Answering, seed: int, most: int) -> None:
        self.values = _choices(answering)
        self.open = _all_pairs(self.values)
        self.total = len(self.open)
        random = Random(f"pairs {seed}")
        self.rows: list[Row] = []
        while self.open and len(self.rows) < most:
            self.rows.append(self._row(random))

    @property
    def covered(self) -> int:
        """How many pairs the rows hold."""
        return self.total - len(self.open)

    def _row(self, random: Random) -> Row:
        """A row that begins with a pair still open and is filled with what covers most."""
        first = min(self.open) if random.random() < 0.5 else random.choice(sorted(self.open)[:50])
        row: Row = {first[0]: first[1], first[2]: first[3]}
        names = [name for name in self.values if name not in row]
        random.shuffle(names)
        for name in names:
            words = random.sample(self.values[name], min(_TRIES, len(self.values[name])))
            row[name] = max(words, key=lambda word: self._gain(row, name, word))
        for one in row:
            for other in row:
                self.open.discard((one, row[one], other, row[other]))
        return row

    def _gain(self, row: Row, name: str, word: str) -> int:
        return sum(_pair(name, word, other, value) in self.open for other, value in row.items())


def pairs_for(answering: Answering, seed: int, cases: int) -> Pairs:
    """The table for an audit of so many cases."""
    return Pairs(answering, seed, cases // _SHARE)


Pair = tuple[str, str, str, str]


def _pair(one: str, first: str, other: str, second: str) -> Pair:
    return (one, first, other, second) if one < other else (other, second, one, first)


def _choices(answering: Answering) -> dict[str, list[str]]:
    """Choice questions and their words; words that end a case at once would hide every pair beside them."""
    rule_base = answering.rule_base
    return {name: words for name in rule_base.questions
            if rule_base.facts[name].kind not in ("quantity", "count")
            and len(words := [word for word in rule_base.values_of(rule_base.facts[name])
                              if (name, word) not in answering.stopping]) > 1}


def _all_pairs(values: dict[str, list[str]]) -> set[Pair]:
    return {(one, first, other, second) for one in values for other in values if one < other
            for first in values[one] for second in values[other]}
