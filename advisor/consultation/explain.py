"""How a line of the advice was reached: from the answers through facts, computations and rules, in sentences."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from advisor.calculators import formula_of
from advisor.computing.run import put_in
from advisor.consultation.advice import Advice, Candidate, Choice
from advisor.consultation.assume import assumption_for
from advisor.consultation.calculate import inputs_of
from advisor.consultation.catalogued import read_of_things
from advisor.consultation.choices import STRENGTHS
from advisor.consultation.consult import Consultation
from advisor.consultation.facts import Fact
from advisor.consultation.spoken import Said, evidence_firings, spoken
from advisor.consultation.texts import inside
from advisor.engine.program import Firing
from advisor.knowledge.model import NUMBER_OPERATORS, Calculation, Condition, split_end
from advisor.knowledge.rulebase import EVERY, Material, RuleBase

AS_BEFORE = "the same, by another way."
_COPY = "same = "
_RULED_OUT = ("rule_out", "withdraw")


@dataclass(frozen=True)
class Reason:
    """One sentence of an explanation; `depth` is how many conclusions lie between it and the line explained.

    `fact` is the fact that the sentence tells of, where it tells of one; `also` says that the sentence begins
    another chain to what was explained already.
    """

    depth: int
    text: str
    source: tuple[str, ...] = ()
    fact: str = ""
    also: bool = False

    def with_source(self, rule_base: RuleBase) -> str:
        """The sentence with the titles of its sources behind it."""
        titles = "; ".join(rule_base.sources[name].title for name in self.source)
        return self.text + (f" [{titles}]" if titles else "")


class Explainer:
    """Explains the lines of one advice; built once, it answers for any line without evaluating again."""

    def __init__(self, case: Consultation, advice: Advice | None = None) -> None:
        self.case, self.result = case, case.concluded()
        self.texts = case.texts_of(self.result)
        self.lines = tuple(spoken(advice or case.advice(), self.result, case.rule_base, self.texts))
        self._read: dict[str, list[tuple[Material, list[str]]]] = {}

    def read_of_things(self, entry: Calculation) -> list[tuple[Material, list[str]]]:
        """What a computation reads of the things that it is handed, found once."""
        if entry.calculation not in self._read:
            self._read[entry.calculation] = list(read_of_things(entry, self.result.facts, self.case.rule_base))
        return self._read[entry.calculation]

    def lines_with(self, words: str) -> list[Said]:
        """The lines that hold these words as they stand, else all of them in any order; big and small letters alike."""
        wanted = words.casefold()
        found = [said for said in self.lines if wanted in said.text.casefold()]
        return found or [said for said in self.lines if all(word in said.text.casefold() for word in wanted.split())]

    def explain(self, said: Said) -> list[Reason]:
        """The chain from the answers to a line, the line's own reason first; each fact is explained once."""
        return list(_Chain(self).of_line(said))


