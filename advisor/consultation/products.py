"""Products in somebody's hand: weighed before others, and said first when they do not suit."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from advisor.consultation.advice import CheckLine, Choice, EvidenceLine, ProductLine
from advisor.consultation.choices import Weighed
from advisor.consultation.dependence import properties_behind
from advisor.consultation.evaluate import Evaluation
from advisor.consultation.lines import lines_of
from advisor.consultation.texts import Texts
from advisor.knowledge import model as m
from advisor.knowledge.product_card import ProductCard
from advisor.knowledge.rulebase import RuleBase

CARD = "product.card"
_OUT = ("rule_out", "withdraw")
_MOST_OBJECTIONS = 2


def at_hand(rule_base: RuleBase, cards: Iterable[ProductCard]) -> Iterator[Weighed]:
    """A product at hand is taken where nothing rules it out; what is made with it has a little said for it."""
    for card in cards:
        because = f"{card.product} is at hand, with the numbers of its sheet."
        for decision in rule_base.decisions.values():
            if decision.of == card.kind:
                yield Weighed(decision.decision, card.family,
                              EvidenceLine(rule=CARD, because=because, source=(), strength="require"))
            for candidate in made_with(card, decision, rule_base):
                yield Weighed(decision.decision, candidate, EvidenceLine(
                    rule=CARD, because=because, source=(), strength="favour", weight="slight"))


def made_with(card: ProductCard, decision: m.Decision, rule_base: RuleBase) -> list[str]:
    """The candidates of a decision that are made of several things, the product's family among them."""
    attributes = rule_base.kinds[decision.of].attributes
    lists = [name for name, form in attributes.items() if form.kind == "things" and form.of == card.kind]
    return [id_ for id_, thing in rule_base.materials[decision.of].items()
            if any(card.family in words for name in lists if isinstance(words := thing.values.get(name), tuple))]


class ProductLines:
    """What became of each card in one evaluation."""

    def __init__(self, rule_base: RuleBase, result: Evaluation, texts: Texts, checks: Sequence[CheckLine]) -> None:
        self._rule_base, self._result, self._texts, self._checks = rule_base, result, texts, checks

    def of(self, cards: Iterable[ProductCard]) -> tuple[ProductLine, ...]:
        """A line for each card: whether it is used, and what speaks against it first."""
        return tuple(self._line(card) for card in cards)

    def _line(self, card: ProductCard) -> ProductLine:
        found = self._choice(card)
        used, against = False, tuple[str, ...]()
        if found is None and self._result.ended_by is not None:
            say = f"No way of doing it is given, so {card.product} is not weighed."
        elif found is None:
            against = tuple(self._ruled_out(card))
            say = " ".join([f"{card.product} is not needed for the way advised here.",
                            *(f"It would not suit either: {because}" for because in against[:1])])
        else:
            choice, mine = found
            used = choice.chosen in mine
            against = tuple(self._troubles(card, choice) if used else _objections(choice, mine))
            better = "" if used or all(one.standing == "ruled_out" for one in choice.candidates if one.id in mine) \
                else choice.chosen or ""
            say = _said(card.product, used, against, better and self._texts.value(choice.decision, better))
        return ProductLine(product=card.product, kind=card.kind, family=card.family, used=used, say=say,
                           queries=card.queries, against=against, hazards=card.hazards)

    def _choice(self, card: ProductCard) -> tuple[Choice, list[str]] | None:
        """The choice that the product stands in, and the candidates that are it or are made with it."""
        for name, choice in self._result.choices.items():
            decision = self._rule_base.decisions[name]
            mine = [card.family] if decision.of == card.kind else made_with(card, decision, self._rule_base)
            if mine:
                return choice, mine
        return None

    def _ruled_out(self, card: ProductCard) -> Iterator[str]:
        """Why the rules would not take a product, though nothing had to be chosen that it could be."""
        kinds = {name: decision.of for name, decision in self._rule_base.decisions.items()}
        for firing, form in self._result.conclusions(m.Evidence):
            binding = firing.rule.binding
            if form.does in _OUT and kinds[form.decision] == card.kind \
                    and card.family in map(binding.candidate, form.candidates):
                yield self._texts.fill(firing.rule.rule.because, binding)

    def _troubles(self, card: ProductCard, choice: Choice) -> Iterator[str]:
        """What today's conditions and the margins have against the numbers of a card that is used."""
        own = {f"{choice.decision}.{name}" for name in card.values}
        facts = self._result.facts
        bad = [line for line in lines_of(self._result, m.ConditionLine, self._texts) if line.form.verdict != "go"
               and own.intersection(properties_behind(line.firing.support, facts))]
        for line in sorted(bad, key=lambda line: not own.intersection(_names(line.firing.support))):
            yield line.fill(self._texts, line.form.say)
        failing = {check.name for check in self._checks if check.verdict == "fails"}
        for check in lines_of(self._result, m.Check, self._texts):
            name = check.fill(self._texts, check.form.name)
            if name in failing and own.intersection(
                    properties_behind([check.form.value, check.form.against], facts)):
                yield f"This margin fails: {name}."


def _names(support: Iterable[str]) -> Iterator[str]:
    return (id_.partition("=")[0] for id_ in support)


def _objections(choice: Choice, mine: Sequence[str]) -> list[str]:
    """The strongest reasons against a product, or against what is made with it: where all of it is ruled out, why."""
    candidates = [one for one in choice.candidates if one.id in mine]
    left = [one for one in candidates if one.standing != "ruled_out"]
    lines = [line for strength in (("oppose",) if left else _OUT) for one in left or candidates
             for line in one.evidence if line.strength == strength]
    return list(dict.fromkeys(line.because for line in lines))[:_MOST_OBJECTIONS]


def _said(product: str, used: bool, against: Sequence[str], better: str = "") -> str:
    if used:
        return (f"{product} is taken, with its own numbers, but not as things stand: {' '.join(against)}" if against
                else f"{product} suits, and its own numbers are used.")
    first = f"{product} is not taken; more speaks for {better}." if better else f"{product} does not suit here."
    return " ".join([first, *against])
