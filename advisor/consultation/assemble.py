"""From an evaluation to advice: conclusions gathered, merged, sorted and put into words."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from advisor.consultation import advice as a
from advisor.consultation.answers import Answer
from advisor.consultation.assume import assumption_for
from advisor.consultation.dependence import spread_from
from advisor.consultation.drawn import drawn_of, length
from advisor.consultation.evaluate import Evaluation
from advisor.consultation.lines import FormType, Line, lines_of
from advisor.consultation.margins import Margins, assumptions_behind, formula_text
from advisor.consultation.products import ProductLines
from advisor.consultation.records import batches, minutes, packs_text, rows
from advisor.consultation.review import WHAT_THE_RULES_WOULD_DO, counted, one_verdict_each
from advisor.consultation.roots import weighed_most
from advisor.consultation.status import heads_of, status_of
from advisor.consultation.texts import System, Texts
from advisor.consultation.to_read import numbers_to_read
from advisor.engine.program import Firing
from advisor.knowledge import model as m
from advisor.knowledge.drawable import PARTS
from advisor.knowledge.numbers import Number
from advisor.knowledge.product_card import ProductCard
from advisor.knowledge.rulebase import RuleBase

VERSION = "1"
AS_NEEDED = "as needed"
CLOSE_CALL = "A close call: {other} would serve nearly as well."
_SEVERITY = ("stop", "danger", "care", "note")
_ORIGINS = {"answer": "you said so", "assumption": "taken because it was not known", "given": "stated",
            "decision": "weighed", "property": "recorded property"}


class Assembler:
    """Builds Advice from one evaluation."""

    def __init__(self, rule_base: RuleBase, result: Evaluation, answers: Mapping[str, Answer], title: str,
                 system: System, cards: Sequence[ProductCard] = ()) -> None:
        self.cards = cards
        self.rule_base, self.result, self.answers = rule_base, result, answers
        self.title, self.system = title, system
        self.texts = Texts(rule_base, result.facts, system)

    def advice(self, pivotal: tuple[a.Pivot, ...] = ()) -> a.Advice:
        """The whole advice; after a stop or referral only what belongs to it."""
        status = status_of(self.result, self.rule_base)
        common: dict[str, Any] = {
            "title": self.title, "status": status, "units": self.system, "assumed": tuple(self._assumed()),
            "missing": tuple(self._missing()), "trace": tuple(self._trace()),
            "rule_base": a.RuleBaseStamp(version=VERSION, hash=self.rule_base.hash)}
        if status in ("stop", "refer", "incomplete"):
            return a.Advice(method=None, products=self._products(()), verdict=self._end_verdict(status),
                            turn_to=tuple(self._turn_to()), cautions=tuple(self._end_cautions(status)),
                            methods=self._methods(), **common)
        checks = tuple(Margins(self.rule_base, self.result, self.texts).lines())
        review = one_verdict_each(self._review())
        return a.Advice(
            method=self._chosen("method"), verdict=self._verdict(status, review), methods=self._methods(),
            choices=tuple(self.result.choices.values()), specification=tuple(self._specification()),
            quantities=tuple(self._quantities()), steps=tuple(self._steps()), batches=tuple(self._batches()),
            conditions=tuple(self._conditions()), readings=tuple(self._readings()),
            working_times=tuple(self._working_times()), recall=self._recall(),
            onward=tuple(self._onward()), checks=checks, review=review, products=self._products(checks),
            cautions=tuple(self._cautions()),
            confirm=tuple(self._confirm(checks)), pivotal=self._pivotal(pivotal),
            drawn=drawn_of(self.result.facts, self.rule_base, self.texts, tuple(self._parts_drawn())), **common)

    def _products(self, checks: tuple[a.CheckLine, ...]) -> tuple[a.ProductLine, ...]:
        return ProductLines(self.rule_base, self.result, self.texts, checks).of(self.cards)

    def _pivotal(self, tried: tuple[a.Pivot, ...]) -> tuple[a.Pivot, ...]:
        """The unknown answers that were tried, then those that weighed most, each question once."""
        known = {pivot.question for pivot in tried}
        return (*tried, *(pivot for pivot in weighed_most(self.result, self.rule_base, self.texts)
                          if pivot.question not in known))

    # -- what it comes to

    def _chosen(self, decision: str) -> str | None:
        choice = self.result.choices.get(decision)
        return choice.chosen if choice else None

    def _methods(self) -> tuple[a.Candidate, ...]:
        choice = self.result.choices.get("method")
        return choice.candidates if choice else ()

    def _verdict(self, status: a.Status, review: tuple[a.ReviewLine, ...]) -> str:
        heads = heads_of(self.result, self.rule_base)
        said = [counted(review), WHAT_THE_RULES_WOULD_DO] if review else []
        said += [self._said(choice) for choice in heads]
        if status == "close_call":
            said.append(self._close_call(heads[-1]))
        return " ".join(said)

    def _close_call(self, choice: a.Choice) -> str:
        other = self._label(choice, choice.close_to)
        wording = self.rule_base.decisions[choice.decision].close_call or CLOSE_CALL
        return wording.replace("{other}", other[:1].lower() + other[1:])

    def _said(self, choice: a.Choice) -> str:
        thing = self.rule_base.materials[self.rule_base.decisions[choice.decision].of][choice.chosen or ""].thing
        return self.texts.fill(thing.say or thing.label)

    def _label(self, choice: a.Choice, candidate: str | None) -> str:
        return next((one.label for one in choice.candidates if one.id == candidate), "")

    def _end_verdict(self, status: a.Status) -> str:
        reasons = [self._because(firing) for firing, _ in self.result.conclusions(m.Stop)]
        reasons += [f"No {decision.label.lower()} is left that would hold here." for decision, _ in self.result.refused]
        if status == "incomplete":
            asked = [self.rule_base.questions[name].ask for name in self._missing_essential()]
            return "Before any advice is safe, answer: " + " ".join(asked)
        return " ".join(dict.fromkeys(reasons))

    def _turn_to(self) -> Iterator[str]:
        yield from dict.fromkeys([*(self.texts.fill(line.turn_to, firing.rule.binding)
                                    for firing, line in self.result.conclusions(m.Stop)),
                                  *(text for _, text in self.result.refused if text)])

    def _end_cautions(self, status: a.Status) -> Iterator[a.CautionLine]:
        """The stops, and of all cautions what the stopping rules raise and what matters without any work.

        While only answers are missing, work may follow: then every caution stands.
        """
        for firing, line in self.result.conclusions(m.Stop):
            yield a.CautionLine(id=firing.rule.rule.rule, severity="stop", text=self._says(firing),
                                because=self._because(firing), source=firing.rule.rule.sources,
                                defer_to=self.texts.fill(line.turn_to, firing.rule.binding))
        raised = {id_ for firing, line in self.result.conclusions(m.CautionRef) for id_ in line.cautions
                  if any(isinstance(then, m.Stop) for then in firing.rule.rule.then)}
        yield from (line for line in self._cautions() if status == "incomplete" or line.id in raised
                    or self.rule_base.cautions[line.id].without_method == "yes")

    # -- lines

    def _because(self, firing: Firing) -> str:
        return self.texts.fill(firing.rule.rule.because, firing.rule.binding)

    def _says(self, firing: Firing) -> str:
        return self.texts.fill(firing.rule.rule.says, firing.rule.binding)

    def _why(self, line: Line[Any]) -> a.Why:
        rule = line.firing.rule.rule
        return a.Why(rule=rule.rule, because=line.fill(self.texts, rule.because), source=rule.sources)

    def _lines(self, form: type[FormType]) -> Iterator[Line[FormType]]:
        return lines_of(self.result, form, self.texts)

    def _specification(self) -> Iterator[a.SpecificationLine]:
        found: dict[tuple[str, str], a.SpecificationLine] = {}
        for line in self._lines(m.Specify):
            about, say = line.fill(self.texts, line.form.about), line.fill(self.texts, line.form.say)
            found.setdefault((about, say), a.SpecificationLine(
                about=about, say=say, why=self._why(line), reckoned=line.form.reckoned == "yes"))
        for table in self._lines(m.TableLine):
            cells = rows(self.result.facts.value(table.form.rows), table.form.columns, self.rule_base, self.system)
            found.setdefault((table.form.title, ""), a.SpecificationLine(
                about=table.form.title, say=table.fill_optional(self.texts, table.form.note) or "",
                why=self._why(table), rows=cells, columns=dict(table.form.columns)))
        yield from found.values()

    def _quantities(self) -> Iterator[a.Quantity]:
        found: dict[str, a.Quantity] = {}
        for line in self._lines(m.QuantityLine):
            item = line.fill(self.texts, line.form.item)
            found.setdefault(item, self._quantity(item, line))
        yield from found.values()

    def _quantity(self, item: str, line: Line[m.QuantityLine]) -> a.Quantity:
        form = line.form
        number = self.result.facts.number(form.amount) if form.amount else None
        record = self.result.facts.value(form.packs) if form.packs else None
        return a.Quantity(
            item=item, amount=number.value if number else None, unit=number.unit if number else AS_NEEDED,
            low=number.low if number else None, high=number.high if number else None,
            packs=packs_text(record, number.unit if number else "fraction", self.system),
            basis=self._basis(form.amount) if number else AS_NEEDED, buy=form.buy == "yes",
            why=self._why(line), note=line.fill_optional(self.texts, form.note),
            spread_from=spread_from(form.amount or "", self.result.facts, self.rule_base, self.texts))

    def _basis(self, name: str | None) -> str:
        fact = self.result.facts.get(name or "")
        if fact is None or fact.origin != "calculation":
            return _ORIGINS.get(fact.origin, f"rule {fact.by}") if fact else ""
        return formula_text(self.rule_base.calculations[fact.by])

    def _steps(self) -> Iterator[a.StepLine]:
        phases = list(self.rule_base.phases)
        found: dict[str, Line[m.Step]] = {}
        for line in self._lines(m.Step):
            found.setdefault(line.fill(self.texts, line.form.do), line)
        ordered = sorted(found.items(), key=lambda item: (phases.index(item[1].form.phase), item[1].form.order))
        for number, (text, line) in enumerate(ordered, 1):
            form = line.form
            yield a.StepLine(
                number=number, phase=form.phase, text=text, duration=line.fill_if_known(self.texts, form.how_long),
                hold_point=line.fill_optional(self.texts, form.hold), why=self._why(line),
                right_when=line.fill_optional(self.texts, form.right_when),
                if_not=line.fill_optional(self.texts, form.if_not), wait=self._minutes(form.wait))

    def _minutes(self, name: str | None) -> a.Minutes | None:
        number = self._number(name)
        return None if number is None else minutes(number)

    def _number(self, name: str | None) -> Number | None:
        return None if name is None else self.rule_base.limit(name) or self.result.facts.number(name)

    def _batches(self) -> Iterator[a.Batch]:
        for _, line in self.result.conclusions(m.Batches):
            yield from batches(self.result.facts.value(line.record))
            return

    def _conditions(self) -> Iterator[a.ConditionLine]:
        order = ("no_go", "wait", "go")
        found = {line.fill(self.texts, line.form.say): line for line in self._lines(m.ConditionLine)}
        for say, line in sorted(found.items(), key=lambda item: order.index(item[1].form.verdict)):
            yield a.ConditionLine(say=say, verdict=line.form.verdict, why=self._why(line))

    def _readings(self) -> Iterator[a.ReadingLine]:
        found: dict[str, a.ReadingLine] = {}
        for line in self._lines(m.Reading):
            name = line.fill(self.texts, line.form.name)
            found.setdefault(name, a.ReadingLine(name=name, go_when=line.fill(self.texts, line.form.go_when),
                                                 unit=line.form.unit, phase=line.form.phase, answers=line.form.answers,
                                                 why=self._why(line)))
        yield from found.values()

    def _recall(self) -> dict[str, str]:
        return {name: value for _, line in self.result.conclusions(m.Recall) for name, value in line.values.items()}

    def _onward(self) -> Iterator[a.OnwardLine]:
        for line in self._lines(m.GoOn):
            answers = {name: self._taken_over(given) for name, given in line.form.answers.items()}
            yield a.OnwardLine(say=line.fill(self.texts, line.form.say), answers=answers, why=self._why(line))

    def _taken_over(self, given: str) -> str:
        return str(self.result.facts.value(given[1:-1])) if given.startswith("{") else given

    def _working_times(self) -> Iterator[a.WorkingTimeLine]:
        for line in self._lines(m.WorkingTime):
            time, temperature, energy = map(self._number, (line.form.time, line.form.temperature,
                                                           line.form.activation_energy))
            if time and temperature and energy:
                yield a.WorkingTimeLine(
                    about=line.fill(self.texts, line.form.about), time_min=minutes(time),
                    temperature_C=temperature.in_unit("C").value,
                    activation_energy_kJ_mol=energy.in_unit("kJ/mol").value,
                    colder=line.fill(self.texts, line.form.colder), warmer=line.fill(self.texts, line.form.warmer),
                    why=self._why(line))

    def _review(self) -> Iterator[a.ReviewLine]:
        for line in self._lines(m.Review):
            yield a.ReviewLine(about=line.fill(self.texts, line.form.about), say=line.fill(self.texts, line.form.say),
                               verdict=line.form.verdict, why=self._why(line))

    def _parts_drawn(self) -> Iterator[a.PartDrawn]:
        """Each part that rules name, as far as its measures are known."""
        for line in self._lines(m.Draw):
            known = {role: number for role, name in line.form.measures.items() if (number := self._number(name))}
            if all(role in known for role in PARTS[line.form.part].needs):
                yield a.PartDrawn(part=line.form.part, say=line.fill_optional(self.texts, line.form.say),
                                  measures={role: length(number) for role, number in known.items()},
                                  why=self._why(line))

    def _cautions(self) -> Iterator[a.CautionLine]:
        raised = dict.fromkeys(id_ for _, line in self.result.conclusions(m.CautionRef) for id_ in line.cautions)
        entries = [self.rule_base.cautions[id_] for id_ in raised]
        for entry in sorted(entries, key=lambda entry: _SEVERITY.index(entry.severity)):
            yield a.CautionLine(id=entry.caution, severity=entry.severity, text=self.texts.fill(entry.text),
                                because=self.texts.fill(entry.because), source=entry.sources,
                                defer_to=entry.defer_to)

    def _confirm(self, checks: tuple[a.CheckLine, ...]) -> Iterator[a.ConfirmLine]:
        """What rules ask to be read, then the generic numbers that this job reads, those first on which most hangs."""
        for text in dict.fromkeys(line.fill(self.texts, line.form.say) for line in self._lines(m.Confirm)):
            yield a.ConfirmLine(text=text)
        for one in numbers_to_read(self.result, self.rule_base, self.texts, checks):
            label = one.form.label
            yield a.ConfirmLine(text=f"{one.material.thing.label}: {label[:1].lower()}{label[1:]}",
                                used=self.texts.value(one.fact, one.value))

    # -- what was not told

    def _missing_essential(self) -> list[str]:
        return [name for name in self.result.untold if self.rule_base.questions[name].essential == "yes"]

    def _assumptions_that_count(self) -> list[str]:
        """All assumptions; after a stop or referral only those it rests on."""
        if self.result.ended_by is None:
            return self.result.assumed
        support = [id_ for firing, _ in self.result.conclusions(m.Stop) for id_ in firing.support]
        seen = set(assumptions_behind(self.result.facts, support))
        return [name for name in self.result.assumed if name in seen]

    def _assumed(self) -> Iterator[a.Assumed]:
        for name in self._assumptions_that_count():
            question = self.rule_base.questions[name]
            _, because = assumption_for(question, self.result.facts)
            shown = self.texts.value(name, self.result.facts.value(name))
            yield a.Assumed(question=name, ask=question.ask, value=shown,
                            because=because or question.why)

    def _missing(self) -> Iterator[a.MissingLine]:
        if self.result.ended_by in ("stop", "refer"):
            return  # more answers would not change it
        wanted = self._missing_essential() if self.result.ended_by == "incomplete" else self.result.untold
        for name in wanted:
            yield a.MissingLine(question=name, text=self.rule_base.questions[name].ask)
        for held in self.result.withheld:
            yield a.MissingLine(question=held.calculation.calculation,
                                text=f"{held.calculation.label} could not be worked out: {held.reason}")

    def _trace(self) -> Iterator[a.TraceLine]:
        for fact in self.result.facts:
            entry = self.rule_base.rules.get(fact.by) or self.rule_base.calculations.get(fact.by)
            because = _ORIGINS.get(fact.origin, "")
            if isinstance(entry, m.Rule):
                because = self.texts.fill(entry.because) if not entry.for_each else entry.says
            elif entry is not None:
                because = entry.label
            yield a.TraceLine(fact=fact.name, value=self.texts.value(fact.name, fact.value)
                              if not _is_record(fact.value) else "computed list", rule=fact.by, origin=fact.origin,
                              source=entry.sources if entry else (), because=because, from_=fact.support)


def _is_record(value: object) -> bool:
    return not isinstance(value, str | tuple | Number)
