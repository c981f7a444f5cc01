"""Every line of an advice that a person may ask about, and what stands behind it."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from advisor.consultation import advice as a
from advisor.consultation.evaluate import Evaluation
from advisor.consultation.lines import FormType, Line, lines_of
from advisor.consultation.status import heads_of
from advisor.consultation.texts import Texts
from advisor.engine.program import Firing
from advisor.knowledge import model as m
from advisor.knowledge.bindings import Binding
from advisor.knowledge.rulebase import RuleBase

_WORST_FIRST = ("fails", "change", "not_told")


@dataclass(frozen=True)
class Said:
    """One line of the advice: its part, its words, the firings that said it and the facts whose values it states.

    `rule` is the rule's id, empty where no single rule says the line. `note` is a reason that no rule holds.
    """

    part: str
    text: str
    rule: str = ""
    firings: tuple[Firing, ...] = ()
    facts: tuple[str, ...] = ()
    note: str = ""
    source: tuple[str, ...] = ()


def spoken(advice: a.Advice, result: Evaluation, rule_base: RuleBase, texts: Texts) -> Iterator[Said]:
    """The lines of the advice in the order of the report; every part that states something is among them."""
    yield from _Speaking(advice, result, rule_base, texts).all()


class _Speaking:
    def __init__(self, advice: a.Advice, result: Evaluation, rule_base: RuleBase, texts: Texts) -> None:
        self.advice, self.result, self.rule_base, self.texts = advice, result, rule_base, texts

    def all(self) -> Iterator[Said]:
        yield self._verdict()
        yield from self._choices()
        yield from self._of_rules()
        yield from self._batches()
        yield from self._cautions()
        yield from self._confirm()
        yield from self._not_told()
        yield from self._evidence()

    # -- lines that a rule says

    def _of_rules(self) -> Iterator[Said]:
        advice = self.advice
        specify = self._by(m.Specify, lambda line: line.fill(self.texts, line.form.say))
        tables = self._by(m.TableLine, lambda line: line.form.title)
        for spec in advice.specification:
            line: Line[Any] | None = specify.get(spec.say) or tables.get(spec.about)
            yield self._said("specification", f"{spec.about}: {spec.say}".removesuffix(": "), line, spec.why)
        amounts = self._by(m.QuantityLine, lambda line: line.fill(self.texts, line.form.item))
        for amount in advice.quantities:
            bought = f": {amount.packs}" if amount.packs else ""
            part = "to buy" if amount.buy else "amount"
            yield self._said(part, f"{amount.item}{bought}", amounts.get(amount.item), amount.why)
        steps = self._by(m.Step, lambda line: line.fill(self.texts, line.form.do))
        for step in advice.steps:
            yield self._said("step", f"{step.number}. {step.text}", steps.get(step.text), step.why)
        conditions = self._by(m.ConditionLine, lambda line: line.fill(self.texts, line.form.say))
        for condition in advice.conditions:
            yield self._said("today", condition.say, conditions.get(condition.say), condition.why)
        checks = self._by(m.Check, lambda line: line.fill(self.texts, line.form.name))
        for check in advice.checks:
            found = checks[check.name]
            why = a.Why(rule=found.firing.rule.rule.rule, because="", source=check.source)
            yield self._said("margin", f"{check.name}: {check.verdict}", found, why)
        readings = self._by(m.Reading, lambda line: line.fill(self.texts, line.form.name))
        for reading in advice.readings:
            yield self._said("reading", f"{reading.name}: {reading.go_when}", readings.get(reading.name), reading.why)
        times = self._by(m.WorkingTime, lambda line: line.fill(self.texts, line.form.about))
        for time in advice.working_times:
            yield self._said("working time", time.about, times.get(time.about), time.why)
        reviews = self._by(m.Review, lambda line: line.fill(self.texts, line.form.say))
        for review in advice.review:
            yield self._said("plan", f"{review.about}: {review.say}", reviews.get(review.say), review.why)

    def _by(self, form: type[FormType], key: Callable[[Line[FormType]], str]) -> Mapping[str, Line[FormType]]:
        found: dict[str, Line[FormType]] = {}
        for line in lines_of(self.result, form, self.texts):
            found.setdefault(key(line), line)
        return found

    def _said(self, part: str, text: str, line: Line[Any] | None, why: a.Why) -> Said:
        if line is None:
            return Said(part, text, why.rule, note=why.because, source=why.source)
        return Said(part, text, why.rule, line.firings, tuple(self._named(line.form, line.firings)))

    def _named(self, form: m.Form, firings: Iterable[Firing]) -> Iterator[str]:
        """The facts that a conclusion names, outright or inside its texts."""
        for firing in firings:
            yield from (name for name in named_in(form, firing.rule.binding) if name in self.result.facts)

    def _batches(self) -> Iterator[Said]:
        found = self.result.conclusions(m.Batches)
        for batch in self.advice.batches:
            firing, form = found[0]
            yield Said("batch", f"Batch {batch.number}: {batch.mass_kg * 1000:.0f} g", firing.rule.rule.rule, (firing,),
                       (form.record,))

    # -- what it comes to

    def _verdict(self) -> Said:
        text = self.advice.verdict
        stops = tuple(firing for firing, _ in self.result.conclusions(m.Stop))
        if stops and self.advice.status in ("stop", "refer"):
            return Said("verdict", text, stops[0].rule.rule.rule, stops)
        found = self.result.conclusions(m.Review)
        faulty = [firing for verdict in _WORST_FIRST for firing, form in found if form.verdict == verdict]
        reviews = tuple(faulty or (firing for firing, _ in found))
        heads = tuple(choice.decision for choice in heads_of(self.result, self.rule_base))
        refused = tuple(decision.decision for decision, _ in self.result.refused)
        note = " ".join(self.rule_base.questions[line.question].why for line in self.advice.missing
                        if line.question in self.rule_base.questions) if self.advice.status == "incomplete" else ""
        return Said("verdict", text, "", reviews if self.advice.review else (), heads + refused, note)

    def _choices(self) -> Iterator[Said]:
        for choice in self.advice.choices:
            chosen = next((one.label for one in choice.candidates if one.id == choice.chosen), None)
            if chosen is not None:
                yield Said("choice", f"{choice.label}: {chosen}", "", (), (choice.decision,))

    def _evidence(self) -> Iterator[Said]:
        for choice in self.result.choices.values():
            for candidate in choice.candidates:
                for line in candidate.evidence:
                    firings = evidence_firings(self.result, choice.decision, candidate.id, line.rule)
                    note = "" if firings else line.because
                    yield Said("reason", f"{candidate.label}: {line.because}", line.rule, firings, (), note,
                               line.source)

    # -- what may hurt, what to read off, what was not told

    def _cautions(self) -> Iterator[Said]:
        raised: dict[str, list[Firing]] = {}
        for firing, form in self.result.conclusions(m.CautionRef):
            for id_ in form.cautions:
                raised.setdefault(id_, []).append(firing)
        for firing, _ in self.result.conclusions(m.Stop):
            raised.setdefault(firing.rule.rule.rule, []).append(firing)
        for line in self.advice.cautions:
            firings = tuple(raised[line.id])
            yield Said("caution", line.text, firings[0].rule.rule.rule, firings, (), line.because, line.source)

    def _confirm(self) -> Iterator[Said]:
        asked = self._by(m.Confirm, lambda line: line.fill(self.texts, line.form.say))
        for text, line in asked.items():
            firing = line.firing.rule.rule
            yield self._said("data sheet", text, line, a.Why(rule=firing.rule, because="", source=firing.sources))
        told = {line.text for line in self.advice.confirm if line.used}
        for choice in self.result.choices.values() if told else ():
            decision = self.rule_base.decisions[choice.decision]
            material = self.rule_base.materials[decision.of].get(choice.chosen or "")
            for name, written in (material.thing.attributes.items() if material else ()):
                if isinstance(written, m.NumberText) and material is not None:
                    label = self.rule_base.kinds[decision.of].attributes[name].label
                    text = f"{material.thing.label}: {label[:1].lower()}{label[1:]}"
                    if text in told:
                        yield Said("data sheet", text, "", (), (f"{choice.decision}.{name}",))

    def _not_told(self) -> Iterator[Said]:
        for assumed in self.advice.assumed:
            yield Said("assumption", f"{assumed.ask} {assumed.value}", "", (), (assumed.question,))
        for line in self.advice.missing:
            question = self.rule_base.questions.get(line.question)
            calculation = self.rule_base.calculations.get(line.question)
            yield Said("missing", line.text, "", note=question.why if question else line.text,
                       source=calculation.sources if calculation else ())
        for pivot in self.advice.pivotal:
            outcomes = "; ".join(f"{value}: {outcome}" for value, outcome in pivot.outcomes.items())
            tried = "" if pivot.given else f"Each answer was tried. {outcomes}."
            yield Said("open answer" if tried else "weighed most", pivot.ask, "", (), (pivot.question,), tried)
        for product in self.advice.products:
            yield Said("product", product.say, note=product.say)


def evidence_firings(result: Evaluation, decision: str, candidate: str, rule: str) -> tuple[Firing, ...]:
    """The firings of a rule that gave evidence for or against one candidate of a decision."""
    return tuple(firing for firing, form in result.conclusions(m.Evidence)
                 if firing.rule.rule.rule == rule and form.decision == decision
                 and candidate in map(firing.rule.binding.candidate, form.candidates))


def named_in(form: m.Form, binding: Binding) -> Iterator[str]:
    """Everything that a conclusion names, outright or inside its texts, which may be facts."""
    return map(binding.fact, form.named) if binding.bound else iter(form.named)
