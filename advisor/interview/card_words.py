"""What the interview for a product card says; where a number stands on a sheet comes from the rules."""

from __future__ import annotations

from collections.abc import Sequence

WELCOME = ("Take the maker's data sheet at hand. Each question says where on a sheet the number usually stands. Type "
           "it with its unit as it stands there; Enter or unknown leaves it out. These words work too: help, back, "
           "quit.")
PRODUCT = "What do you call the product?"
PRODUCT_HINT = "A few words of your own, to know it by in the advice."
KIND = "What is it?"
FAMILY = "Which family does it belong to?"
FAMILY_REST = "What the card leaves out is taken from the family."
HAZARD = "What does the maker warn of?"
HAZARD_END = "Word for word, one at a time; Enter ends the list."
NEEDED = "the card needs this"
NEEDED_HELP = "give an answer, or type back or quit"
SHORTER = "type the number with its unit, or unknown"
FIRST = "This is the first question; there is nothing before it."
LEFT_OUT = "Left out; the number of the family stays."
NO_VALUES = "No number was given, and a card without one says nothing. Go back, or quit."
SAVE = "Enter saves the card. back changes it, quit leaves without saving."
SAVE_PROMPT = "Save (Enter): "
SAVE_AGAIN = "Type Enter, back or quit."
LEFT = "Stopped. No card was written."


def progress(number: int, count: int) -> str:
    """Which question this is."""
    return f"Question {number} of {count}" if count else f"Question {number}"


def how_to_measure(example: str, several: bool) -> str:
    """How a number of the sheet is typed."""
    return (f"One or more, with a semicolon between, such as {example}." if several
            else f"Such as {example}; a range as {_range_of(example)}.")


def _range_of(example: str) -> str:
    number, _, unit = example.partition(" ")
    return f"{number} to {2 * float(number):g} {unit}".rstrip() if number.replace(".", "", 1).isdecimal() else example


def usual(value: str) -> str:
    """What the family has."""
    return f"Typical of the family: {value}."


def kept(value: str) -> str:
    """An earlier answer when a question is asked again."""
    return f"Earlier answer: {value}. Enter keeps it, unknown takes it out."


def shown(lines: Sequence[str]) -> str:
    """The head of the finished card."""
    return f"The card has {len(lines)} {'value' if len(lines) == 1 else 'values'}:"


def saved(path: str) -> str:
    """Where the card is, and what to do with it."""
    return f"The card is in {path}. To use it: advisor advise FILE --product {path}"
