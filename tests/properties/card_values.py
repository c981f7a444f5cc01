"""Whether a product's number reaches what depends on it and nothing else: one field changed, all else kept.

`python -m tests.properties.card_values --cases 200 --seed 1` goes through generated cases, in each a product that is
chosen there and a few of its fields taken at random, and prints every fault.
"""

from __future__ import annotations

import argparse
from collections.abc import Iterable, Iterator
from copy import copy
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path
from random import Random

from advisor import answer_file
from advisor.consultation.consult import Advisor
from advisor.consultation.explain import Explainer, Reason
from advisor.consultation.spoken import Said
from advisor.engine.program import Firing
from advisor.knowledge.gathered import gathering, parts_of
from advisor.knowledge.load import load_rule_base
from advisor.knowledge.model import Rule
from advisor.knowledge.numbers import Number
from advisor.knowledge.product_card import ProductCard, card_kinds, fields_of, read_value, with_cards
from advisor.knowledge.rulebase import EVERY, AttributeValue, Material, RuleBase
from tests.random_answers import consistent_answers

SCENARIOS = Path(__file__).parents[2] / "scenarios"
PRODUCT = "Invented product"
PARTS = {"specification": ("specification",), "quantities": ("to buy", "amount"), "steps": ("step",),
         "conditions": ("today",), "checks": ("margin",), "readings": ("reading",),
         "working_times": ("working time",), "review": ("plan",), "batches": ("batch",), "cautions": ("caution",)}
"""The parts of an advice that state numbers, and what their lines are called where a person asks about them."""
MORE_THAN_NONE = 0.1
BESIDE = ("verdict", "choice", "reason")


@dataclass(frozen=True)
class Job:
    """A job in which a product of one family is weighed: a scenario or none, answers changed, and its card."""

    name: str
    kind: str
    family: str
    changed: tuple[tuple[str, str | tuple[str, ...]], ...] = ()
    card: tuple[tuple[str, str], ...] = ()

    @property
    def answers(self) -> dict[str, str | list[str]]:
        """The answers of the scenario, some changed."""
        answers = answer_file.read(SCENARIOS / f"{self.name}.yaml").answers if self.name else {}
        return {**answers, **{name: given if isinstance(given, str) else list(given) for name, given in self.changed}}


class Side:
    """What one card makes of a job: every line and fact by what it says, and the chain behind each."""

    def __init__(self, advisor: Advisor, job: Job, values: dict[str, AttributeValue]) -> None:
        self.advisor, self.job, self.values = advisor, job, values
        self.case = advisor.consult(job.answers)
        self.advice = self.case.advice()
        self.facts = self.case.concluded().facts
        self.explainer = Explainer(self.case, self.advice)
        self._chains: dict[int, list[Reason]] = {}

    @property
    def chosen(self) -> dict[str, str | None]:
        """What is chosen, and what was withdrawn on the way."""
        withdrawn = {f"{one.decision} without {one.candidate}": None for one in self.case.concluded().withdrawn}
        return {**{choice.decision: choice.chosen for choice in self.advice.choices}, **withdrawn}

    @cached_property
    def lines(self) -> dict[str, Said]:
        """Everything stated, with its numbers, and what a person asks about to see its chain."""
        found: dict[str, Said] = {}
        for part, names in PARTS.items():
            asked = [said for said in self.explainer.lines if said.part in names]
            for said, item in zip(asked, getattr(self.advice, part), strict=True):
                found[f"{part}: {item.model_dump_json(exclude={'number'})}"] = said
        found.update({f"{said.part}: {said.text}": said for said in self.explainer.lines if said.part in BESIDE})
        found.update({f"fact: {fact.name} = {fact.value!r}": Said("fact", fact.name, facts=(fact.name,))
                      for fact in self.facts if fact.origin != "property"})
        return found

    def telling(self, said: Said, field: str) -> list[Reason]:
        """The sentences of a line's explanation that tell of this field of the product."""
        if id(said) not in self._chains:
            self._chains[id(said)] = self.explainer.explain(said)
        return [reason for reason in self._chains[id(said)] if self._tells_of(reason, field)]

    def _tells_of(self, reason: Reason, field: str) -> bool:
        if reason.fact == f"{EVERY}{self.job.kind}":
            label = self.advisor.rule_base.kinds[self.job.kind].attributes[field].label.lower()
            return f"Of {PRODUCT.lower()} (" in reason.text and f" {label}, " in reason.text
        fact = self.facts.get(reason.fact)
        return (fact is not None and fact.origin == "property" and fact.by == f"{self.job.kind}/{self.job.family}"
                and reason.fact.rpartition(".")[2] == field)

    def weighs(self, said: Said, field: str) -> bool:
        """Whether a line is a reason for or against the product by a rule that reads this field of it."""
        return any(self._reads(firing, field) for firing in said.firings)

    def _reads(self, firing: Firing, field: str) -> bool:
        return any(f"{name}.{read}" in _written(firing.rule.rule)
                   for name, material in firing.rule.binding.materials.items()
                   for read in self._names_of(material, field))

    def _names_of(self, material: Material, field: str) -> Iterator[str]:
        """By what names a rule about a thing reads the field: of the product itself, or of what is made with it."""
        rules = self.advisor.rule_base
        if (material.thing.kind, material.id) == (self.job.kind, self.job.family):
            yield field
        for name, source in gathering(rules.kinds[material.thing.kind]).items():
            if source == f"{self.job.kind}.{field}" and any(
                    part.id == self.job.family for part in parts_of(rules, material, source)):
                yield name

    def reached(self, field: str) -> dict[str, list[Reason]]:
        """Every line whose chain reaches the field, or that weighs it."""
        return {text: sentences for text, said in self.lines.items()
                if (sentences := self.telling(said, field)) or self.weighs(said, field)}