class _Chain:
    def __init__(self, explainer: Explainer) -> None:
        self.explainer = explainer
        self.rule_base, self.result, self.texts = explainer.case.rule_base, explainer.result, explainer.texts
        self.seen: set[str] = set()
        self.fired: set[int] = set()

    def of_line(self, said: Said) -> Iterator[Reason]:
        if said.note:
            yield Reason(0, said.note, said.source)
        found = list(self.of_firings(said.firings, 0))
        if said.rule in self.rule_base.rules and not said.firings:
            rule = self.rule_base.rules[said.rule]
            found = [Reason(0, f"{rule.says} That was found on the way; with what it left out, all was gone through "
                            "again.", rule.sources)]
        yield from found
        depth = 1 if said.firings else 0
        for name in dict.fromkeys(said.facts):
            yield from self.of_fact(name, depth)

    def of_firings(self, firings: tuple[Firing, ...], depth: int) -> Iterator[Reason]:
        """Several firings are several chains to the same thing: any one of them would do."""
        began, said = False, set[str]()
        for firing in firings:
            if id(firing) in self.fired:
                continue
            self.fired.add(id(firing))
            rule, binding = firing.rule.rule, firing.rule.binding
            text = f"{self.texts.fill(rule.says, binding)} {self.texts.fill(rule.because, binding)}"
            yield Reason(depth, AS_BEFORE if text in said else text, rule.sources, also=began)
            began = True
            said.add(text)
            for id_ in firing.support:
                yield from self.of_fact(id_, depth + 1)

    def of_fact(self, id_: str, depth: int) -> Iterator[Reason]:
        """The chain behind a fact, or behind one word of several (`name=word`)."""
        name, _, word = id_.partition("=")
        fact = self.result.facts.get(name)
        several = fact is not None and fact.origin == "rule" and isinstance(fact.value, tuple)
        key = id_ if several else name
        if fact is None or key in self.seen:
            return
        self.seen.add(key)
        value = self.texts.value(name, fact.value)
        if fact.origin in ("answer", "assumption"):
            yield from self._of_answer(name, fact, depth)
        elif fact.origin == "calculation":
            yield from self._of_calculation(name, value, fact, depth)
        elif fact.origin == "rule":
            yield from self.of_firings(self._deriving(fact, word if several else ""), depth)
        elif fact.origin == "decision":
            yield from self._of_decision(name, depth) if name == fact.by else self._of_standing(fact, depth)
        elif fact.origin == "property":
            thing, _, attribute = name.rpartition(".")
            form = self.rule_base.attribute(name)
            label = form.label.lower() if form else attribute
            held = self.texts.value(thing, self.result.facts.value(thing))
            yield Reason(depth, f"Of {held} it is known: {label}, {value}.", self._property_source(fact), name)
            yield from self.of_fact(thing, depth + 1)

    def _property_source(self, fact: Fact) -> tuple[str, ...]:
        kind, _, thing = fact.by.partition("/")
        found = self.rule_base.materials.get(kind, {}).get(thing)
        return found.thing.sources if found else ()

    def _deriving(self, fact: Fact, word: str) -> tuple[Firing, ...]:
        """The firings that conclude a fact's value (or one word of it), the one that was first in front."""
        wanted = {word} if word else set(self.result.facts.words(fact.name))
        found = [firing for firing in self.result.firings for derived in firing.rule.derives
                 if derived.key == fact.name and (not wanted or derived.value in wanted)]
        return tuple(sorted(found, key=lambda firing: firing.rule.rule.rule != fact.by))

    def _of_answer(self, name: str, fact: Fact, depth: int) -> Iterator[Reason]:
        question = self.rule_base.questions[name]
        asked = f"You were asked: {question.ask} {self.texts.said(name)}"
        if fact.origin == "answer":
            yield Reason(depth, asked, fact=name)
            return
        _, because = assumption_for(question, self.result.facts)
        yield Reason(depth, f"{asked} {because or question.why}", fact=name)
        for case in question.dont_know.instead if question.dont_know else ():
            yield from self._of_condition(case.when, depth + 1)

    def _of_calculation(self, name: str, value: str, fact: Fact, depth: int) -> Iterator[Reason]:
        entry = self.rule_base.calculations[fact.by]
        formula = formula_of(entry.using)
        worked = put_in(formula, inputs_of(entry, self.result.facts, self.rule_base))
        shown = value if name in self.rule_base.facts and self.rule_base.facts[name].kind != "record" else "a list"
        put = f"; with the numbers: {worked}" if worked != formula else ""
        reckoned = "" if formula.startswith(_COPY) else f" {formula}{put}."
        yield Reason(depth, f"{entry.label}: {shown}.{reckoned}", entry.sources, name)
        for read in _read_by(entry):
            yield from self.of_fact(read, depth + 1)
        yield from self._of_things(entry, depth + 1)
        yield from self._of_condition(entry.when, depth + 1)

    def _of_things(self, entry: Calculation, depth: int) -> Iterator[Reason]:
        """What is known of the things that a computation takes by name out of all of their kind."""
        for material, properties in self.explainer.read_of_things(entry):
            thing = material.thing
            fresh = [name for name in properties if f"{thing.kind}/{thing.thing}.{name}" not in self.seen]
            self.seen.update(f"{thing.kind}/{thing.thing}.{name}" for name in fresh)
            forms, owner = self.rule_base.kinds[thing.kind].attributes, f"{EVERY}{thing.kind}"
            values = {name: self.texts.value(f"{owner}.{name}", material.values[name]) for name in fresh}
            known = "; ".join(f"{forms[name].label.lower()}, {value}" for name, value in values.items())
            if known:
                yield Reason(depth, f"Of {inside(thing.label)} it is known: {known}.", thing.sources, owner)

    def _of_condition(self, condition: Condition | None, depth: int) -> Iterator[Reason]:
        for test in condition.tests if condition else ():
            for name in (test.fact, *(test.values if test.operator in NUMBER_OPERATORS else ())):
                yield from self.of_fact(name, depth)

    # -- decisions

    def _of_decision(self, decision: str, depth: int) -> Iterator[Reason]:
        choice = self.result.choices[decision]
        chosen = next((one for one in choice.candidates if one.id == choice.chosen), None)
        if chosen is None:
            yield Reason(depth, f"{choice.label}: nothing is left to choose.", fact=decision)
        else:
            yield Reason(depth, f"{choice.label}: {self.texts.value(decision, chosen.id)}. It was chosen "
                         f"({_balance(chosen)}).", fact=decision)
            yield from self._of_evidence(choice, chosen, depth + 1)
        yield from self._of_condition(self.rule_base.decisions[decision].when, depth + 1)
        for other in choice.candidates:
            if other is not chosen and any(line.strength in ("require", "favour") for line in other.evidence):
                out = other.standing == "ruled_out"
                tie = chosen is not None and _as_good(chosen, other)
                weighs = "weighs just as much, but stands later in the list" if tie else "weighs less"
                how = "is ruled out" if out else f"{weighs} ({_balance(other)})"
                yield Reason(depth + 1, f"Not chosen: {self.texts.value(decision, other.id)}. It {how}.")
                yield from self._of_evidence(choice, other, depth + 2, _RULED_OUT if out else ())

    def _of_standing(self, fact: Fact, depth: int) -> Iterator[Reason]:
        """How what a person means to choose stands: what was said of it, and the choice it stands against."""
        choice = self.result.choices[fact.by]
        planned = {id_.partition("=")[2] for id_ in fact.support}
        for candidate in choice.candidates:
            if candidate.id in planned:
                said = "is ruled out" if candidate.standing == "ruled_out" else f"has {_balance(candidate)}"
                label = self.texts.value(fact.by, candidate.id)
                yield Reason(depth, f"{choice.label}: what you plan, {label}, {said}.", fact=fact.name)
                yield from self._of_evidence(choice, candidate, depth + 1)
        for id_ in (*fact.support, fact.by):
            yield from self.of_fact(id_, depth + 1)

    def _of_evidence(self, choice: Choice, candidate: Candidate, depth: int,
                     strengths: tuple[str, ...] = ()) -> Iterator[Reason]:
        for line in candidate.evidence:
            if strengths and line.strength not in strengths:
                continue
            firings = evidence_firings(self.result, choice.decision, candidate.id, line.rule)
            if firings:
                yield from self.of_firings(firings, depth)
            else:
                yield Reason(depth, line.because, line.source)


