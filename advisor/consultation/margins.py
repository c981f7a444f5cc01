"""Margins: a value against its limit, what the ratio of the two means, how sure it is, and what was assumed."""

from __future__ import annotations

from collections.abc import Iterator

from advisor.calculators import formula_of, source_of
from advisor.computing.run import put_in
from advisor.consultation import advice as a
from advisor.consultation.calculate import inputs_of
from advisor.consultation.dependence import spread_from
from advisor.consultation.evaluate import Evaluation
from advisor.consultation.facts import Facts
from advisor.consultation.lines import Line, lines_of
from advisor.consultation.texts import Texts
from advisor.knowledge import model as m
from advisor.knowledge.numbers import Number
from advisor.knowledge.rulebase import RuleBase


class Margins:
    """The checks of one evaluation as lines of the advice."""

    def __init__(self, rule_base: RuleBase, result: Evaluation, texts: Texts) -> None:
        self._rule_base, self._result, self._texts = rule_base, result, texts

    @property
    def _facts(self) -> Facts:
        return self._result.facts

    def lines(self) -> Iterator[a.CheckLine]:
        """Every check whose value and limit are known."""
        for line in lines_of(self._result, m.Check, self._texts):
            value, limit = self._facts.number(line.form.value), self._facts.number(line.form.against)
            if value is not None and limit is not None:
                yield self._line(line, value, limit.in_unit(value.unit))

    def _line(self, line: Line[m.Check], value: Number, limit: Number) -> a.CheckLine:
        form, rule = line.form, line.firing.rule.rule
        least, spare, most = _spare(form, value, limit)
        formula, with_numbers = self._worked(form)
        return a.CheckLine(
            name=line.fill(self._texts, form.name), value=value.value, low=value.low, high=value.high,
            limit=limit.value, limit_low=limit.low, limit_high=limit.high, bound=form.bound, unit=value.unit,
            margin=spare, ratio=value.value / limit.value if limit.value else None,
            verdict=self._verdict(form, least, spare, limit), straddles=least < 0 <= most,
            formula=formula or rule.says, with_numbers=with_numbers,
            assumed=tuple(assumptions_behind(self._facts, [form.value, form.against])), source=rule.sources,
            spread_from=self._spread_from(form) if least < 0 <= most else None, not_taken=form.not_taken == "yes")

    def _spread_from(self, form: m.Check) -> str | None:
        found = (spread_from(name, self._facts, self._rule_base, self._texts) for name in (form.value, form.against))
        return next((one for one in found if one), None)

    def _verdict(self, form: m.Check, least: float, spare: float, limit: Number) -> a.Verdict:
        """A margin in words: by its own scale where the check has one, else as a share of the limit.

        One that likely holds and may yet fail is doubtful, however much is likely to spare.
        """
        if spare < 0:
            return "fails"
        if least < 0:
            return "doubtful"
        if not spare:
            return "thin"
        scale = self._facts.number(form.ample) if form.ample else None
        whole = scale.in_unit(limit.unit).value if scale else abs(limit.value) * self._rule_base.numbers[
            "margin_ample"].value
        adequate = self._rule_base.numbers["margin_adequate"].value
        return "ample" if spare >= whole else "adequate" if spare >= whole * adequate else "thin"

    def _worked(self, form: m.Check) -> tuple[str, str]:
        """The formulas behind value and limit, and the same with this job's numbers put in."""
        names = [fact.by for name in (form.value, form.against)
                 if (fact := self._facts.get(name)) and fact.origin == "calculation"]
        calculations = [self._rule_base.calculations[name] for name in names]
        formulas = [formula_text(calculation) for calculation in calculations]
        worked = [put_in(formula_of(calculation.using), inputs_of(calculation, self._facts, self._rule_base))
                  for calculation in calculations]
        return "; ".join(formulas), "; ".join(worked)


def formula_text(calculation: m.Calculation) -> str:
    """A computation's label, formula and source in one line."""
    return f"{calculation.label}: {formula_of(calculation.using)} ({source_of(calculation.using)})"


def assumptions_behind(facts: Facts, names: list[str]) -> Iterator[str]:
    """The questions whose assumed answers the named facts rest on."""
    return (fact.name for fact in facts.behind(names) if fact.origin == "assumption")


def _spare(form: m.Check, value: Number, limit: Number) -> tuple[float, float, float]:
    """How much is to spare at worst, likely and at best."""
    if form.bound == "at_least":
        return value.low - limit.high, value.value - limit.value, value.high - limit.low
    return limit.low - value.high, limit.value - value.value, limit.high - value.low