def everything(rules: RuleBase, job: Job) -> dict[str, AttributeValue]:
    """A card that says of every field what the family has, or the job, and else something plausible."""
    fields = fields_of(rules.kinds[job.kind])
    said = {field: read_value(field, text, fields[field], None) for field, text in job.card}
    return {field: said.get(field, another(rules, job, field, 1.0)) for field in fields}


def another(rules: RuleBase, job: Job, field: str, factor: float,
            now: AttributeValue | None = None) -> AttributeValue:
    """A plausible value: the present one (or the family's) times a factor, as it is with 1; of words the next."""
    form = rules.kinds[job.kind].attributes[field]
    now = rules.materials[job.kind][job.family].values.get(field) if now is None else now
    if form.kind in ("choice", "yes_no"):
        words = list(form.values) if form.kind == "choice" else ["no", "yes"]
        place = words.index(now) if isinstance(now, str) else 0
        return words[(place + (factor != 1)) % len(words)]
    if form.kind == "quantities":
        return tuple(float(number) * factor for number in (now if isinstance(now, tuple) else (100.0,)))
    if factor == 1 and isinstance(now, Number):
        return now
    low, high = form.plausible or (0.0, 100.0)
    likely = now.value if isinstance(now, Number) else (low * high) ** 0.5 if low > 0 else (low + high) / 2
    value = min(max(likely * factor, low), high) or MORE_THAN_NONE
    return Number(value, value, value, form.unit or "fraction")


def with_card(rules: RuleBase, job: Job, values: dict[str, AttributeValue], like: Advisor | None = None) -> Advisor:
    """An advisor with one card; its rules are compiled anew unless one is given whose compiled rules are the same."""
    cards = (ProductCard(PRODUCT, job.kind, job.family, values, ()),)
    if like is None:
        return Advisor(rules, cards=cards)
    one = copy(like)
    one.rule_base, one.cards = with_cards(rules, cards), cards
    one.evaluator = like.evaluator.with_things(one.rule_base)
    vars(one).pop("outline", None)  # made of the rules without the card
    return one


def compiled_in(rules: RuleBase, kind: str, field: str) -> bool:
    """Whether a rule for every thing of a kind reads the field, so that its values stand in the compiled rules."""
    read = {(kind, field), *((owner.kind, name) for owner in rules.kinds.values()
                             for name, source in gathering(owner).items() if source == f"{kind}.{field}")}
    return any(f"{name}.{attribute}" in _written(rule) for rule in rules.rules.values() for owner, attribute in read
               for name, targets in rule.for_each.items() if f"{EVERY}{owner}" in targets)


