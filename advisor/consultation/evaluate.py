"""One evaluation: answers to facts, stage by stage, with every firing kept.

Nothing is retracted. When a later stage withdraws a method, everything is evaluated again without it.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from copy import copy
from dataclasses import dataclass, field
from typing import Any, TypeVar

from advisor.consultation.advice import Choice, EvidenceLine
from advisor.consultation.answers import Answer, read_answer
from advisor.consultation.assume import assumption_for, goes_unasked
from advisor.consultation.calculate import Calculations, Withheld, run_calculations
from advisor.consultation.choices import Weighed, choose
from advisor.consultation.conditions import holds, marker_posts, marker_support
from advisor.consultation.facts import Attributes, Fact, Facts, Value
from advisor.consultation.planned import judge_plan
from advisor.consultation.texts import System, Texts
from advisor.consultation.waiting import Waiting
from advisor.engine.program import Chainer, Firing, Posted, Program, Programs, numbers_compared
from advisor.knowledge import model as m
from advisor.knowledge.numbers import exact
from advisor.knowledge.rulebase import RuleBase

FormType = TypeVar("FormType", bound=m.Form)
_MOST_REASONS = 2


@dataclass
class Evaluation:
    """Everything one evaluation found."""

    facts: Facts
    firings: list[Firing] = field(default_factory=list)
    choices: dict[str, Choice] = field(default_factory=dict)
    withheld: list[Withheld] = field(default_factory=list)
    withdrawn: list[Weighed] = field(default_factory=list)
    refused: list[tuple[m.Decision, str]] = field(default_factory=list)
    asked: dict[str, None] = field(default_factory=dict)
    untold: list[str] = field(default_factory=list)
    assumed: list[str] = field(default_factory=list)
    waiting: tuple[m.Question, ...] = ()
    ended_by: str | None = None
    _lines: dict[type, list[tuple[Firing, Any]]] = field(default_factory=dict, init=False, repr=False, compare=False)
    _sorted: int = field(default=0, init=False, repr=False, compare=False)

    def conclusions(self, form: type[FormType]) -> list[tuple[Firing, FormType]]:
        """Every conclusion of one form, in the order of firing."""
        for firing in self.firings[self._sorted:]:
            for line in firing.rule.rule.then:
                self._lines.setdefault(type(line), []).append((firing, line))
        self._sorted = len(self.firings)
        return self._lines.get(form, [])

    def contradictions(self) -> list[tuple[Firing, m.SendBack]]:
        """Answers that cannot all be right; an assumption never contradicts what a person said."""
        return [(firing, line) for firing, line in self.conclusions(m.SendBack)
                if not set(line.questions) & set(self.assumed)]


@dataclass(frozen=True)
class _Read:
    """What is the same in every evaluation: the attributes of things, and the values of written assumptions."""

    attributes: Attributes
    assumptions: dict[tuple[str, object], Value]


class Evaluator:
    """Evaluates answers against a rule base with one chainer."""

    def __init__(self, rule_base: RuleBase, programs: Programs, chainer: Chainer,
                 at_hand: Iterable[Weighed] = ()) -> None:
        self.rule_base = rule_base
        self.programs = programs
        self._chainer = chainer
        self._at_hand = tuple(at_hand)
        self._calculations = Calculations(rule_base)
        self._compared_with: dict[str, list[float]] = {}
        self._read = _Read({}, {})

    def with_things(self, rule_base: RuleBase) -> Evaluator:
        """The same evaluator for things with other properties, of which the compiled rules read none outright."""
        one = copy(self)
        one.rule_base, one._read, one._calculations = rule_base, _Read({}, {}), Calculations(rule_base)
        return one

    def outlined(self, rule_base: RuleBase, programs: Programs) -> Evaluator:
        """The same evaluator, memory included, for what a case comes to and not for what is said of it."""
        one = copy(self)
        one.rule_base, one.programs, one._chainer = rule_base, programs, self._chainer.outlined()
        return one

    def compared_with(self, fact: str) -> Sequence[float]:
        """The numbers that rules compare a fact with, rising."""
        if not self._compared_with:  # filled in place: shared with the evaluators of outlines
            self._compared_with.update(numbers_compared(self.programs))
        return self._compared_with.get(fact, [])

    def evaluate(self, answers: Mapping[str, Answer], *, final: bool, system: System = "metric",
                 given: Mapping[str, Value] | None = None) -> Evaluation:
        """Evaluate answers.

        With `final`, a question that matters and was not answered counts as `I don't know`; an essential one
        ends the evaluation. `given` states facts outright (examples beside the rules), or as
        facts with their origin.
        """
        withdrawn: list[Weighed] = []
        for _ in range(1 + sum(len(things) for things in self.rule_base.materials.values())):
            run = _Run(self.rule_base, self.programs, self._chainer, answers, final, given or {}, withdrawn, system,
                       self._at_hand, self._calculations, self._read)
            result = run.run()
            fresh = [item for item in run.newly_withdrawn if item not in withdrawn]
            if not fresh:
                return result
            withdrawn = withdrawn + fresh
        return result

    def conclude(self, answers: Mapping[str, Answer], system: System) -> Evaluation:
        """The evaluation that advice rests on: what stops the work needs no more answers."""
        result = self.evaluate(answers, final=True, system=system)
        if result.ended_by == "incomplete" and \
                (stopped := self.evaluate(answers, final=False, system=system)).ended_by == "stop":
            return stopped
        return result


class _Run:
    """One pass through the stages."""

    def __init__(self, rule_base: RuleBase, programs: Programs, chainer: Chainer, answers: Mapping[str, Answer],
                 final: bool, given: Mapping[str, Value], withdrawn: list[Weighed], system: System,
                 at_hand: tuple[Weighed, ...], calculations: Calculations, read: _Read) -> None:
        self.rule_base, self.programs, self.chainer = rule_base, programs, chainer
        self.answers, self.final, self.given, self.read = answers, final, given, read
        self.calculations = calculations
        self.result = Evaluation(Facts(rule_base, read.attributes), withdrawn=withdrawn)
        self.texts = Texts(rule_base, self.facts, system)
        self.evidence: dict[tuple[str, ...], Weighed] = {(str(place),): one for place, one in enumerate(at_hand)}
        self.newly_withdrawn: list[Weighed] = []
        self.waiting = Waiting(rule_base.questions_in_order, lambda question: question.when)
        self._facts_judged = -1

    @property
    def facts(self) -> Facts:
        return self.result.facts

    def run(self) -> Evaluation:
        for name, value in self.given.items():
            fact = value if isinstance(value, Fact) else Fact(name, value, "given")
            self.facts.add(fact)
            self.result.assumed += [name] if fact.origin == "assumption" else []
        for stage in self.rule_base.stages:
            self._take_answers()
            self.result.withheld += run_calculations(stage, self.facts, self.rule_base, self.calculations)
            self._take_answers()
            self._fire(stage)
            if self._ended() or not self._decide(stage):
                break
        self.result.waiting = tuple(self.waiting)
        return self.result

    def _take_answers(self) -> None:
        """Take in the answers of every question whose condition can be judged by now."""
        while self._facts_judged != len(self.facts):
            self._facts_judged = len(self.facts)
            self.waiting.take(self.facts, self._take)

    def _take(self, question: m.Question) -> None:
        name = question.question
        if name not in self.facts and name not in self.answers and goes_unasked(question, self.facts):
            self._assume(question)
            return
        self.result.asked[name] = None
        if name in self.facts:
            return
        answer = self.answers.get(name)
        if answer is None and not self.final:
            self.result.untold.append(name)
        elif answer is None or answer.unknown:
            if answer is None:
                self.result.untold.append(name)
            if question.essential == "no" or (answer is not None and question.takes_unknown):
                self._assume(question)
        else:
            self.facts.add(Fact(name, answer.value, "answer", name))

    def _assume(self, question: m.Question) -> None:
        assumption, _ = assumption_for(question, self.facts)
        self.result.assumed.append(question.question)
        self.facts.add(Fact(question.question, self._as_read(question, assumption), "assumption", question.question))

    def _as_read(self, question: m.Question, assumption: str | None) -> Value:
        """An assumption as an answer would be read; UNKNOWN where nothing is assumed."""
        if assumption is None:
            return m.UNKNOWN
        key = question.question, assumption
        if key not in self.read.assumptions:
            self.read.assumptions[key] = read_answer(self.rule_base, *key, question.where).value
        return self.read.assumptions[key]

    def _fire(self, stage: str) -> None:
        program = self.programs[stage]
        markers = marker_posts(program, self.facts)
        key_of = {marker.id: marker.key for marker in markers}
        posts = [*self.facts.posted(program.keys), *markers]
        fired = [self._without_markers(firing, key_of, program) for firing in self.chainer.run(stage, posts)]
        for firing in fired:
            for derived in firing.rule.derives:
                self.facts.add(Fact(derived.key, self._value(derived), "rule", firing.rule.rule.rule, firing.support))
        for firing in sorted(fired, key=lambda one: one.rule.place):  # told as the rules are written
            self.result.firings.append(firing)
            self._weigh(firing)

    def _without_markers(self, firing: Firing, key_of: Mapping[str, str], program: Program) -> Firing:
        """The firing with the facts behind each marker in place of the marker."""
        if key_of.keys().isdisjoint(firing.support):
            return firing
        return Firing(firing.rule, tuple(
            behind for id_ in firing.support
            for behind in (marker_support(key_of[id_], program, self.facts) if id_ in key_of else (id_,))))

    def _value(self, derived: Posted) -> Value:
        if isinstance(derived.value, str):
            form = self.rule_base.facts[derived.key]
            return (derived.value,) if form.kind == "several" else derived.value
        return exact(derived.value, self.rule_base.facts[derived.key].unit or "fraction")

    def _ended(self) -> bool:
        """A stop, a contradiction or (in the final evaluation) a missing essential answer ends it."""
        if self.result.contradictions():
            self.result.ended_by = "send_back"
        elif self.result.conclusions(m.Stop):
            self.result.ended_by = "stop"
        if self.result.ended_by is not None:
            return True
        missing = [name for name in self.result.untold if self.rule_base.questions[name].essential == "yes"]
        if self.final and missing:
            self.result.ended_by = "incomplete"
        return self.result.ended_by is not None

    def _decide(self, stage: str) -> bool:
        """Make the decisions of a stage; False when the evaluation ends here."""
        self.newly_withdrawn = [item for item in self.evidence.values() if item.line.strength == "withdraw"
                                and item not in self.result.withdrawn]
        for decision in self.rule_base.decisions.values():
            if decision.stage != stage or not holds(decision.when, self.facts):
                continue
            if decision.decision in self.facts:
                continue
            choice = choose(decision, [*self.evidence.values(), *self.result.withdrawn], self.rule_base)
            self.result.choices[decision.decision] = choice
            if choice.chosen is not None:
                self.facts.add(Fact(decision.decision, choice.chosen, "decision", decision.decision))
                for fact in judge_plan(decision, choice, self.facts):
                    self.facts.add(fact)
            elif not self._without_candidate(decision):
                return False
        return not (self.newly_withdrawn and self.final)

    def _without_candidate(self, decision: m.Decision) -> bool:
        """What follows when nothing is left to choose; False when the evaluation ends."""
        if not self.final:
            return True
        withdrawn = decision.if_none.withdraw
        chosen = self.facts.value(withdrawn) if withdrawn else None
        if withdrawn is not None and isinstance(chosen, str):
            reason = " ".join([f"No {decision.label.lower()} is left that would hold here.",
                               *_ruled_out_by(self.result.choices[decision.decision])])
            self.newly_withdrawn.append(Weighed(withdrawn, chosen, EvidenceLine(
                rule=f"decision.{decision.decision}", because=reason, source=(), strength="withdraw")))
        else:
            self.result.refused.append((decision, decision.if_none.refer or ""))
            self.result.ended_by = "refer"
        return False

    def _weigh(self, firing: Firing) -> None:
        """Keep the evidence of a firing, its reason filled in with what is known by now."""
        rule, binding = firing.rule.rule, firing.rule.binding
        because = self.texts.fill(rule.because, binding) if firing.rule.evidence else ""
        for line in firing.rule.evidence:
            said: EvidenceLine | None = None
            for name in line.candidates:
                candidate = binding.candidate(name)
                key = (line.decision, candidate, rule.rule, line.does, line.strength or "", because)
                if key not in self.evidence:  # the same rule often says the same of both faces
                    said = said or EvidenceLine(rule=rule.rule, because=because, source=rule.sources,
                                                strength=line.does, weight=line.strength)
                    self.evidence[key] = Weighed(line.decision, candidate, said)


def _ruled_out_by(choice: Choice) -> list[str]:
    """What rules out the candidates of a choice of which none is left, the most frequent reasons first."""
    found = Counter(line.because for one in choice.candidates for line in one.evidence
                    if line.strength in ("rule_out", "withdraw"))
    return [because for because, _ in found.most_common(_MOST_REASONS)]
