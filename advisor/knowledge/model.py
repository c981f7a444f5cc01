"""What may be written in the rules folder, as frozen pydantic models.

Every model carries the file and line it came from. Texts stay texts: what a value or a number means is
decided by the vocabulary (`advisor.knowledge.check`).
"""

from __future__ import annotations

from functools import cache
from typing import Literal

from pydantic import Field

from advisor.knowledge.concluded import (
    Batches,
    CautionRef,
    Check,
    Conclude,
    Conclusion,
    ConditionLine,
    Confirm,
    Draw,
    Evidence,
    GoOn,
    QuantityLine,
    Reading,
    Recall,
    Review,
    SendBack,
    Specify,
    Step,
    Stop,
    TableLine,
    WorkingTime,
)
from advisor.knowledge.shapes import (
    NEGATIVE_OPERATORS,
    NUMBER_OPERATORS,
    RANGE_ENDS,
    UNKNOWN,
    Condition,
    Entry,
    FactId,
    Form,
    Id,
    Operator,
    RuleId,
    Severity,
    Strength,
    Test,
    Text,
    YesNo,
)

__all__ = [
    "Assumption",
    "Attribute",
    "Batches",
    "Calculation",
    "Caution",
    "CautionRef",
    "Check",
    "Conclude",
    "Conclusion",
    "Condition",
    "ConditionLine",
    "Confirm",
    "Draw",
    "Decision",
    "DontKnow",
    "ENTRY_FORMS",
    "Entry",
    "Evidence",
    "Example",
    "FactForm",
    "FactId",
    "Form",
    "Id",
    "IfNone",
    "Kind",
    "Limit",
    "NEGATIVE_OPERATORS",
    "NUMBER_OPERATORS",
    "NumberText",
    "Operator",
    "Phase",
    "PlannedChoice",
    "QuantityLine",
    "Question",
    "RANGE_ENDS",
    "Reading",
    "GoOn",
    "Recall",
    "Review",
    "Rule",
    "RuleId",
    "SendBack",
    "Severity",
    "Source",
    "Specify",
    "Stage",
    "Step",
    "Stop",
    "Strength",
    "TableLine",
    "Term",
    "Test",
    "Text",
    "Thing",
    "UNKNOWN",
    "WorkingTime",
    "YesNo",
]


class NumberText(Form):
    """A number or range as written, before its unit is read."""

    low: Text | None = None
    likely: Text | None = None
    high: Text | None = None
    confirm: YesNo = "no"
    source: Text | None = None
    note: Text | None = None


class Stage(Entry):
    """One step of the reasoning and the topics that belong to it."""

    stage: Id
    label: Text
    topics: tuple[Id, ...] = ()


class Phase(Entry):
    """A phase of the work; steps are sorted by phase. `shows: batches` puts the mixing table before its steps,
    `shows: results` room for what came out beside each of them."""

    phase: Id
    label: Text
    shows: Literal["batches", "results"] | None = None


class Source(Entry):
    """Where a piece of knowledge comes from."""

    source: Id
    title: Text
    issuer: Text | None = None
    number: Text | None = None
    year: Text | None = None
    section: Text | None = None
    kind: Literal["standard", "handbook", "regulation", "class-rule", "paper", "guide", "common-practice",
                  "from-memory"]
    seen: YesNo = "yes"
    note: Text | None = None


class Limit(Entry):
    """A number that rules compare with: once, with its unit and source."""

    limit: Id
    label: Text
    value: NumberText
    holds: Text | None = None
    sources: tuple[Id, ...] = ()
    confirm: YesNo = "no"


class FactForm(Entry):
    """A word of the vocabulary."""

    fact: FactId
    label: Text
    kind: Literal["choice", "several", "yes_no", "quantity", "count", "record"]
    values: dict[str, Text] = Field(default_factory=dict)
    values_of: Id | None = None
    unit: Text | None = None
    plausible: tuple[float, float] | None = None


class Assumption(Form):
    """What is assumed instead while a condition holds."""

    when: Condition
    assume: Text
    because: Text


class DontKnow(Form):
    """What an `I don't know` means for one question; the first of `instead` that holds goes before `assume`."""

    assume: Text | None = None
    because: Text | None = None
    home_test: Text | None = None
    listed: YesNo = "yes"
    try_every: YesNo = "no"
    instead: tuple[Assumption, ...] = ()


class Question(Entry):
    """Asks a person for one fact; while `unasked` holds nobody is asked and an `I don't know` is taken.

    An essential one must be answered, be it by `I don't know` where it says what that means.
    """

    question: FactId
    ask: Text
    why: Text
    find_out: Text
    when: Condition | None = None
    unasked: Condition | None = None
    essential: YesNo = "no"
    dont_know: DontKnow | None = None
    example: Text | None = None

    @property
    def takes_unknown(self) -> bool:
        """Whether `I don't know` is an answer."""
        return self.dont_know is not None