_as_written: dict[str, str] = {}


def _written(rule: Rule) -> str:
    """A rule as text, made once."""
    if rule.rule not in _as_written:
        _as_written[rule.rule] = repr(rule)
    return _as_written[rule.rule]


@dataclass(frozen=True)
class Found:
    """What changing one field did: lines that changed, lines whose chain reaches it, and what is wrong."""

    changed: int
    reached: int
    same_choice: bool
    faults: tuple[str, ...]


def base_side(rules: RuleBase, job: Job) -> Side:
    """The job with the card that says of every field what the family has."""
    advisor = with_card(rules, job, everything(rules, job))
    return Side(advisor, job, everything(rules, job))


def compared(rules: RuleBase, base: Side, field: str, factor: float = 0.93) -> Found:
    """Change one field of the product and hold every line against its chain.

    Where something else is chosen with the changed card, lines come and go with the choice, which names the card.
    """
    values = {**base.values, field: another(rules, base.job, field, factor, base.values[field])}
    like = None if compiled_in(rules, base.job.kind, field) else base.advisor
    other = Side(with_card(rules, base.job, values, like), base.job, values)
    same = base.chosen == other.chosen
    changed = [(side, text) for side, against in ((base, other), (other, base))
               for text in side.lines if text not in against.lines]
    faults = [f"changes without a chain to it: {text}" for side, text in changed
              if not side.telling(side.lines[text], field) and not side.weighs(side.lines[text], field)] if same else []
    reached = base.reached(field)
    faults += _unlabelled(reached, field, other)
    return Found(len(changed), len(reached), same, tuple(faults))


def _unlabelled(reached: Iterable[str], field: str, other: Side) -> Iterator[str]:
    """Lines that stay as they were with another value, though their explanation does not show it as the card's."""
    shown = other.case.texts_of(other.case.concluded()).value(f"{EVERY}{other.job.kind}.{field}", other.values[field])
    for text in reached:
        told = other.telling(other.lines[text], field) if text in other.lines else []
        if told and not any(PRODUCT.casefold() in one.text.casefold() and shown in one.text for one in told):
            yield f"stays as it was, and is not said to be of the card: {text}"


def generated(advisor: Advisor, random: Random) -> Job | None:
    """A case with a product of a family that is chosen in it, or that glass of what is chosen consists of."""
    rules, answers = advisor.rule_base, consistent_answers(advisor, random)
    case = advisor.consult(answers)
    if case.contradictions():
        return None
    taken = [(rules.decisions[name].of, choice.chosen) for name, choice in case.concluded().choices.items()
             if choice.chosen]
    used = [(kind, chosen) for kind, chosen in taken if kind in card_kinds(rules)]
    for kind, chosen in taken:
        for source in gathering(rules.kinds[kind]).values():
            used += [(part.thing.kind, part.id) for part in parts_of(rules, rules.materials[kind][chosen], source)]
    if not used:
        return None
    kind, family = random.choice(sorted(set(used)))
    return Job("", kind, family, tuple((name, given if isinstance(given, str) else tuple(given))
                                       for name, given in answers.items()))


def main() -> None:
    """A line for each fault, then the figures."""
    parser = argparse.ArgumentParser()
    parser.add_argument("--cases", type=int, default=200)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--fields", type=int, default=4)
    options = parser.parse_args()
    rules, random = load_rule_base(None, examples=False), Random(options.seed)
    advisor = Advisor(rules)
    cases = tried = changed = reached = faults = 0
    while cases < options.cases:
        job = generated(advisor, random)
        if job is None:
            continue
        cases += 1
        base, fields = base_side(rules, job), list(fields_of(rules.kinds[job.kind]))
        for field in random.sample(fields, min(options.fields, len(fields))):
            found = compared(rules, base, field, random.choice((0.8, 0.93, 1.1)))
            tried, changed, reached = tried + 1, changed + found.changed, reached + found.reached
            for fault in found.faults:
                faults += 1
                print(f"case {cases}, {job.kind} {job.family}, {field}: {fault}", flush=True)
    print(f"{cases} cases, {tried} fields changed: {changed} lines and facts changed, {reached} rest on the field; "
          f"{faults} faults")


if __name__ == "__main__":
    main()
