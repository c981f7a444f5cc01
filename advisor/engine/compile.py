"""Rules to programs: alternatives become several engine rules, absence becomes markers, limits become numbers.

The engine is only ever given conjunctions of single-fact tests; what it cannot take is refused here.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from itertools import product

from advisor.engine.limits import engine_problems
from advisor.engine.program import MARKED, Atom, EngineRule, Marker, Posted, Program, Programs, rounded
from advisor.errors import KnowledgeError, Problem
from advisor.knowledge.bindings import Binding, bindings
from advisor.knowledge.model import NUMBER_OPERATORS, Conclude, Rule, Test
from advisor.knowledge.numbers import Number
from advisor.knowledge.rulebase import RuleBase

MOST_ALTERNATIVES = 64
Conjunction = tuple[Atom | Marker, ...]


def compile_rules(rule_base: RuleBase) -> Programs:
    """One program for each stage.

    Raises:
        KnowledgeError: when a rule has too many alternatives or a stage passes a limit of the engine.
    """
    compiler = _Compiler(rule_base)
    programs = {stage: compiler.program(stage) for stage in rule_base.stages}
    problems = [*compiler.problems, *(p for program in programs.values() for p in engine_problems(program))]
    if problems:
        raise KnowledgeError(problems)
    return programs


class _Compiler:
    def __init__(self, rule_base: RuleBase) -> None:
        self.rule_base = rule_base
        self.problems: list[Problem] = []

    def program(self, stage: str) -> Program:
        rules: list[EngineRule] = []
        markers: dict[Marker, None] = {}
        for rule in self.rule_base.in_stage(self.rule_base.rules.values(), stage):
            for binding in bindings(rule, self.rule_base):
                for groups, used in self._conjunctions(rule, binding):
                    markers.update(dict.fromkeys(used))
                    rules.append(EngineRule(f"r{len(rules)}", rule, binding, groups, self._derives(rule, binding),
                                            len(rules)))
        keys = frozenset(atom.key for rule in rules for group in rule.groups for atom in group)
        return Program(stage, tuple(rules), tuple(markers), keys)

    def _conjunctions(self, rule: Rule, binding: Binding) -> Iterator[tuple[tuple[tuple[Atom, ...], ...],
                                                                            list[Marker]]]:
        parts = [self._alternatives(test, binding) for test in rule.when.all]
        if rule.when.any:
            parts.append([way for test in rule.when.any for way in self._alternatives(test, binding)])
        count = 1
        for part in parts:
            count *= len(part)
        if count > MOST_ALTERNATIVES:
            self.problems.append(Problem(f"`{rule.rule}` has {count} alternatives, at most {MOST_ALTERNATIVES} are "
                                         "allowed", rule.where, "split it, or conclude an intermediate fact"))
            return
        for ways in product(*parts):
            terms = list(dict.fromkeys(term for way in ways for term in way))
            groups = self._groups(terms)
            if groups is not None:
                yield groups, [term for term in terms if isinstance(term, Marker)]

    def _alternatives(self, test: Test, binding: Binding) -> list[Conjunction]:
        bound = binding.material(test.fact)
        if bound is not None:
            return self._static(test, bound[0].values.get(bound[1]), binding)
        fact = binding.fact(test.fact)
        if test.operator in NUMBER_OPERATORS:
            if any(binding.material(right) and self._number(right, binding) is None for right in test.values):
                return []  # the thing has no such number
            return [tuple(self._comparison(fact, operator, right, binding) for operator, right in _bounds(test))]
        if test.operator in ("is", "one_of"):
            return [(Atom(fact, "is", word),) for word in test.values]
        return [tuple(Marker(fact, "is_not", word) for word in test.values)]

    def _static(self, test: Test, value: object, binding: Binding) -> list[Conjunction]:
        """A test of a thing's own attribute is decided while compiling: it holds (no atom) or it never does."""
        if value is None:
            return []
        if isinstance(value, Number):
            bounds = [(operator, self._number(right, binding)) for operator, right in _bounds(test)]
            if all(number is not None for _, number in bounds):
                left = Posted("", rounded(value.value))
                holds = all(Atom("", op, rounded(n.in_unit(value.unit).value)).holds(left) for op, n in bounds if n)
                return [()] if holds else []
            # thing's number against a fact: turn the comparison round
            return [tuple(Atom(binding.fact(right), _MIRROR[op], self._in_unit_of(right, value, binding))
                          for op, right in _bounds(test))]
        words = value if isinstance(value, tuple) else (value,)
        inside = any(word in test.values for word in words)
        return [()] if inside == (test.operator in ("is", "one_of")) else []

    def _in_unit_of(self, fact: str, value: Number, binding: Binding) -> float:
        return rounded(value.in_unit(self._unit(binding.fact(fact), value.unit)).value)

    def _comparison(self, fact: str, operator: str, right: str, binding: Binding) -> Atom | Marker:
        number = self._number(right, binding)
        if number is None:
            return Marker(fact, operator, binding.fact(right))
        return Atom(fact, operator, rounded(number.in_unit(self._unit(fact, number.unit)).value))

    def _number(self, right: str, binding: Binding) -> Number | None:
        bound = binding.material(right)
        value = bound[0].values.get(bound[1]) if bound else self.rule_base.limit(right)
        return value if isinstance(value, Number) else None

    def _unit(self, fact: str, otherwise: str) -> str:
        form = self.rule_base.facts.get(fact) or self.rule_base.attribute(fact)
        return (form.unit if form else None) or otherwise

    def _groups(self, terms: list[Atom | Marker]) -> tuple[tuple[Atom, ...], ...] | None:
        """Atoms grouped by the fact that must meet them; None when one fact would need two values."""
        atoms = [Atom(t.key, "is", MARKED) if isinstance(t, Marker) else t for t in terms]
        groups: dict[tuple[str, object], list[Atom]] = {}
        for atom in atoms:
            apart = atom.value if atom.operator == "is" else None
            groups.setdefault((atom.key, apart), []).append(atom)
        if len({key for key, _ in groups}) < len(groups):
            for key, times in Counter(key for key, _ in groups).items():
                form = self.rule_base.facts.get(key)
                if times > 1 and not (form and form.kind == "several"):
                    return None
        return tuple(tuple(group) for group in groups.values())

    def _derives(self, rule: Rule, binding: Binding) -> tuple[Posted, ...]:
        return tuple(self._posted(binding.fact(line.fact), line.value) for line in rule.then
                     if isinstance(line, Conclude))

    def _posted(self, fact: str, value: str) -> Posted:
        number = self.rule_base.limit(value)
        if number is None:
            return Posted(fact, value)
        return Posted(fact, rounded(number.in_unit(self._unit(fact, number.unit)).value))


_MIRROR = {"above": "below", "at_least": "at_most", "below": "above", "at_most": "at_least"}


def _bounds(test: Test) -> list[tuple[str, str]]:
    if test.operator == "between":
        return [("at_least", test.values[0]), ("at_most", test.values[1])]
    return [(test.operator, test.values[0])] if test.operator in NUMBER_OPERATORS else []


