"""What a scenario expects of its advice, and what of that is not so."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from advisor.consultation.advice import Advice

DECISIONS = ("damage_found", "damage_cause", "cause", "adhesive", "resin", "build_up", "catalyst", "cleaner", "filler")
_ORDER = ("no_go", "wait", "go")


def unmet(expect: Mapping[str, Any], advice: Advice) -> list[str]:
    """Everything a scenario expects that its advice does not hold; how many questions it sees is left to the tests."""
    found = [*_ends(expect, advice), *_texts(expect, advice), *_amounts(expect, advice), *_names(expect, advice)]
    return [what for what in found if what]


def _as_list(value: Any) -> list[str]:
    return [value] if isinstance(value, str) else list(value)


def _ends(expect: Mapping[str, Any], advice: Advice) -> Iterator[str]:
    if advice.status not in _as_list(expect.get("status", "advice")):
        yield f"status is {advice.status}"
    if "method" in expect and advice.method not in _as_list(expect["method"]):
        yield f"method is {advice.method}"
    chosen = {choice.decision: choice.chosen for choice in advice.choices}
    for decision in set(DECISIONS) & set(expect):
        if chosen.get(decision) not in _as_list(expect[decision]):
            yield f"{decision} is {chosen.get(decision)}"
    if "conditions" in expect:
        verdicts = [line.verdict for line in advice.conditions]
        worst = next((verdict for verdict in _ORDER if verdict in verdicts), None)
        if worst != expect["conditions"]:
            yield f"today is {worst}"


def _texts(expect: Mapping[str, Any], advice: Advice) -> Iterator[str]:
    said = {"steps": " ".join(step.text for step in advice.steps),
            "specification": " ".join(f"{line.about} {line.say}" for line in advice.specification),
            "turn_to": " ".join(advice.turn_to),
            "review_says": " ".join(line.say for line in advice.review)}
    for part, text in said.items():
        for wanted in _as_list(expect.get(part, [])):
            if wanted.casefold() not in text.casefold():
                yield f"{part} without {wanted}"


def _amounts(expect: Mapping[str, Any], advice: Advice) -> Iterator[str]:
    for item, (least, most) in expect.get("quantities", {}).items():
        amounts = [line.amount for line in advice.quantities
                   if item.casefold() in line.item.casefold() and line.amount is not None]
        if not amounts or not float(least) <= amounts[0] <= float(most):
            yield f"amount of {item} is {amounts[0] if amounts else 'not given'}"
    margins = {check.name: check.verdict for check in advice.checks}
    for name, verdict in expect.get("checks", {}).items():
        if margins.get(name) != verdict:
            yield f"check {name} is {margins.get(name)}"
    points = {line.about: line.verdict for line in advice.review}
    for about, wanted in expect.get("review", {}).items():
        if points.get(about) != wanted:
            yield f"review of {about} is {points.get(about)}"


def _names(expect: Mapping[str, Any], advice: Advice) -> Iterator[str]:
    for what, there in (("cautions", {caution.id for caution in advice.cautions}),
                        ("assumed", {line.question for line in advice.assumed}),
                        ("pivotal", {line.question for line in advice.pivotal if line.matters})):
        for name in _as_list(expect.get(what, [])):
            if name not in there:
                yield f"{what} without {name}"
