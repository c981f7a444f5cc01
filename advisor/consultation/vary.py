"""What decides: for every answer, the values that would change the advice, and how near the nearest change is."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass
from math import floor, log10
from multiprocessing import get_all_start_methods, get_context
from threading import active_count

from advisor.consultation.answers import Answer
from advisor.consultation.consult import Consultation
from advisor.consultation.facts import Value
from advisor.consultation.tried import Led, led_to, limits_of, numbers_to_try, where_it_leads, words_to_try
from advisor.errors import InputError
from advisor.knowledge.numbers import Number, exact

_STEPS, _NEAR_ENOUGH = 16, 0.005
"""How often a span is halved at most, and at which share of the number it is small enough."""
_TIMES = (1.2, 1.5, 2, 3, 6, 16, 48)
"""At how many times a number, and what share of it, the advice is looked at, whatever limits there are."""
_ENDED, _ELSE = 8, 1
"""How much it counts that there is advice no longer (or now); that today's verdict or a failing margin is another."""


@dataclass(frozen=True)
class Change:
    """One other answer, and what it would change: from what, to what, of which part of the advice."""

    value: Value
    shown: str
    changes: tuple[tuple[str, str, str], ...]
    weight: int


@dataclass(frozen=True)
class Varied:
    """One answer of the case with everything that another answer would change, most important first.

    `given` is the value alone; `said` tells in a sentence whether it was answered or taken because nobody knew.
    `nearest` are, for a number, the nearest values below and above at which something changes, each followed by the
    nearest at which the way or the materials do, where that lies farther off.
    """

    question: str
    ask: str
    given: str
    said: str
    changes: tuple[Change, ...]
    nearest: tuple[Change, ...] = ()

    @property
    def weight(self) -> int:
        """How much the answer matters: the greatest change it can make."""
        return max((change.weight for change in (*self.changes, *self.nearest)), default=0)


def vary(case: Consultation, question: str | None = None, processes: int = 1) -> list[Varied]:
    """Vary every answer that matters (or one), the others kept; what decides comes first.

    More `processes` share the questions, where this process can be copied as it stands: it has one thread, and the
    system can fork.

    Raises:
        InputError: the answers contradict each other, or the question does not matter here.
    """
    varying = _Varying(case)
    names = varying.names(question)
    order = {name: place for place, name in enumerate(names)}
    if min(processes, len(names)) > 1 and "fork" in get_all_start_methods() and active_count() == 1:
        found = _shared(varying, names, min(processes, len(names)))
    else:
        found = [varying.varied(name) for name in names]
    return sorted(found, key=lambda one: (-one.weight, order[one.question]))


def _shared(varying: _Varying, names: list[str], processes: int) -> list[Varied]:
    global _inherited
    _inherited = varying  # the copies of this process find it there
    try:
        with ProcessPoolExecutor(processes, get_context("fork")) as pool:
            return list(pool.map(_varied_in_a_copy, names))
    finally:
        _inherited = None


def _varied_in_a_copy(name: str) -> Varied:
    assert _inherited is not None
    return _inherited.varied(name)


