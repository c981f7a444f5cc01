"""A product card while it is being filled in: what was typed, and how it reads."""

from __future__ import annotations

from dataclasses import dataclass, field

from advisor.errors import InputError, clean_text
from advisor.interview.readback import both_systems
from advisor.knowledge import model as m
from advisor.knowledge.numbers import Number
from advisor.knowledge.product_card import LONGEST_NAME, read_value
from advisor.knowledge.rulebase import AttributeValue
from advisor.units import format_range

YES_NO = {"yes": "Yes", "no": "No"}


@dataclass
class CardDraft:
    """What was typed so far: the three words that name the product, its values as typed, the maker's warnings."""

    named: dict[str, str] = field(default_factory=dict)
    values: dict[str, str | list[str]] = field(default_factory=dict)
    hazards: list[str] = field(default_factory=list)

    def content(self) -> dict[str, object]:
        """The card as a file has it."""
        hazards = {"hazards": list(self.hazards)} if self.hazards else {}
        return {"advisor": 1, **self.named, "values": dict(self.values), **hazards}


def product_name(text: str) -> str:
    """What a product is called, as typed.

    Raises:
        InputError: it is too long or cannot be printed.
    """
    if clean_text(text, LONGEST_NAME) != text:
        raise InputError("the name is too long or holds a sign that cannot be printed",
                         help=f"at most {LONGEST_NAME} plain letters")
    return text


def parts_of(text: str) -> list[str]:
    """Several quantities, parted by semicolons or by a comma that a space follows (`0,5 kg` has one of its own)."""
    return [part.strip() for part in text.replace(", ", ";").split(";") if part.strip()]


def joined(given: str | list[str]) -> str:
    """A value as one text."""
    return given if isinstance(given, str) else "; ".join(given)


def echo(given: str | list[str], value: AttributeValue, form: m.Attribute) -> str:
    """A value that was taken, read back."""
    if isinstance(value, Number) and isinstance(given, str):
        return both_systems(given, value, "metric")
    return form.values.get(str(value)) or YES_NO.get(str(value)) or joined(given)


def taken_as(name: str, text: str, form: m.Attribute) -> str:
    """What a line typed so far would be taken as; nothing while it is no value yet."""
    try:
        value = read_value(name, text, form, None)
    except InputError:
        return ""
    return format_range(value.low, value.value, value.high, value.unit) if isinstance(value, Number) else ""
