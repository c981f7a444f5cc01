"""The smallest shapes of what may be written in the rules folder: texts, names, conditions."""

from __future__ import annotations

import re
from collections.abc import Mapping
from functools import cached_property
from typing import Annotated, Literal

from pydantic import BaseModel, ConfigDict, StringConstraints

Text = Annotated[str, StringConstraints(strip_whitespace=True, min_length=1, max_length=1500)]
Id = Annotated[str, StringConstraints(pattern=r"^[a-z][a-z0-9]*(?:[_-][a-z0-9]+)*$", max_length=60)]
# Units such as mL and K make a capital letter part of a name: drops_per_mL.
FactId = Annotated[str, StringConstraints(pattern=r"^[a-z][A-Za-z0-9]*(?:_[A-Za-z0-9]+)*$", max_length=60)]
RuleId = Annotated[str, StringConstraints(pattern=r"^[a-z][a-z0-9-]*\.[a-z0-9][A-Za-z0-9-]*$", max_length=90)]
YesNo = Literal["yes", "no"]
Operator = Literal["is", "is_not", "one_of", "none_of", "below", "at_most", "above", "at_least", "between"]
Strength = Literal["slight", "clear", "strong"]
Severity = Literal["stop", "danger", "care", "note"]

RANGE_ENDS = {"low": "low", "likely": "value", "high": "high"}
NEGATIVE_OPERATORS = frozenset({"is_not", "none_of"})
NUMBER_OPERATORS = frozenset({"below", "at_most", "above", "at_least", "between"})
UNKNOWN = "unknown"


PLACEHOLDER = re.compile(r"\{([^{}]*)\}")
"""A name in braces inside a text, which is replaced by what it stands for."""


class Form(BaseModel):
    """Anything written in the rules folder."""

    model_config = ConfigDict(frozen=True, extra="forbid", defer_build=True)

    line: int = 0

    @cached_property
    def words(self) -> Mapping[str, str]:
        """Every field that holds one text, by the field's name."""
        return {name: value for name in type(self).model_fields if isinstance(value := getattr(self, name), str)}

    @cached_property
    def named(self) -> tuple[str, ...]:
        """Everything that its texts name, outright or in braces, which may be facts."""
        return tuple(name for text in self.words.values() for name in (text, *PLACEHOLDER.findall(text)))


class Entry(Form):
    """One entry of a file; knows where it stands."""

    file: str = ""
    topic: str | None = None

    @property
    def where(self) -> str:
        """File and line, for messages."""
        return f"{self.file}:{self.line}"


class Test(Form):
    """One fact compared with one or more right sides: the smallest part of a condition."""

    fact: str
    operator: Operator
    values: tuple[str, ...]

    @cached_property
    def value_set(self) -> frozenset[str]:
        """The right sides, to be looked up."""
        return frozenset(self.values)


class Condition(Form):
    """All of `all` hold and, where `any` is given, at least one of `any`."""

    all: tuple[Test, ...] = ()
    any: tuple[Test, ...] = ()

    @cached_property
    def first_facts(self) -> tuple[str, ...]:
        """The facts of which one must be known before the condition can hold."""
        return tuple(test.fact for test in self.all[:1] or self.any)

    @property
    def tests(self) -> tuple[Test, ...]:
        """Every test in the condition."""
        return self.all + self.any
