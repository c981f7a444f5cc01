"""What the numbers of a job depend on: which range makes most of a spread, which properties of a product matter."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Sequence

from advisor.calculators import MissingProperty, OutOfRange
from advisor.consultation.advice import CheckLine
from advisor.consultation.calculate import inputs_of, result_of
from advisor.consultation.evaluate import Evaluation
from advisor.consultation.facts import Facts
from advisor.consultation.spoken import named_in
from advisor.consultation.texts import Texts
from advisor.knowledge import model as m
from advisor.knowledge.model import split_end
from advisor.knowledge.numbers import Number, exact
from advisor.knowledge.rulebase import RuleBase

LIMIT = "limit/"
_OF_VERDICT = {"fails": 8.0, "doubtful": 6.0, "thin": 6.0, "adequate": 3.0, "ample": 1.0}
DECIDES_MARGIN = _OF_VERDICT["thin"]
"""So much, or more, is the weight of what a thin, failing or doubtful margin rests on."""
_STRADDLES, _TIMES, _BOUGHT, _READ = 3.0, 4.0, 2.0, 0.5
_LEAST_SHARE = 0.1
_NONE: frozenset[str] = frozenset()


def spread_from(name: str, facts: Facts, rule_base: RuleBase, texts: Texts) -> str | None:
    """In words, the number whose own range makes most of the range of a fact; None where there is no range to speak of.

    At each computation the input is followed that, held at its likely value, narrows the result most.
    """
    number = facts.number(name)
    if number is None or number.high - number.low <= _LEAST_SHARE * abs(number.value):
        return None
    leaf = _widest_leaf(name, facts, rule_base)
    return _in_words(leaf, facts, rule_base, texts) if leaf and leaf != name else None


def _widest_leaf(name: str, facts: Facts, rule_base: RuleBase) -> str | None:
    fact = facts.get(name)
    if fact is None or fact.origin != "calculation":
        return name
    calculation = rule_base.calculations[fact.by]
    inputs = inputs_of(calculation, facts, rule_base)
    narrowed: dict[str, float] = {}
    for argument, given in inputs.items():
        source = split_end(calculation.inputs[argument][0])[0]
        behind = facts.value(source)
        if not (isinstance(given, Number) and isinstance(behind, Number) and behind.low < behind.high):
            continue
        likely = exact(behind.value, behind.unit).in_unit(given.unit)
        try:
            result = result_of(calculation, name, {**inputs, argument: likely}, rule_base)
        except (OutOfRange, MissingProperty, ValueError):
            continue
        if isinstance(result, Number):
            narrowed[source] = min(result.high - result.low, narrowed.get(source, float("inf")))
    if not narrowed:
        return None
    source = min(narrowed, key=lambda one: narrowed[one])
    whole = facts.number(name)
    if whole is None or narrowed[source] >= whole.high - whole.low:
        return None
    return _widest_leaf(source, facts, rule_base) or source


def _in_words(name: str, facts: Facts, rule_base: RuleBase, texts: Texts) -> str:
    if name.startswith(LIMIT):
        return _lowered(rule_base.limits[name.removeprefix(LIMIT)].label)
    owner, dot, _ = name.partition(".")
    form = rule_base.attribute(name) if dot else None
    if form:
        return f"{texts.value(owner, facts.value(owner))}, {_lowered(form.label)}"
    return _lowered(texts.label(name))


def _lowered(label: str) -> str:
    return label[:1].lower() + label[1:]


def weight_of_properties(result: Evaluation, texts: Texts, checks: Sequence[CheckLine]) -> dict[str, float]:
    """How much the job depends on each property that it reads, `adhesive.gap` say: most where a margin is thin or fails
    or lies either way, then where times and batches, then where amounts to buy rest on it, last where only a rule
    or a sentence reads it. What is not read at all is not there."""
    weights: dict[str, float] = defaultdict(float)
    behind = _Properties(result.facts)

    def rests_on(names: Iterable[str], weight: float) -> None:
        for name in behind.any_of(names):
            weights[name] = max(weights[name], weight)

    verdicts = {check.name: check for check in checks}
    for firing, line in result.conclusions(m.Check):
        check = verdicts.get(texts.fill(line.name, firing.rule.binding))
        if check is not None:
            rests_on([line.value, line.against], _OF_VERDICT[check.verdict] + _STRADDLES * check.straddles)
    rests_on([line.record for _, line in result.conclusions(m.Batches)], _TIMES)
    rests_on([line.amount for _, line in result.conclusions(m.QuantityLine) if line.buy == "yes" and line.amount],
             _BOUGHT)
    rests_on({id_ for firing in result.firings for id_ in firing.support}, _READ)
    for form in (m.Step, m.Specify):
        rests_on({name for firing, said in result.conclusions(form) for name in named_in(said, firing.rule.binding)},
                 _READ)
    return weights


def properties_behind(support: Iterable[str], facts: Facts) -> frozenset[str]:
    """The properties of things that these supporting facts are, or were worked out from."""
    return _Properties(facts).any_of(support)


class _Properties:
    """The properties behind facts; each fact is looked at once."""

    def __init__(self, facts: Facts) -> None:
        self._facts = facts
        self._behind: dict[str, frozenset[str]] = {}

    def any_of(self, support: Iterable[str]) -> frozenset[str]:
        """The properties behind any of the named facts (`gap_max`, `face_a=steel`)."""
        return _NONE.union(*map(self._of, support))

    def _of(self, id_: str) -> frozenset[str]:
        name = id_.partition("=")[0]
        if name not in self._behind:
            fact = self._facts.get(name)
            origin = fact.origin if fact else None
            self._behind[name] = (frozenset({name}) if origin == "property" else
                                  self.any_of(fact.support) if fact and origin == "calculation" else _NONE)
        return self._behind[name]
