"""The section of ranked causes: the likeliest first, each with its reasons and its notes."""

from __future__ import annotations

from advisor.consultation import advice as a
from advisor.report import phrases
from tests.report.samples import candidate, evidence, items, said, sections, whole


def noted(id_: str, standing: str, *lines: a.EvidenceLine) -> a.Candidate:
    return candidate(id_, standing, *lines).model_copy(update={"notes": {"The test": f"Scratch the {id_}."}})


def failure(close_to: str | None = None) -> a.Advice:
    """Four invented causes that are left and one that is ruled out."""
    both = evidence("favour", "It is soft.", "clear", rule="made.soft")
    found = (noted("cold", "chosen", both, evidence("favour", "Frost came.", "strong")),
             noted("haste", "possible", both, evidence("oppose", "There was time.", "slight")),
             noted("dirt", "possible", both), noted("age", "possible", both),
             candidate("magic", "ruled_out", evidence("rule_out", "None exists.")))
    return whole(method=None, methods=(), choices=(
        a.Choice(decision="cause", label="Cause", chosen="cold", close_to=close_to, candidates=found),))


def test_the_three_likeliest_stand_in_order_with_reasons_and_notes() -> None:
    first, second, third = items(sections(failure())["causes"])
    assert [item.number for item in (first, second, third)] == [1, 2, 3]
    assert [(line.label, line.text) for line in first.below] == [
        (phrases.FOR, "Frost came."), (phrases.FOR, "It is soft."), ("The test", "Scratch the cold.")]
    assert (phrases.AGAINST, "There was time.") in [(line.label, line.text) for line in second.below]
    assert third.head.text == "Dirt."


def test_a_reason_is_heard_once_without_the_details() -> None:
    assert said(sections(failure())["causes"]).count("It is soft.") == 1
    assert said(sections(failure(), details=True)["causes"]).count("It is soft.") == 3


def test_a_narrow_lead_is_said() -> None:
    labels = [item.head.label for item in items(sections(failure("haste"))["causes"])]
    assert labels == [phrases.LIKELIEST, phrases.AS_LIKELY, phrases.LESS_LIKELY]


def test_choices_without_notes_have_no_such_section() -> None:
    assert "causes" not in sections(whole())
    assert "choices" in sections(whole())


def test_causes_are_not_listed_among_what_to_use_and_idle_ones_not_in_the_balance() -> None:
    idle = candidate("idle", "nothing_for_it")
    choice = failure().choices[0]
    advice = whole(choices=(choice.model_copy(update={"candidates": (*choice.candidates, idle)}),))
    found = sections(advice, details=True)
    assert "choices" not in found
    assert "Magic" in said(found["balance"]) and "Idle" not in said(found["balance"])


def test_sources_of_the_evidence_are_named() -> None:
    assert "ABC 12" in " ".join(said(sections(failure(), details=True)["sources"]))
