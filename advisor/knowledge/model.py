"""What may be written in the rules folder, as frozen pydantic models.

Every model carries the file and line it came from. Texts stay texts: what a value or a number means is
decided by the vocabulary (`advisor.knowledge.check`).
"""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import BaseModel, ConfigDict, Field, StringConstraints

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


class Form(BaseModel):
    """Anything written in the rules folder."""

    model_config = ConfigDict(frozen=True, extra="forbid")

    line: int = 0


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


class Condition(Form):
    """All of `all` hold and, where `any` is given, at least one of `any`."""

    all: tuple[Test, ...] = ()
    any: tuple[Test, ...] = ()

    @property
    def tests(self) -> tuple[Test, ...]:
        """Every test in the condition."""
        return self.all + self.any


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
    """A phase of the work; steps are sorted by phase."""

    phase: Id
    label: Text


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
    try_every: YesNo = "no"
    instead: tuple[Assumption, ...] = ()


class Question(Entry):
    """Asks a person for one fact; while `unasked` holds nobody is asked and an `I don't know` is taken."""

    question: FactId
    ask: Text
    why: Text
    find_out: Text
    when: Condition | None = None
    unasked: Condition | None = None
    essential: YesNo = "no"
    dont_know: DontKnow | None = None
    example: Text | None = None


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


def split_end(item: str) -> tuple[str, str | None]:
    """`resin_mass/high` is the fact and the end of its range; a plain name has no end."""
    name, _, end = item.rpartition("/")
    return (name, end) if name and end in RANGE_ENDS else (item, None)


class Conclude(Form):
    """A derived fact."""

    does: Literal["conclude"]
    fact: str
    value: Text


class Evidence(Form):
    """For or against candidates of a decision."""

    does: Literal["require", "favour", "oppose", "rule_out", "withdraw"]
    decision: Id
    candidates: tuple[str, ...]
    strength: Strength | None = None


class Stop(Form):
    """No method is given; says whom to turn to."""

    does: Literal["stop", "refer"]
    turn_to: Text


class SendBack(Form):
    """Answers that contradict each other and are asked again."""

    does: Literal["send_back"]
    questions: tuple[Id, ...]


class Specify(Form):
    """One line of the specification."""

    does: Literal["specify"]
    about: Text
    say: Text


class Step(Form):
    """One step of the work."""

    does: Literal["step"]
    phase: Id
    order: int = 50
    do: Text
    how_long: Text | None = None
    hold: Text | None = None
    right_when: Text | None = None
    if_not: Text | None = None


class QuantityLine(Form):
    """One amount, and whether it belongs on the shopping list."""

    does: Literal["quantity"]
    item: Text
    amount: str | None = None
    packs: str | None = None
    note: Text | None = None
    buy: YesNo = "no"


class TableLine(Form):
    """A computed list shown as a table."""

    does: Literal["table"]
    title: Text
    rows: str
    columns: dict[str, Text]
    note: Text | None = None


class Batches(Form):
    """The computed batch plan."""

    does: Literal["batches"]
    record: str


class ConditionLine(Form):
    """What today's conditions mean."""

    does: Literal["condition"]
    say: Text
    verdict: Literal["go", "wait", "no_go"]


class Check(Form):
    """A margin: a value against a limit."""

    does: Literal["check"]
    name: Text
    value: str
    bound: Literal["at_least", "at_most"]
    against: str
    ample: str | None = None


class Review(Form):
    """What is thought of one point of a plan that a person brought along."""

    does: Literal["review"]
    about: Text
    verdict: Literal["sound", "change", "fails", "not_told"]
    say: Text


class CautionRef(Form):
    """Cautions raised, by id."""

    does: Literal["caution"]
    cautions: tuple[Id, ...]


class Confirm(Form):
    """A number to read on the maker's data sheet."""

    does: Literal["confirm"]
    say: Text


Conclusion = Annotated[
    Conclude | Evidence | Stop | SendBack | Specify | Step | QuantityLine | TableLine | Batches | ConditionLine
    | Check | Review | CautionRef | Confirm,
    Field(discriminator="does"),
]


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
    """A test beside the rules: with these facts, these rules fire and those stay silent."""

    example: Text
    given: dict[str, tuple[str, ...]]
    fires: tuple[str, ...] = ()
    silent: tuple[str, ...] = ()


class Caution(Entry):
    """What may hurt, how to avoid it, and whose word goes above ours."""

    caution: Id
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

    `close_call` is how the verdict names the runner-up, `{other}`, when the lead is narrow.
    """

    decision: Id
    label: Text
    of: Id
    stage: Id
    when: Condition | None = None
    heads: YesNo = "no"
    close_call: Text | None = None
    plan: PlannedChoice | None = None
    if_none: IfNone


class Attribute(Form):
    """What is recorded of each thing of a kind."""

    label: Text
    kind: Literal["choice", "yes_no", "quantity", "quantities", "things", "text"]
    values: dict[str, Text] = Field(default_factory=dict)
    unit: Text | None = None
    plausible: tuple[float, float] | None = None
    of: Id | None = None


class Kind(Entry):
    """A kind of thing: faces, adhesives, resins, methods ..."""

    kind: Id
    label: Text
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
