"""The compiled programs run by CLIPS, to compare outcomes and time with.

It is given what durable-rules is given: the same conjunctions, the same facts, one session for each stage.
"""

from __future__ import annotations

from collections.abc import Sequence

import clips

from advisor.engine.program import Atom, Chainer, EngineRule, Firing, Posted, Program, Programs

_COMPARES = {"below": "<", "at_most": "<=", "above": ">", "at_least": ">="}


class ClipsChainer:
    """Runs compiled programs on CLIPS, one environment for each stage."""

    def __init__(self, programs: Programs) -> None:
        self._stages = {stage: _Stage(program) for stage, program in programs.items()}

    def outlined(self) -> Chainer:
        """This chainer; it leaves nothing out."""
        return self

    def run(self, stage: str, facts: Sequence[Posted]) -> list[Firing]:
        """Every firing of a stage over the facts and what its rules derive."""
        return self._stages[stage].run(facts)


class _Stage:
    """One environment. Each key has a template of its own: matched far faster than one template for all of them."""

    def __init__(self, program: Program) -> None:
        self._rules = {rule.name: rule for rule in program.rules}
        self._fired: list[Firing] = []
        derived = {fact.key for rule in program.rules for fact in rule.derives}
        self._words = {key: f"word{place}" for place, key in enumerate(sorted({*program.keys, *derived}))}
        self._environment = clips.Environment()
        self._environment.define_function(self._note, "note")
        for name in self._words.values():
            for template in (name, _number(name)):
                self._environment.build(f"(deftemplate {template} (slot id) (slot value))")
        for rule in program.rules:
            self._environment.build(self._written(rule))
        self._made = {template.name: template for template in self._environment.templates()}

    def run(self, facts: Sequence[Posted]) -> list[Firing]:
        self._fired = []
        self._environment.reset()
        for fact in facts:  # faster than a text of all facts, which CLIPS takes long to read
            if fact.key in self._words:
                self._made[self._template(fact)].assert_fact(id=fact.id, value=fact.value)
        self._environment.run()
        return self._fired

    def _note(self, name: str, *support: str) -> None:
        self._fired.append(Firing(self._rules[name], support))

    def _written(self, rule: EngineRule) -> str:
        conditions = " ".join(self._condition(place, group) for place, group in enumerate(rule.groups))
        support = " ".join(f"?i{place}" for place in range(len(rule.groups)))
        derived = " ".join(f"(assert {self._fact(fact)})" for fact in rule.derives)
        return f"(defrule {rule.name} {conditions} => (note {_text(rule.name)} {support}) {derived})"

    def _condition(self, place: int, group: tuple[Atom, ...]) -> str:
        if isinstance(group[0].value, str):
            tests = "&".join(_text(str(atom.value)) for atom in group)
        else:
            tests = "&".join([f"?n{place}", *(f":({_COMPARES[atom.operator]} ?n{place} {float(atom.value)!r})"
                                              for atom in group)])
        return f"({self._template(group[0])} (id ?i{place}) (value {tests}))"

    def _fact(self, fact: Posted) -> str:
        value = _text(fact.value) if isinstance(fact.value, str) else repr(fact.value)
        return f"({self._template(fact)} (id {_text(fact.id)}) (value {value}))"

    def _template(self, said: Posted | Atom) -> str:
        """Words and numbers of one key apart: CLIPS cannot compare a word with a number."""
        name = self._words[said.key]
        return name if isinstance(said.value, str) else _number(name)


def _number(name: str) -> str:
    return name.replace("word", "number")


def _text(text: str) -> str:
    escaped = text.replace("\\", "\\\\").replace('"', '\\"')
    return f'"{escaped}"'
