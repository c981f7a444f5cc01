"""What a rule may conclude: one model for each line of `then`."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from advisor.knowledge.shapes import Form, Id, Strength, Text, YesNo


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
    """One line of the specification; `reckoned` when it tells how the plan was reckoned and asks for no work."""

    does: Literal["specify"]
    about: Text
    say: Text
    reckoned: YesNo = "no"


class Step(Form):
    """One step of the work; `wait` is a time to be kept by the clock (a fact or `limit/name`)."""

    does: Literal["step"]
    phase: Id
    order: int = 50
    do: Text
    how_long: Text | None = None
    hold: Text | None = None
    right_when: Text | None = None
    if_not: Text | None = None
    wait: str | None = None


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


class Reading(Form):
    """Something to read off at the place of work, and when it is a go; without `phase` before starting.

    `answers` is the question that the reading answers when the job is looked at again later.
    """

    does: Literal["reading"]
    name: Text
    go_when: Text
    unit: str | None = None
    phase: Id | None = None
    answers: Id | None = None


class WorkingTime(Form):
    """A working time that depends on the temperature: known as `time` at `temperature`, both facts.

    `colder` and `warmer` say what another temperature means for the work.
    """

    does: Literal["working_time"]
    about: Text
    time: str
    temperature: str
    activation_energy: str
    colder: Text
    warmer: Text


class Recall(Form):
    """What a later look at this job may take as answered, by question."""

    does: Literal["recall"]
    values: dict[str, Text]


class GoOn(Form):
    """What a person may go on to with all their answers kept; `answers` are put over them, by question.

    An answer `{fact}` stands for the value of that fact.
    """

    does: Literal["go_on"]
    say: Text
    answers: dict[str, Text]


class Check(Form):
    """A margin: a value against a limit."""

    does: Literal["check"]
    name: Text
    value: str
    bound: Literal["at_least", "at_most"]
    against: str
    ample: str | None = None
    not_taken: YesNo = "no"


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


class Draw(Form):
    """A part of the drawings: what `measures` it has, each a fact or `limit/name`, and what the key says of it."""

    does: Literal["draw"]
    part: Text
    say: Text | None = None
    measures: dict[str, Text] = Field(default_factory=dict)


class Confirm(Form):
    """A number to read on the maker's data sheet."""

    does: Literal["confirm"]
    say: Text


Conclusion = Annotated[
    Conclude | Evidence | Stop | SendBack | Specify | Step | QuantityLine | TableLine | Batches | ConditionLine
    | Reading | Recall | GoOn | WorkingTime | Check | Review | CautionRef | Confirm
    | Draw,
    Field(discriminator="does"),
]
