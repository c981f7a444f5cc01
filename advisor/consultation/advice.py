"""Advice: what a consultation returns; its JSON is a contract that scripts outside the project rely on."""

from __future__ import annotations

from typing import Any, Literal

from pydantic import BaseModel, ConfigDict, Field

FORMAT = 1

Status = Literal["advice", "close_call", "refer", "stop", "incomplete"]
Standing = Literal["chosen", "possible", "ruled_out", "nothing_for_it"]
Verdict = Literal["ample", "adequate", "thin", "doubtful", "fails"]


class Part(BaseModel):
    """A part of the advice."""

    model_config = ConfigDict(frozen=True, extra="forbid", defer_build=True)


class Why(Part):
    """Who says so: the rule, its reason in plain words, and the sources."""

    rule: str
    because: str
    source: tuple[str, ...]


class EvidenceLine(Why):
    """One piece of evidence for or against a candidate."""

    strength: Literal["require", "favour", "oppose", "rule_out", "withdraw"]
    weight: Literal["slight", "clear", "strong"] | None = None


class Candidate(Part):
    """One thing to choose, or one cause, with everything that spoke for and against it.

    `notes` are the texts that the rules keep of it, by heading: how to tell it apart, what can be saved.
    """

    id: str
    label: str
    standing: Standing
    evidence: tuple[EvidenceLine, ...]
    notes: dict[str, str] = Field(default_factory=dict)


class Choice(Part):
    """A decision: what was chosen and the whole balance."""

    decision: str
    label: str
    chosen: str | None
    close_to: str | None = None
    candidates: tuple[Candidate, ...]


class SpecificationLine(Part):
    """One line of the specification; `reckoned` when it tells how the plan was reckoned and asks for no work."""

    about: str
    say: str
    why: Why
    rows: tuple[dict[str, Any], ...] = ()
    columns: dict[str, str] = Field(default_factory=dict)
    reckoned: bool = False


class Quantity(Part):
    """An amount: likely, low and high in `unit`, the packs to buy, and how it was found.

    `spread_from` names the number whose own range makes most of the range between low and high.
    """

    item: str
    amount: float | None
    unit: str
    low: float | None
    high: float | None
    packs: str | None
    basis: str
    buy: bool
    why: Why
    note: str | None = None
    spread_from: str | None = None


class Minutes(Part):
    """A time to be kept by the clock, in minutes."""

    low: float
    likely: float
    high: float


class ReadingLine(Part):
    """Something to read off, with its unit where it has one, and when it is a go; without a phase before starting."""

    name: str
    go_when: str
    unit: str | None
    phase: str | None = None
    answers: str | None = None
    why: Why


class WorkingTimeLine(Part):
    """A working time as it stands at today's temperature, and what it takes to work it out for another.

    At T: time x exp(E/R (1/T - 1/T0)), T in K, the computation `working_time_min`.
    """

    about: str
    time_min: Minutes
    temperature_C: float
    activation_energy_kJ_mol: float
    colder: str
    warmer: str
    why: Why


class StepLine(Part):
    """One step of the work."""

    number: int
    phase: str
    text: str
    duration: str | None
    hold_point: str | None
    right_when: str | None = None
    if_not: str | None = None
    wait: Minutes | None = None
    why: Why


class Batch(Part):
    """One cup: how much, when to start it, when it must lie, when to stop."""

    number: int
    mass_kg: float
    start_min: float
    place_within_min: float
    stop_at_min: float


class ConditionLine(Part):
    """What today's conditions mean."""

    say: str
    verdict: Literal["go", "wait", "no_go"]
    why: Why


class CheckLine(Part):
    """A margin: the value and its limit with their ranges, what the ratio of the two means, and what it rests on.

    `straddles` says that the limit lies inside what the ranges allow: what likely holds is then `doubtful`;
    `assumed` names the questions nobody answered;
    `spread_from` names the number whose own range makes most of the range of value or limit; `not_taken` is a margin
    of what the advice does not rely on, shown to say why.
    """

    name: str
    value: float
    low: float
    high: float
    limit: float
    limit_low: float
    limit_high: float
    bound: Literal["at_least", "at_most"]
    unit: str
    margin: float
    ratio: float | None
    verdict: Verdict
    straddles: bool
    formula: str
    with_numbers: str
    assumed: tuple[str, ...]
    source: tuple[str, ...]
    spread_from: str | None = None
    not_taken: bool = False


class ReviewLine(Part):
    """What is thought of one point of a person's own plan."""

    about: str
    verdict: Literal["sound", "change", "fails", "not_told"]
    say: str
    why: Why


class CautionLine(Part):
    """What may hurt and how to avoid it."""

    id: str
    severity: Literal["stop", "danger", "care", "note"]
    text: str
    because: str
    source: tuple[str, ...]
    defer_to: str | None