class _Varying:
    def __init__(self, case: Consultation) -> None:
        self.case, self.rule_base, self.evaluator = case, case.rule_base, case.evaluator
        self.outliner = case.outliner
        self.result = self.outliner.conclude(case.answers, case.system)
        self.base = led_to(self.rule_base, self.result, case.system)
        self.texts = case.texts_of(self.result)
        self.tried: dict[tuple[str, Value], Led] = {}

    def names(self, question: str | None) -> list[str]:
        """The questions to vary, in the order of asking."""
        case = self.case
        if case.contradictions():
            raise InputError("these answers contradict each other", None, "see `advisor advise` on the same file")
        names = [answer.question for answer in case.relevant_answers()]
        if question is not None:
            if question not in names:
                raise InputError(f"the answer to `{question}` does not matter here", None,
                                 f"those that do: {', '.join(names)}")
            names = [question]
        return names

    def varied(self, name: str) -> Varied:
        """One question with everything that another answer would change."""
        question, value = self.rule_base.questions[name], self.result.facts.value(name)
        numeric = self.rule_base.facts[name].kind in ("quantity", "count")
        nearest: tuple[Change, ...] = ()
        if numeric and isinstance(value, Number):
            nearest = tuple(self._nearest(name, value))
            changes: list[Change] = []
        else:
            tried = numbers_to_try(self.evaluator, name) if numeric else words_to_try(self.rule_base, name, value)
            changes = [change for other in tried if (change := self._change(name, other)).changes]
        changes.sort(key=lambda change: -change.weight)
        return Varied(name, question.ask, self.texts.value(name, value), self.texts.said(name), tuple(changes), nearest)

    def _nearest(self, name: str, given: Number) -> Iterator[Change]:
        """The nearest value on either side at which the advice changes, closed in on by halving.

        Where that changes no more than a margin or today's verdict, the nearest at which the way or the materials do
        follows it.
        """
        low, high = self.rule_base.facts[name].plausible or (given.value, given.value)
        others = [number.value for number in numbers_to_try(self.evaluator, name)]
        if low >= 0:  # what is computed from it may change between two limits
            figures = (float(f"{given.value * times:.3g}") for one in _TIMES for times in (one, 1 / one))
            limits = limits_of(self.evaluator, name)  # a limit itself may stand for something else
            others += [value for value in figures if low < value < high and value not in limits]
        below = [*sorted((v for v in others if v < given.value), reverse=True), low]
        above = [*sorted(v for v in others if v > given.value), high]
        for side in (below, above):
            change = self._first(name, given, side, _everything)
            if change is not None:
                yield change
                if _way(self._led(name, change.value)) == _way(self.base) and (
                        farther := self._first(name, given, side, _way)) is not None:
                    yield farther

    def _first(self, name: str, given: Number, side: Sequence[float], kept: Callable[[Led], object]) -> Change | None:
        """The nearest change on one side of what is `kept`."""
        same = given.value
        for value in side:
            if kept(self._led(name, exact(value, given.unit))) != kept(self.base):
                return self._change(name, exact(self._closed_in(name, same, value, given.unit, kept), given.unit))
            same = value
        return None

    def _closed_in(self, name: str, same: float, other: float, unit: str, kept: Callable[[Led], object]) -> float:
        """The value nearest to `same` at which the advice changes: most often beside a limit, else by halving."""
        base = kept(self.base)
        for limit in limits_of(self.evaluator, name):
            if not min(same, other) < limit < max(same, other):
                continue
            around = _beside(limit, same, other)
            here, at, beyond = (kept(self._led(name, exact(value, unit))) for value in around)
            if here != base:
                other = around[0]
            elif beyond == base:
                same = around[2]
            elif at == beyond:
                return around[1]
            else:
                return around[2]  # the limit itself is a point that stands for something else
        for _ in range(_STEPS):
            middle = float(f"{(same + other) / 2:.3g}")
            if middle in (same, other) or abs(other - same) <= _NEAR_ENOUGH * max(abs(same), abs(other)):
                break
            if kept(self._led(name, exact(middle, unit))) == base:
                same = middle
            else:
                other = middle
        return other

    def _led(self, name: str, value: Value) -> Led:
        key = (name, value)
        if key not in self.tried:
            answers: Mapping[str, Answer] = {**self.case.answers, name: Answer(name, str(value), value)}
            self.tried[key] = where_it_leads(self.outliner, answers, self.case.system)
        return self.tried[key]

    def _change(self, name: str, value: Value) -> Change:
        led = self._led(name, value)
        found = tuple(self._differences(led))
        weight = sum(self._weight(part) for part, _, _ in found)
        return Change(value, self.texts.value(name, value), found, weight)

    def _weight(self, part: str) -> int:
        decision = self.rule_base.decisions.get(part)
        return decision.weight if decision else _ENDED if part == "ended" else _ELSE

    def _differences(self, led: Led) -> Iterator[tuple[str, str, str]]:
        """Which part of the advice changes, from what, to what."""
        if led.ended != self.base.ended:
            yield "ended", self.base.ended, led.ended
            return
        before, after = dict(self.base.chosen), dict(led.chosen)
        for decision in dict.fromkeys((*before, *after)):
            one, other = before.get(decision), after.get(decision)
            if one != other:
                yield decision, self._label(decision, one), self._label(decision, other)
        if led.failing != self.base.failing:
            yield "failing", "; ".join(self.base.failing), "; ".join(led.failing)
        if led.today != self.base.today:
            yield "today", self.base.today, led.today

    def _label(self, decision: str, chosen: str | None) -> str:
        return self.texts.value(decision, chosen) if chosen else ""


def _everything(led: Led) -> object:
    return led


def _way(led: Led) -> object:
    """What is done and with what, or that there is no advice."""
    return led.ended, led.chosen


def _beside(limit: float, same: float, other: float) -> tuple[float, float, float]:
    """A limit between its neighbours to three figures, on the way from one number to another and not beyond them."""
    step = 10.0 ** (floor(log10(abs(limit))) - 2) if limit else 0.01
    low = max(float(f"{limit - step:.6g}"), min(same, other))
    high = min(float(f"{limit + step:.6g}"), max(same, other))
    return (low, limit, high) if same < other else (high, limit, low)


_inherited: _Varying | None = None
