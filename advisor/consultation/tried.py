"""Other answers tried: which values are worth trying, and what each would lead to."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from advisor.consultation.answers import Answer
from advisor.consultation.evaluate import Evaluation, Evaluator
from advisor.consultation.facts import Value
from advisor.consultation.margins import Margins
from advisor.consultation.texts import System, Texts
from advisor.knowledge import model as m
from advisor.knowledge.numbers import Number, exact
from advisor.knowledge.rulebase import RuleBase

_WORST_FIRST = ("no_go", "wait", "go")


@dataclass(frozen=True)
class Led:
    """What a set of answers leads to: how it ends, what is chosen, which margins fail, what today means."""

    ended: str
    chosen: tuple[tuple[str, str], ...]
    failing: tuple[str, ...]
    today: str


def where_it_leads(evaluator: Evaluator, answers: Mapping[str, Answer], system: System) -> Led:
    """Evaluate a set of answers and keep what a person would notice."""
    return led_to(evaluator.rule_base, evaluator.conclude(answers, system), system)


def led_to(rule_base: RuleBase, result: Evaluation, system: System) -> Led:
    """What an evaluation led to."""
    if result.ended_by is not None:
        return Led(result.ended_by, (), (), "")
    chosen = tuple((name, choice.chosen) for name, choice in result.choices.items() if choice.chosen)
    margins = Margins(rule_base, result, Texts(rule_base, result.facts, system))
    failing = tuple(sorted(line.name for line in margins.lines() if line.verdict == "fails"))
    verdicts = {line.verdict for _, line in result.conclusions(m.ConditionLine)}
    return Led("", chosen, failing, next((verdict for verdict in _WORST_FIRST if verdict in verdicts), ""))


def words_to_try(rule_base: RuleBase, name: str, given: Value | None) -> list[Value]:
    """Every other word of a choice; of several words the given ones with each word added or taken away."""
    form = rule_base.facts[name]
    words = list(rule_base.values_of(form))
    if form.kind != "several":
        return [word for word in words if word != given]
    told = given if isinstance(given, tuple) else ()
    alone = [word for word in words if word.startswith("none")]
    changed = [tuple(other for other in words if (other in told) != (other == word) and other not in alone)
               for word in words if word not in alone]
    return [value for value in (*changed, *((word,) for word in alone)) if value and value != told]


def numbers_to_try(evaluator: Evaluator, name: str) -> list[Number]:
    """One value between each two limits that rules compare a number with, lowest first."""
    form = evaluator.rule_base.facts[name]
    low, high = form.plausible or (0.0, 0.0)
    ends = [low, *limits_of(evaluator, name), high]
    return [exact(round((one + other) / 2, 2), form.unit or "fraction")
            for one, other in zip(ends, ends[1:], strict=False)]


def limits_of(evaluator: Evaluator, name: str) -> list[float]:
    """The numbers inside its plausible range that rules compare a fact with."""
    form = evaluator.rule_base.facts[name]
    low, high = form.plausible or (0.0, 0.0)
    return [limit for limit in evaluator.compared_with(name) if low < limit < high]
