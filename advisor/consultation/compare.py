"""Two jobs, or two ways of doing one, side by side: only what differs."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from advisor.consultation.advice import Advice
from advisor.consultation.consult import Consultation


@dataclass(frozen=True)
class Difference:
    """One thing that differs: in which part, what it is called, and how it stands on either side."""

    part: str
    name: str
    one: str
    other: str


def compare(one: Consultation, other: Consultation) -> list[Difference]:
    """What differs in answers, advice, amounts, time, margins and cautions, in this order.

    Raises:
        InputError: the answers of one of the two contradict each other.
    """
    advised = one.advice(), other.advice()
    return [*_pairs("answers", _answers(one), _answers(other)),
            *(difference for part in (_advice, _amounts, _time, _margins, _today, _cautions)
              for difference in _pairs(part.__name__.removeprefix("_"), *(part(advice) for advice in advised)))]


def _pairs(part: str, one: Mapping[str, str], other: Mapping[str, str]) -> Iterator[Difference]:
    for name in dict.fromkeys((*one, *other)):
        if one.get(name, "") != other.get(name, ""):
            yield Difference(part, name, one.get(name, ""), other.get(name, ""))


def _answers(case: Consultation) -> dict[str, str]:
    texts = case.texts_of(case.so_far())
    return {texts.label(answer.question): texts.value(answer.question, answer.value)
            for answer in case.relevant_answers()}


def _advice(advice: Advice) -> dict[str, str]:
    chosen = {choice.label: candidate.label for choice in advice.choices for candidate in choice.candidates
              if candidate.id == choice.chosen}
    return {"status": advice.status, "verdict": advice.verdict, **chosen}


def _amounts(advice: Advice) -> dict[str, str]:
    return {line.item: line.packs or (line.unit if line.amount is None else f"{line.amount:.3g} {line.unit}")
            for line in advice.quantities}


def _time(advice: Advice) -> dict[str, str]:
    return {"batches": str(len(advice.batches)), "steps": str(len(advice.steps)),
            "hold points": str(sum(step.hold_point is not None for step in advice.steps))}


def _margins(advice: Advice) -> dict[str, str]:
    return {line.name: f"{line.verdict} ({line.value:.3g} against {line.limit:.3g} {line.unit})"
            for line in advice.checks}


def _today(advice: Advice) -> dict[str, str]:
    verdicts = [line.verdict for line in advice.conditions]
    return {"today": next((verdict for verdict in ("no_go", "wait", "go") if verdict in verdicts), "")}


def _cautions(advice: Advice) -> dict[str, str]:
    return {line.text.split(". ")[0]: line.severity for line in advice.cautions}
