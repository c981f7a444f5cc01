"""More load, wider gaps, cold and wet never make a verdict better: the ordered questions, and what is compared.

Only like is compared with like: where a worse answer changes what is chosen, the verdicts of the two ways say nothing
about each other. Where a worse answer may rightly make one verdict better, the reason stands here.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Literal

from advisor.consultation.answers import Answer
from advisor.consultation.consult import Consultation
from advisor.consultation.evaluate import Evaluation, Evaluator
from advisor.consultation.margins import Margins
from advisor.consultation.status import status_of
from advisor.consultation.texts import Texts
from advisor.knowledge import model as m
from advisor.knowledge.numbers import Number, exact

END = ("stop", "refer", "given")
TODAY = ("no_go", "wait", "go")
MARGIN = ("fails", "doubtful", "thin", "adequate", "ample")
STEPS = (1.0, 1.3, 3.0)


@dataclass(frozen=True)
class Ordered:
    """A question whose answers go from better to worse: words in that order, or a number worse upwards or downwards.

    A number is only moved between `ends`, where the order holds.
    """

    words: tuple[str, ...] = ()
    worse: Literal["up", "down", ""] = ""
    ends: tuple[float, float] = (float("-inf"), float("inf"))


ORDERED: Mapping[str, Ordered] = {
    "load_class": Ordered(("cosmetic", "panel", "structural", "safety_critical")),
    "load_force": Ordered(worse="up"),
    "loose_hazard": Ordered(("no", "yes")),
    "gap_max": Ordered(worse="up"),
    "closing": Ordered(("by_fingers", "light_clamps", "force")),
    "pull_force": Ordered(worse="up"),
    "overlap_width": Ordered(worse="down"),
    "moisture": Ordered(("dry", "damp", "wet")),
    "core_state": Ordered(("firm_dry", "wet", "rotten")),
    "relative_humidity": Ordered(worse="up"),
    "air_temperature": Ordered(worse="down", ends=(-20.0, 18.0)),
    "surface_temperature": Ordered(worse="down", ends=(-20.0, 18.0)),
    "coldest_ahead": Ordered(worse="down"),
    "can_warm": Ordered(("yes", "no")),
    "service_temperature": Ordered(worse="up"),
    "cause_mended": Ordered(("yes", "no")),
}

_TOLD = ("a structure is reckoned with the load that was told, a panel with one by its size and fasteners beside it; "
         "the one may be less than the other")
RIGHTLY: Mapping[tuple[str, str], str] = {
    ("air_temperature", "margin: Surface above the dew point"):
        "air that is colder at the same humidity holds less water, so a surface that was measured is further above it",
    ("load_class", "margin: Bending stiffness of the strips against the part"):
        "where more is carried more glass is laid, and the strips are stiffer",
    ("load_class", "margin: Load on each fastener"): _TOLD,
    ("load_class", "margin: Mean stress on the glued foot"): _TOLD,
    ("load_class", "margin: Mean shear"): _TOLD,
    ("overlap_width", "margin: Working time against the time needed"): "less is to be spread in the time",
    ("gap_max", "margin: Strain of the bond line"): "a thicker bed is strained less by the same movement",
    ("gap_max", "margin: Shear at the ends from growth"): "a thicker bed is strained less by the same movement",
    ("can_warm", "margin: Working time against the time needed"): "in the cold there is longer to work",
    ("air_temperature", "margin: Catalyst dose against the most"): "in the cold the same dose heats less",
    ("relative_humidity", "margin: Surface above"):
        "in dry air nobody is asked for the surface, which is then taken as colder than the air; in damp air what was "
        "measured counts",
    ("air_temperature", "today"):
        "in the cold one is asked whether the work can be kept warm, and work that is kept warm minds no cold night",
    ("gap_max", "today"):
        "10 mm stands for a gap that nobody measured, which has to wait; and a gap to be packed or bridged asks for no "
        "overlap, only for the distance of the holes from each edge",
    ("pull_force", "today"):
        "a gap that no fair pull closes is bridged, which asks for no overlap, only for the distance of the holes",
}
"""What a worse answer may make better, by how its name begins, with the reason of the trade."""


def rightly(question: str, what: str) -> str:
    """Why a worse answer rightly makes something better; empty where nothing says so."""
    return next((why for (name, begins), why in RIGHTLY.items() if name == question and what.startswith(begins)), "")


@dataclass(frozen=True)
class Judged:
    """What a case comes to, as far as it can be better or worse; verdicts as places in their order, worst first."""

    end: int
    chosen: tuple[tuple[str, str | None], ...]
    verdicts: Mapping[str, int]


def judged(evaluator: Evaluator, answers: Mapping[str, Answer]) -> Judged | None:
    """Judge a case; None where answers contradict each other or an essential one is missing."""
    result = evaluator.evaluate(answers, final=True)
    if result.ended_by in ("send_back", "incomplete"):
        return None
    status = status_of(result, evaluator.rule_base)
    end = END.index(status) if status in END else END.index("given")
    chosen = tuple((name, choice.chosen) for name, choice in result.choices.items())
    return Judged(end, chosen, dict(_verdicts(evaluator, result)) if end == END.index("given") else {})


def _verdicts(evaluator: Evaluator, result: Evaluation) -> Iterator[tuple[str, int]]:
    texts = Texts(evaluator.rule_base, result.facts, "metric")
    for line in Margins(evaluator.rule_base, result, texts).lines():
        yield f"margin: {line.name}", MARGIN.index(line.verdict)
    today = [TODAY.index(line.verdict) for _, line in result.conclusions(m.ConditionLine)]
    if today:
        yield "today", min(today)


def worse_answers(name: str, value: object, evaluator: Evaluator) -> Iterator[object]:
    """Worse answers than the one given, nearest first."""
    order = ORDERED[name]
    if isinstance(value, str) and value in order.words:
        yield from order.words[order.words.index(value) + 1:]
    elif isinstance(value, Number) and order.worse:
        yield from _worse_numbers(name, value, order, evaluator)


def _worse_numbers(name: str, value: Number, order: Ordered, evaluator: Evaluator) -> Iterator[Number]:
    """The next numbers beyond each of the limits that rules compare with, and some steps further."""
    low, high = evaluator.rule_base.facts[name].plausible or order.ends
    low, high = max(low, order.ends[0]), min(high, order.ends[1])
    if not low <= value.value <= high:
        return
    limits = [limit for limit in evaluator.compared_with(name) if low <= limit <= high]
    span = (high - low) / 40
    tried = {*(limit + shift * span / 10 for limit in limits for shift in (-1, 1)),
             *(value.value + (span * step if order.worse == "up" else -span * step) for step in STEPS), low, high}
    beyond = sorted(one for one in tried if low <= one <= high
                    and (one > value.value if order.worse == "up" else one < value.value))
    yield from (exact(round(one, 3), value.unit) for one in (beyond if order.worse == "up" else reversed(beyond)))


@dataclass(frozen=True)
class Better:
    """A worse answer that made something better."""

    question: str
    what: str
    given: str
    worse: str
    answers: Mapping[str, Answer]


def compared(case: Consultation, most: int = 4) -> tuple[list[Better], int]:
    """Everything that a worse answer makes better, and how many worse answers were tried: `most` for each question."""
    base = judged(case.evaluator, case.answers)
    found: list[Better] = []
    count = 0
    if base is None:
        return found, count
    for answer in case.relevant_answers():
        if answer.question not in ORDERED:
            continue
        for value in list(worse_answers(answer.question, answer.value, case.evaluator))[:most]:
            other = {**case.answers, answer.question: Answer(answer.question, str(value), value)}
            after = judged(case.evaluator, other)
            if after is None:
                continue
            count += 1
            for what in _improved(base, after):
                found.append(Better(answer.question, what, str(answer.value), str(value), other))
    return found, count


def _improved(base: Judged, after: Judged) -> Iterator[str]:
    if after.end > base.end:
        yield f"end: {END[base.end]} to {END[after.end]}"
    if base.chosen != after.chosen:
        return
    for what in base.verdicts.keys() & after.verdicts.keys():
        if after.verdicts[what] > base.verdicts[what]:
            yield what
