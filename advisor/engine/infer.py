"""durable-rules, used in the one way that was found safe; the only module that imports it.

No threads, no negation, no joins: one session for each evaluation of a stage, opened by a fact of its own,
given all facts in one batch, and always deleted. Facts carry their key, and their value in one property for
words and another for numbers, because the engine compares the two wrongly.
"""

from __future__ import annotations

import contextlib
import json
import os
import sys
import warnings
from collections import OrderedDict
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import lru_cache
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
    import durable_rules_engine
    from durable.engine import Ruleset

MOST_FIRINGS = 5000
MOST_REMEMBERED = 5000
"""So many runs of a part of a stage are kept: the same part over facts that are alike fires the same, in any case."""
SESSION = "1"
_TICK = "~tick"
_NEVER = "~never"
_as_json = json.JSONEncoder(ensure_ascii=False).encode
_OPENING = _as_json({"id": _TICK, "k": _TICK, "sid": SESSION})
_OPERATORS = {"below": "$lt", "at_most": "$lte", "above": "$gt", "at_least": "$gte"}


Action = Callable[["_Ruleset", Mapping[str, Any]], None]


class EngineError(Exception):
    """A fault inside the engine: a defect of the program, never of what a person answered."""


class _Ruleset(Ruleset):  # type: ignore[misc]
    """The library's ruleset without a host, whose background threads read freed sessions, and with a plain loop.

    The library's own loop makes a context with two clocks for every firing, which takes longer than the engine itself.
    """

    def __init__(self, name: str, tests: Mapping[str, list[dict[str, Any]]], acts: Mapping[str, Action]) -> None:
        super().__init__(name, None, {rule: {"all": all_of, "run": _nothing} for rule, all_of in tests.items()})
        self._acts = acts

    def open(self) -> None:
        """Begin the session with a fact of its own."""
        self._act_on(self.add(_OPENING))

    def take(self, messages: Iterable[str]) -> None:
        """Assert all facts in one batch and act on whatever fires."""
        text = f"[{','.join(messages)}]"
        self._act_on(self._handle_result(durable_rules_engine.assert_facts(self._handle, text), text))

    def add(self, message: str) -> int:
        """Assert one fact; while acting, what fires on it comes up later in the same loop."""
        return int(self._handle_result(durable_rules_engine.assert_fact(self._handle, message), message))

    def _act_on(self, session: int) -> None:
        started = durable_rules_engine.start_action_for_state(self._handle, session)
        if not started:
            return
        state, fired = started[:2]
        while fired:
            name, matched = next(iter(json.loads(fired).items()))
            if name in self._acts:
                self._acts[name](self, matched)
            durable_rules_engine.update_state(self._handle, state)
            fired = durable_rules_engine.complete_and_start_action(self._handle, session)


@dataclass
class _Run:
    """What one evaluation collects."""

    known: set[str] = field(default_factory=set)
    firings: list[Firing] = field(default_factory=list)
    errors: list[Exception] = field(default_factory=list)


