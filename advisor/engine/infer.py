"""durable-rules, used in the one way that was found safe; the only module that imports it.

No threads, no negation, no joins: one session for each evaluation of a stage, opened by a fact of its own,
given all facts in one batch, and always deleted. Facts carry their key, and their value in one property for
words and another for numbers, because the engine compares the two wrongly.
"""

from __future__ import annotations

import contextlib
import os
import sys
import warnings
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from typing import Any

from advisor.engine.parts import Parts, Work
from advisor.engine.program import Atom, Chainer, EngineRule, Firing, Posted, Programs


@contextlib.contextmanager
def _names_bound_when_used() -> Iterator[None]:
    """What lets the library be imported by Python 3.13, which lacks one name that it was built with.

    The library calls it only to keep messages outside the process, which nothing here asks for.
    """
    if sys.version_info < (3, 13) or not hasattr(sys, "setdlopenflags"):
        yield
        return
    before = sys.getdlopenflags()
    sys.setdlopenflags(os.RTLD_LAZY)
    try:
        yield
    finally:
        sys.setdlopenflags(before)


with warnings.catch_warnings(), _names_bound_when_used():
    warnings.simplefilter("ignore")
    from durable.engine import Host

MOST_FIRINGS = 5000
_MOST_REMEMBERED = 2000
SESSION = "1"
_TICK = "~tick"
_NEVER = "~never"
_OPERATORS = {"below": "$lt", "at_most": "$lte", "above": "$gt", "at_least": "$gte"}


class EngineError(Exception):
    """A fault inside the engine: a defect of the program, never of what a person answered."""


class _QuietHost(Host):  # type: ignore[misc]
    """The library's host without its background threads, which read freed sessions."""

    def _run(self) -> None:
        """Start nothing: every call here is synchronous."""


@dataclass
class _Run:
    """What one evaluation collects."""

    known: set[str] = field(default_factory=set)
    firings: list[Firing] = field(default_factory=list)
    errors: list[BaseException] = field(default_factory=list)


