"""What goes wrong with product cards: in the file, among several, and while one is filled in."""

from __future__ import annotations

from functools import partial
from pathlib import Path

from advisor.cli import main
from advisor.interview.card import CardInterview
from advisor.interview.card_draft import product_name
from advisor.interview.scripted import ScriptedAsker
from advisor.knowledge.product_card import MOST_HAZARDS, parse_card, with_cards
from tests.messages.causes import Cause
from tests.messages.in_files import rules

_CARD = "advisor: 1\nproduct: T\nkind: adhesive\nfamily: methacrylate\nvalues:\n  gap_high: 5 mm\n"


def _card(text: str, folder: Path) -> object:
    return parse_card(text, "card.yaml", rules())


def _twice(folder: Path) -> object:
    card = parse_card(_CARD, "card.yaml", rules())
    return with_cards(rules(), [card, card])


def _typed(lines: list[str], folder: Path) -> object:
    return CardInterview(rules(), ScriptedAsker(lines)).hold()


CAUSES = [Cause(*one) for one in (
    ("an empty warning on a card", partial(_card, _CARD + "hazards: ['']\n")),
    ("far too many warnings on a card", partial(_card, _CARD + f"hazards: [{'x, ' * MOST_HAZARDS}x]\n")),
    ("an empty file for a card", partial(_card, "")),
    ("a card of another version", partial(_card, _CARD.replace("advisor: 1", "advisor: 2"))),
    ("a card of no version", partial(_card, _CARD.replace("advisor: 1\n", ""))),
    ("a card indented with tabs", partial(_card, _CARD.replace("  gap", "\tgap"))),
    ("a card whose family is of another kind", partial(_card, _CARD.replace("adhesive", "resin"))),
    ("a list without any number", partial(_card, _CARD + "  work_times: []\n")),
    ("two numbers of a card exchanged", partial(_card, _CARD + "  gap_low: 9 mm\n")),
    ("two cards of one family", _twice),
    ("a card to be written where there is no folder", lambda folder: main(["card", str(folder / "none" / "a.yaml")])),
    ("a product without a name", partial(_typed, [""])),
    ("a product with far too long a name", lambda folder: product_name("x" * 61)),
    ("a line far too long in the interview for a card", partial(_typed, ["x" * 301])),
)]
