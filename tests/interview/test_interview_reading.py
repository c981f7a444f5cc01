"""What may be typed for a choice, and what a quantity is read back as."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from advisor.errors import InputError
from advisor.interview.reading import Choice, chosen, command, tidy
from advisor.interview.words import COMMANDS
from advisor.knowledge.load import load_rule_base

pytestmark = pytest.mark.timeout(30)

FACES = (Choice("mild", "Mild steel"), Choice("galvanised", "Steel, galvanised"), Choice("wood", "Timber or plywood"),
         Choice("thin_ply", "Thin glass on plywood"), Choice("wet_core", "Wet but firm"),
         Choice("unknown", "I don't know"))


@pytest.mark.parametrize(("typed", "meant"), [
    ("1", "mild"), ("2.", "galvanised"), ("mild", "mild"), ("MILD STEEL", "mild"), ("m", "mild"),
    ("steel", "galvanised"),
    ("wood", "wood"), ("ti", "wood"), ("timber or", "wood"), ("wet core", "wet_core"), ("wet_core", "wet_core"),
    ("glass", "thin_ply"), ("firm", "wet_core"), ("6", "unknown"), ("i don't", "unknown"),
])
def test_one_choice_by_number_letters_or_words(typed: str, meant: str) -> None:
    assert chosen(typed, FACES, several=False) == meant


@pytest.mark.parametrize(("typed", "says"), [
    ("ply", "3 Timber or plywood; 4 Thin glass on plywood"), ("t", "3 Timber or plywood; 4 Thin"),
    ("0", "numbered 1 to 6"), ("7", "numbered 1 to 6"), ("1 3", "numbered 1 to 6"), ("not wet", "numbered 1 to 6"),
    ("stainless", "numbered 1 to 6"), ("mild stele", "did you mean 1 Mild steel?"), ("ro", "numbered"),
    ("-", "numbered"),
])
def test_what_is_unclear_is_refused_with_help(typed: str, says: str) -> None:
    with pytest.raises(InputError) as refused:
        chosen(typed, FACES, several=False)
    assert says in (refused.value.help or "")


@pytest.mark.parametrize(("typed", "meant"), [
    ("1", ("mild",)), ("1 3", ("mild", "wood")), ("1, 3", ("mild", "wood")), ("3,1,3", ("wood", "mild")),
    ("mild, timber", ("mild", "wood")), ("steel, galvanised", ("galvanised",)), ("1, wet", ("mild", "wet_core")),
    ("1 and 3", ("mild", "wood")), ("1, 2 & 3", ("mild", "galvanised", "wood")), ("1 AND 2 + 3.", ("mild",
     "galvanised", "wood")), ("6", "unknown"),
])
def test_several_choices(typed: str, meant: str | tuple[str, ...]) -> None:
    assert chosen(typed, FACES, several=True) == meant


def test_dont_know_stands_alone() -> None:
    with pytest.raises(InputError, match="cannot stand beside"):
        chosen("1, 6", FACES, several=True)


@pytest.mark.parametrize(("typed", "meant"), [
    ("B", "back"), ("?", "help"), ("  Why ", "why"), ("I don\u2019t know", "unknown"), ("not sure", "unknown"),
    ("q", "quit"), ("no idea", "unknown"), ("I'm not sure", "unknown"), ("Dunno", "unknown"),
    ("no", None), ("1", None),
])
def test_commands(typed: str, meant: str | None) -> None:
    assert command(tidy(typed)) == meant


def test_a_letter_that_begins_a_choice_is_that_choice() -> None:
    sides = (Choice("both", "Both sides"), Choice("one", "Only one side"))
    assert command("b", sides) is None
    assert command("B", sides) is None
    assert command("b", FACES) == "back"
    assert command("back", sides) == "back"
    assert command("q", sides) == "quit"


def test_no_choice_of_the_real_rules_is_named_like_a_command() -> None:
    rule_base = load_rule_base()
    named = {text.casefold() for question in rule_base.questions for pair
             in rule_base.values_of(rule_base.facts[question]).items() for text in pair}
    assert len(named) > 50
    assert not named & set(COMMANDS)


@pytest.mark.parametrize(("question", "typed", "echo"), [
    ("gap", "1/2 in", "1/2 in = 12.7 mm"), ("gap", "12mm", "12 mm = 1/2 in"),
    ("gap", "12", "12, that is 12 mm = 1/2 in"),
    ("gap", "3 to 5 mm", "3 to 5 mm = "), ("length", "10 ft", "10 ft = 3.05 m"),
    ("length", "10 ft 6 in", "10 ft 6 in = 3.2 m"), ("length", "1,5 m", "1,5 m, that is 1.5 m = 4 ft 11 in"),
    ("warmth", "68 F", "68 °F = 20 °C"), ("wood", "o", "Oak or another hard wood"),
    ("places", "1 3", "Dry, indoors; Sea water"), ("places", "no", "None of these"), ("clamps", "N", "No"),
])
def test_an_answer_is_read_back(ask_once: Callable[[str, str], str], question: str, typed: str, echo: str) -> None:
    assert f"  = {echo}" in ask_once(question, typed)


@pytest.mark.parametrize(("question", "typed", "says"), [
    ("warmth", "20", "does not say °C or °F"), ("gap", "1/2", "has no unit"),
    ("gap", "300 mm", "outside what is accepted"),
    ("places", "1, 4", "`None of these` cannot stand beside other answers"), ("gap", "none", "is not understood"),
])
def test_a_refusal_says_what_is_wrong(
        ask_once: Callable[[str, str], str], question: str, typed: str, says: str) -> None:
    shown = ask_once(question, typed)
    assert says in " ".join(shown.split())
    assert "  = " not in shown
