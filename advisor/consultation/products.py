"""Products in somebody's hand: weighed before others, and said first when they do not suit."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from advisor.consultation.advice import Candidate, EvidenceLine, ProductLine
from advisor.consultation.choices import Weighed
from advisor.consultation.evaluate import Evaluation
from advisor.knowledge.product_card import ProductCard
from advisor.knowledge.rulebase import RuleBase

CARD = "product.card"
_AGAINST = ("rule_out", "withdraw", "oppose")


def at_hand(rule_base: RuleBase, cards: Iterable[ProductCard]) -> Iterator[Weighed]:
    """A product at hand is taken where nothing rules it out."""
    for card in cards:
        for decision in rule_base.decisions.values():
            if decision.of == card.kind:
                yield Weighed(decision.decision, card.family, EvidenceLine(
                    rule=CARD, because=f"{card.product} is at hand, with the numbers of its sheet.", source=(),
                    strength="require"))


def lines(cards: Iterable[ProductCard], result: Evaluation) -> tuple[ProductLine, ...]:
    """What became of each card."""
    return tuple(_line(card, result) for card in cards)


def _line(card: ProductCard, result: Evaluation) -> ProductLine:
    choice = next((choice for choice in result.choices.values()
                   if any(one.id == card.family for one in choice.candidates)), None)
    used = choice is not None and choice.chosen == card.family
    if used:
        say = f"{card.product} suits, and its own numbers are used."
    elif choice is None:
        say = f"{card.product} is not needed for the way advised here."
    else:
        candidate = next(one for one in choice.candidates if one.id == card.family)
        say = f"{card.product} does not suit here. {_objection(candidate)}"
    return ProductLine(product=card.product, kind=card.kind, family=card.family, used=used, say=say.strip(),
                       queries=card.queries)


def _objection(candidate: Candidate) -> str:
    return next((line.because for strength in _AGAINST for line in candidate.evidence if line.strength == strength), "")