class DurableChainer:
    """Runs compiled programs on durable-rules; one instance may be used again and again, by one thread."""

    def __init__(self, programs: Programs) -> None:
        self._programs = programs
        self._parts: dict[str, Parts] = {}
        self._hosts: dict[str, tuple[str, Any]] = {}
        self._current = _Run()

    def prepare(self) -> Iterator[None]:
        """Every part of every stage made ready for the engine, one after the other."""
        for stage in self._programs:
            for part, rules in enumerate(self.parts(stage).rules):
                yield
                self._host(_name(stage, part), rules)

    def for_one_case(self) -> Chainer:
        """This chainer with a memory: the same part of a stage over the same facts fires the same."""
        return _Remembering(self)

    def run(self, stage: str, facts: Sequence[Posted]) -> list[Firing]:
        """Every firing of a stage over the facts and what its rules derive.

        Raises:
            EngineError: when the engine reports a fault.
        """
        return [firing for work in self.to_run(stage, facts) for firing in self.run_part(stage, work)]

    def to_run(self, stage: str, facts: Sequence[Posted]) -> Iterable[Work]:
        """The parts of a stage with something to do; without facts there is none."""
        return self.parts(stage).to_run(facts) if facts else ()

    def parts(self, stage: str) -> Parts:
        """The parts of a stage."""
        if stage not in self._parts:
            self._parts[stage] = Parts(self._programs[stage])
        return self._parts[stage]

    def run_part(self, stage: str, work: Work) -> list[Firing]:
        """Every firing of one part of a stage."""
        return self.run_rules(_name(stage, work.part), self.parts(stage).rules[work.part], work.facts)

    def run_rules(self, name: str, rules: Sequence[EngineRule], facts: Sequence[Posted]) -> list[Firing]:
        """Every firing of the rules that go by a name, the same rules for the same name each time.

        Raises:
            EngineError: when the engine reports a fault.
        """
        if not facts:
            return []
        ruleset, host = self._host(name, rules)
        self._current = _Run(known={fact.id for fact in facts})
        self._evaluate(ruleset, host, facts)
        run, self._current = self._current, _Run()
        if run.errors:
            raise EngineError(f"{name}: {run.errors[0]!r}") from run.errors[0]
        if len(run.firings) >= MOST_FIRINGS:
            raise EngineError(f"{name}: more than {MOST_FIRINGS} firings")
        return run.firings

    def _evaluate(self, name: str, host: Any, facts: Sequence[Posted]) -> None:
        try:
            self._note(host.assert_fact(name, {"id": _TICK, "k": _TICK, "sid": SESSION}))
            self._note(host.assert_facts(name, [_message(fact) for fact in facts]))
        except Exception as error:
            raise EngineError(str(getattr(error, "message", error))) from error
        finally:
            host.delete_state(name, SESSION)

    def _note(self, state: Any) -> None:
        if isinstance(state, dict) and "exception" in state:
            self._current.errors.append(EngineError(str(state["exception"])))

    def _host(self, name: str, rules: Sequence[EngineRule]) -> tuple[str, Any]:
        if name not in self._hosts:
            # Ruleset names are global to the process: never the same twice.
            ruleset = f"{name}-{id(self)}"
            self._hosts[name] = ruleset, _QuietHost({ruleset: self._definition(rules)})
        return self._hosts[name]

    def _definition(self, given: Sequence[EngineRule]) -> dict[str, Any]:
        rules: dict[str, Any] = {
            rule.name: {"all": [{f"c{i}": _condition(group)} for i, group in enumerate(rule.groups)],
                        "run": self._action(rule)}
            for rule in given}
        rules[_TICK] = {"all": [{"c0": {"k": _TICK}}], "run": _nothing}
        # Matches nothing, but makes the engine accept facts that no rule of the stage happens to match.
        rules["~sink"] = {"all": [{"c0": {"$ex": {"k": 1}}}, {"c1": {"k": _NEVER}}], "run": _nothing}
        return rules

    def _action(self, rule: EngineRule) -> Callable[[Any], None]:
        def act(closure: Any) -> None:
            run = self._current
            try:
                matched = closure._m
                support = tuple(str(matched[f"c{i}"]["id"]) for i in range(len(rule.groups)))
                run.firings.append(Firing(rule, support))
                for fact in rule.derives:
                    if fact.id not in run.known and len(run.firings) < MOST_FIRINGS:
                        run.known.add(fact.id)
                        closure.assert_fact(_message(fact))
            except BaseException as error:  # the engine would store it as text and go on
                run.errors.append(error)

        return act


class _Remembering:
    """A chainer for the many evaluations of one case."""

    def __init__(self, chainer: DurableChainer) -> None:
        self._chainer = chainer
        self._runs: dict[tuple[str, Work], list[Firing]] = {}

    def for_one_case(self) -> Chainer:
        return _Remembering(self._chainer)

    def run(self, stage: str, facts: Sequence[Posted]) -> list[Firing]:
        firings: list[Firing] = []
        for work in self._chainer.to_run(stage, facts):
            if (stage, work) not in self._runs:
                if len(self._runs) >= _MOST_REMEMBERED:
                    self._runs.clear()
                self._runs[stage, work] = self._chainer.run_part(stage, work)
            firings += self._runs[stage, work]
        return firings


def _name(stage: str, part: int) -> str:
    return f"{stage}-{part}"


def _nothing(closure: Any) -> None:
    """An action that does nothing."""


def _message(fact: Posted) -> dict[str, Any]:
    value = {"s": fact.value} if isinstance(fact.value, str) else {"n": fact.value}
    return {"id": fact.id, "k": fact.key, "sid": SESSION, **value}


def _condition(group: tuple[Atom, ...]) -> dict[str, Any]:
    tests: list[dict[str, Any]] = [{"k": group[0].key}]
    for atom in group:
        tests.append({"s": atom.value} if atom.operator == "is" else
                     {_OPERATORS[atom.operator]: {"n": atom.value}})
    return {"$and": tests}