def _read_by(entry: Calculation) -> Iterator[str]:
    """The facts that a computation reads; computed lists among them, which the engine never sees."""
    return (split_end(item)[0] for given in entry.inputs.values() for item in given)


def _balance(candidate: Candidate) -> str:
    """How the reasons stand, in the terms that choosing goes by: required first, then by strength."""
    required = "because it is required; " if _rules(candidate, "require") else ""
    return f"{required}for it: {_counted(candidate, 'favour')}, against it: {_counted(candidate, 'oppose')}"


def _counted(candidate: Candidate, does: str) -> str:
    counts = {weight: _rules(candidate, does, weight) for weight in STRENGTHS}
    return " and ".join(f"{count} {weight}" for weight, count in counts.items() if count) or "nothing"


def _rules(candidate: Candidate, does: str, weight: str | None = None) -> int:
    return len({line.rule for line in candidate.evidence
                if line.strength == does and weight in (None, line.weight)})


def _as_good(one: Candidate, other: Candidate) -> bool:
    """Whether only the order in the list decides between two candidates."""
    def net(candidate: Candidate) -> list[int]:
        return [bool(_rules(candidate, "require")), *(_rules(candidate, "favour", weight) - _rules(
            candidate, "oppose", weight) for weight in STRENGTHS)]
    return net(one) == net(other)
