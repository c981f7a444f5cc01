"""The rules without what only speaks, for trying many answers of which only the outcome counts."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace

from advisor.engine.program import Program, Programs
from advisor.knowledge import model as m
from advisor.knowledge.rulebase import RuleBase
from advisor.knowledge.shapes import PLACEHOLDER


def outlined(rule_base: RuleBase, programs: Programs) -> tuple[RuleBase, Programs]:
    """The rules that do something, and the computations that these, the questions and the choices need.

    Steps, amounts, cautions and the review of a plan are gone; how a case ends, what is chosen, the margins and
    today's verdict are those of the whole rule base.
    """
    kept = {stage: _doing(program) for stage, program in programs.items()}
    needed = {*_read_by_programs(kept), *_read_by_checks(rule_base), *_read_by_conditions(rule_base)}
    return replace(rule_base, calculations=_needed(rule_base.calculations, needed)), kept


def _doing(program: Program) -> Program:
    rules = tuple(rule for rule in program.rules if rule.does)
    keys = frozenset(atom.key for rule in rules for group in rule.groups for atom in group)
    return replace(program, rules=rules, markers=tuple(one for one in program.markers if one.key in keys), keys=keys)


def _read_by_programs(programs: Programs) -> Iterator[str]:
    for program in programs.values():
        yield from program.keys
        for marker in program.markers:
            yield from (marker.fact, marker.other)


def _read_by_checks(rule_base: RuleBase) -> Iterator[str]:
    for line in (line for rule in rule_base.rules.values() for line in rule.then if isinstance(line, m.Check)):
        yield from (line.value, line.against, line.ample or "", *PLACEHOLDER.findall(line.name))


def _read_by_conditions(rule_base: RuleBase) -> Iterator[str]:
    for question in rule_base.questions.values():
        instead = question.dont_know.instead if question.dont_know else ()
        for condition in (question.when, question.unasked, *(case.when for case in instead)):
            yield from _names(condition)
    for decision in rule_base.decisions.values():
        yield from _names(decision.when)


def _names(condition: m.Condition | None) -> Iterator[str]:
    for test in condition.tests if condition else ():
        yield from (test.fact, *test.values)


def _needed(calculations: Mapping[str, m.Calculation], needed: Iterable[str]) -> dict[str, m.Calculation]:
    """The computations that give what is needed, and those that they need in turn."""
    wanted, kept = set(needed), set[str]()
    while fresh := [one for name, one in calculations.items() if name not in kept and wanted & set(one.gives)]:
        for one in fresh:
            kept.add(one.calculation)
            wanted |= {m.split_end(item)[0] for given in one.inputs.values() for item in given} | set(_names(one.when))
    return {name: one for name, one in calculations.items() if name in kept}