class ConfirmLine(Part):
    """A number to read on the maker's data sheet, with the generic value used until then."""

    text: str
    used: str | None = None


class Pivot(Part):
    """An answer that decides: one nobody knew, with what each value would have led to, or (with `given`) one of the
    two or three that weighed most in what was chosen; `given` then says so where nobody knew it."""

    question: str
    ask: str
    matters: bool
    outcomes: dict[str, str]
    find_out: str
    given: str | None = None


class Assumed(Part):
    """A value taken because nobody knew it."""

    question: str
    ask: str
    value: str
    because: str


class OnwardLine(Part):
    """What can be planned next with all answers kept; `answers` go over them."""

    say: str
    answers: dict[str, str]
    why: Why


class MissingLine(Part):
    """A question that was not answered, or a number that could not be worked out."""

    question: str
    text: str


class ProductLine(Part):
    """A product in somebody's hand: whether the advice uses it, and what on its card looks odd.

    `against` is what its numbers have against the job: why it is not used, or what does not hold as things stand.
    `hazards` are the maker's own warnings, word for word from the card.
    """

    product: str
    kind: str
    family: str
    used: bool
    say: str
    queries: tuple[str, ...]
    against: tuple[str, ...] = ()
    hazards: tuple[str, ...] = ()


class TraceLine(Part):
    """How a fact came to be known."""

    fact: str
    value: str
    rule: str
    origin: str
    source: tuple[str, ...]
    because: str
    from_: tuple[str, ...] = Field(serialization_alias="from")


class Length(Part):
    """A number with its range, in `unit`."""

    low: float
    likely: float
    high: float
    unit: str


class PlyDrawn(Part):
    """One ply as it lies, the first against the old part; `length_mm` and `width_mm` where it is cut to a size."""

    number: int
    glass: str
    woven: bool
    thickness_mm: float
    length_mm: float | None = None
    width_mm: float | None = None


class PieceDrawn(Part):
    """One piece on the roll: x and length along the roll from its cut end, y and width across it, mm."""

    ply: int
    part: int
    parts: int
    x_mm: float
    y_mm: float
    length_mm: float
    width_mm: float


class RollDrawn(Part):
    """What is cut from one roll."""

    glass: str
    width_mm: float
    length_mm: float
    pieces: tuple[PieceDrawn, ...]


class PartDrawn(Part):
    """A part of the drawings as a rule named it: its measures, and what the key says of it."""

    part: str
    say: str | None
    measures: dict[str, Length]
    why: Why


class Drawn(Part):
    """What drawings are made of: the parts that rules name with their measures, plies, rolls and packs.

    Beside them stand all quantities and words of the case by fact, for drawings made elsewhere. `packs_mL` are the
    packs of adhesive in the order of use, `words` the values of facts that are words, by id.
    """

    numbers: dict[str, Length] = Field(default_factory=dict)
    words: dict[str, str] = Field(default_factory=dict)
    labels: dict[str, str] = Field(default_factory=dict)
    parts: tuple[PartDrawn, ...] = ()
    plies: tuple[PlyDrawn, ...] = ()
    rolls: tuple[RollDrawn, ...] = ()
    packs_mL: tuple[float, ...] = ()


class RuleBaseStamp(Part):
    """Which rules gave the advice."""

    version: str
    hash: str


class Advice(Part):
    """Everything a person needs to know; see docs for each key."""

    advisor: int = FORMAT
    title: str
    file: str | None = None
    status: Status
    method: str | None
    verdict: str
    turn_to: tuple[str, ...] = ()
    methods: tuple[Candidate, ...] = ()
    choices: tuple[Choice, ...] = ()
    specification: tuple[SpecificationLine, ...] = ()
    quantities: tuple[Quantity, ...] = ()
    steps: tuple[StepLine, ...] = ()
    batches: tuple[Batch, ...] = ()
    conditions: tuple[ConditionLine, ...] = ()
    readings: tuple[ReadingLine, ...] = ()
    working_times: tuple[WorkingTimeLine, ...] = ()
    recall: dict[str, str] = Field(default_factory=dict)
    onward: tuple[OnwardLine, ...] = ()
    checks: tuple[CheckLine, ...] = ()
    review: tuple[ReviewLine, ...] = ()
    products: tuple[ProductLine, ...] = ()
    cautions: tuple[CautionLine, ...] = ()
    confirm: tuple[ConfirmLine, ...] = ()
    pivotal: tuple[Pivot, ...] = ()
    assumed: tuple[Assumed, ...] = ()
    missing: tuple[MissingLine, ...] = ()
    trace: tuple[TraceLine, ...] = ()
    units: Literal["metric", "us", "both"] = "metric"
    drawn: Drawn = Field(default_factory=Drawn)
    rule_base: RuleBaseStamp

    def to_json(self, indent: int | None = None) -> str:
        """The contract's JSON text."""
        return self.model_dump_json(by_alias=True, indent=indent)