class DurableChainer:
    """Runs compiled programs on durable-rules; one instance may be used again and again, by one thread."""

    def __init__(self, programs: Programs, remember: int = MOST_REMEMBERED) -> None:
        self._programs = programs
        self._remember = remember
        self._remembered: OrderedDict[tuple[object, ...], tuple[tuple[Posted, ...], list[Firing]]] = OrderedDict()
        self._parts: dict[str, Parts] = {}
        self._rulesets: dict[str, _Ruleset] = {}
        self._current = _Run()

    def prepare(self) -> Iterator[None]:
        """Every part of every stage made ready for the engine, one after the other."""
        for stage in self._programs:
            for part, rules in enumerate(self.parts(stage).rules):
                yield
                self._ruleset(_name(stage, part), rules)

    def outlined(self) -> Chainer:
        """This chainer without the parts whose rules only speak."""
        return _Outlined(self)

    def run(self, stage: str, facts: Sequence[Posted], outline: bool = False) -> list[Firing]:
        """Every firing of a stage over the facts and what its rules derive.

        Raises:
            EngineError: when the engine reports a fault.
        """
        return [firing for work in self.to_run(stage, facts, outline) for firing in self._fired(stage, work)]

    def _fired(self, stage: str, work: Work) -> list[Firing]:
        """What a part fires, now or when it last ran over facts like these."""
        key = stage, work.part, work.like
        if key in self._remembered:
            self._remembered.move_to_end(key)
            before, firings = self._remembered[key]
            if before == work.facts:
                return firings
            now = {one.id: other.id for one, other in zip(before, work.facts, strict=True)}
            return [Firing(firing.rule, tuple([now.get(id_, id_) for id_ in firing.support])) for firing in firings]
        firings = self.run_part(stage, work)
        if self._remember:
            self._remembered[key] = work.facts, firings
            if len(self._remembered) > self._remember:
                self._remembered.popitem(last=False)
        return firings

    def to_run(self, stage: str, facts: Sequence[Posted], outline: bool = False) -> Iterable[Work]:
        """The parts of a stage with something to do; without facts there is none."""
        return self.parts(stage).to_run(facts, outline) if facts else ()

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
        ruleset = self._ruleset(name, rules)
        self._current = _Run(known={fact.id for fact in facts})
        self._evaluate(ruleset, facts)
        run, self._current = self._current, _Run()
        if run.errors:
            raise EngineError(f"{name}: {run.errors[0]!r}") from run.errors[0]
        if len(run.firings) >= MOST_FIRINGS:
            raise EngineError(f"{name}: more than {MOST_FIRINGS} firings")
        return run.firings

    def _evaluate(self, ruleset: _Ruleset, facts: Sequence[Posted]) -> None:
        try:
            ruleset.open()
            ruleset.take(map(_message, facts))
        except Exception as error:
            raise EngineError(str(getattr(error, "message", error))) from error
        finally:
            ruleset.delete_state(SESSION)

    def _ruleset(self, name: str, rules: Sequence[EngineRule]) -> _Ruleset:
        if name not in self._rulesets:
            # Names of rulesets are global to the process: never the same twice.
            self._rulesets[name] = _Ruleset(f"{name}-{id(self)}", _tests(rules),
                                            {rule.name: self._action(rule) for rule in rules})
        return self._rulesets[name]

    def _action(self, rule: EngineRule) -> Action:
        aliases = [_alias(place) for place in range(len(rule.groups))]

        def act(ruleset: _Ruleset, matched: Mapping[str, Any]) -> None:
            run = self._current
            try:
                support = tuple([matched[alias]["id"] for alias in aliases])
                run.firings.append(Firing(rule, support))
                for fact in rule.derives:
                    if fact.id not in run.known and len(run.firings) < MOST_FIRINGS:
                        run.known.add(fact.id)
                        ruleset.add(_message(fact))
            except Exception as error:  # the loop goes on; the fault is told at its end
                run.errors.append(error)

        return act


class _Outlined:
    """A chainer without the parts whose rules only speak, and with the same memory."""

    def __init__(self, chainer: DurableChainer) -> None:
        self._chainer = chainer

    def outlined(self) -> Chainer:
        return self

    def run(self, stage: str, facts: Sequence[Posted]) -> list[Firing]:
        return self._chainer.run(stage, facts, outline=True)


def _name(stage: str, part: int) -> str:
    return f"{stage}-{part}"


def _tests(rules: Sequence[EngineRule]) -> dict[str, list[dict[str, Any]]]:
    tests = {rule.name: [{_alias(place): _condition(group)} for place, group in enumerate(rule.groups)]
             for rule in rules}
    tests[_TICK] = [{"c0": {"k": _TICK}}]
    # Matches nothing, but makes the engine accept facts that no rule of the stage happens to match.
    tests["~sink"] = [{"c0": {"$ex": {"k": 1}}}, {"c1": {"k": _NEVER}}]
    return tests


def _alias(place: int) -> str:
    """What the fact that meets a group goes by in a match."""
    return f"c{place}"


def _nothing(context: Any) -> None:
    """What the library wants for every rule; the loop here never calls it."""


@lru_cache(maxsize=4096)
def _message(fact: Posted) -> str:
    value = {"s": fact.value} if isinstance(fact.value, str) else {"n": fact.value}
    return _as_json({"id": fact.id, "k": fact.key, "sid": SESSION, **value})


def _condition(group: tuple[Atom, ...]) -> dict[str, Any]:
    tests: list[dict[str, Any]] = [{"k": group[0].key}]
    for atom in group:
        tests.append({"s": atom.value} if atom.operator == "is" else
                     {_OPERATORS[atom.operator]: {"n": atom.value}})
    return {"$and": tests}