class Calculation(Entry):
    """Asks for a computation by a function of `advisor.calculators`."""

    calculation: RuleId
    label: Text
    gives: dict[str, str]
    using: Text
    inputs: dict[str, tuple[str, ...]] = Field(default_factory=dict)
    listed: tuple[str, ...] = ()
    when: Condition | None = None
    because: Text | None = None
    sources: tuple[Id, ...] = ()


@cache
def split_end(item: str) -> tuple[str, str | None]:
    """`resin_mass/high` is the fact and the end of its range; a plain name has no end."""
    name, _, end = item.rpartition("/")
    return (name, end) if name and end in RANGE_ENDS else (item, None)


class Rule(Entry):
    """One piece of trade practice: when it holds, what follows, why, and who says so."""

    rule: RuleId
    says: Text
    for_each: dict[str, tuple[str, ...]] = Field(default_factory=dict)
    when: Condition
    then: tuple[Conclusion, ...] = Field(min_length=1)
    because: Text
    sources: tuple[Id, ...] = Field(min_length=1)


class Example(Entry):
    """A test beside the rules: with these facts these rules fire, those stay silent, and of these dangers it warns."""

    example: Text
    given: dict[str, tuple[str, ...]]
    fires: tuple[str, ...] = ()
    silent: tuple[str, ...] = ()
    warns: tuple[Id, ...] = ()


class Caution(Entry):
    """What may hurt, how to avoid it, and whose word goes above ours.

    `without_method` marks what also matters where no method is given: what lies about, and whom to ask.
    """

    caution: Id
    without_method: YesNo = "no"
    severity: Severity
    text: Text
    because: Text
    sources: tuple[Id, ...] = Field(min_length=1)
    defer_to: Text | None = None


class Term(Entry):
    """A word of the trade, explained."""

    term: Id
    label: Text
    means: Text
    also: tuple[Text, ...] = ()
    sources: tuple[Id, ...] = ()


class IfNone(Form):
    """What follows when a decision has no candidate left."""

    refer: Text | None = None
    withdraw: Id | None = None


class PlannedChoice(Form):
    """The fact that tells what a person means to choose, and the two facts that tell how it stands and why."""

    fact: FactId
    standing: FactId
    against: FactId


class Decision(Entry):
    """Something that is chosen by weighing evidence; `heads` says that it belongs into the verdict.

    `weight` is how much a change of it counts where other answers are tried; one with 0 goes with the rest.
    `close_call` is how the verdict names the runner-up, `{other}`, when the lead is narrow.
    """

    decision: Id
    label: Text
    of: Id
    stage: Id
    when: Condition | None = None
    heads: YesNo = "no"
    weight: int = Field(default=1, ge=0)
    close_call: Text | None = None
    plan: PlannedChoice | None = None
    if_none: IfNone


class Attribute(Form):
    """What is recorded of each thing of a kind; `where_on_sheet` says where a maker's sheet has it.

    `gathers` (with kind several): not written, but the words that the things it is made of have, such as
    `reinforcement.binder`. `not_below`: another number of the same thing, which this one cannot lie below.
    """

    label: Text
    kind: Literal["choice", "several", "yes_no", "quantity", "quantities", "things", "text"]
    values: dict[str, Text] = Field(default_factory=dict)
    unit: Text | None = None
    plausible: tuple[float, float] | None = None
    of: Id | None = None
    gathers: Text | None = None
    not_below: Id | None = None
    where_on_sheet: Text | None = None


class Kind(Entry):
    """A kind of thing: faces, adhesives, resins, methods ...

    `card`: a product card may give a product's own numbers; `family_on_sheet` and `hazards_on_sheet` say where a
    maker's sheet has what it belongs to and what it warns of.
    """

    kind: Id
    label: Text
    card: YesNo = "no"
    family_on_sheet: Text | None = None
    hazards_on_sheet: Text | None = None
    attributes: dict[str, Attribute]


class Thing(Entry):
    """One thing of a kind, with its attributes as written."""

    kind: Id
    thing: Id
    label: Text
    means: Text
    say: Text | None = None
    attributes: dict[str, NumberText | tuple[str, ...]] = Field(default_factory=dict)
    sources: tuple[Id, ...] = Field(min_length=1)


ENTRY_FORMS: dict[str, type[Entry]] = {
    "stage": Stage, "phase": Phase, "source": Source, "limit": Limit, "fact": FactForm, "question": Question,
    "calculation": Calculation, "rule": Rule, "example": Example, "caution": Caution, "term": Term,
    "decision": Decision, "kind": Kind,
}
RUN_TIME_FORMS: tuple[type[Entry], ...] = (*ENTRY_FORMS.values(), Thing)
"""The forms of entries that are not tests beside the rules, which alone hold invariants."""
