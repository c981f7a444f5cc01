"""What stands in a report, and in which order."""

from __future__ import annotations

import pytest

from advisor.consultation import advice as a
from advisor.report import phrases
from advisor.report.blocks import Line
from advisor.report.outline import outline
from tests.report.samples import (
    candidate,
    caution,
    check,
    ended,
    evidence,
    heads,
    items,
    rule_base,
    said,
    sections,
    whole,
)

ORDER = ["stops", "verdict", "today", "why", "choices", "specification", "buy", "batches", "steps",
         "checks", "cautions", "disputed", "assumed", "missing", "pivotal", "confirm", "words",
         "sources"]


def test_sections_come_in_the_order_of_need() -> None:
    assert list(sections(whole())) == ORDER


def test_details_add_the_balance_and_the_trace() -> None:
    added = [id_ for id_ in sections(whole(), details=True) if id_ not in ORDER]
    assert added == ["why_not", "balance", "quantities", "told", "trace"]


@pytest.mark.parametrize("status", ["stop", "refer"])
def test_without_a_method_only_reasons_cautions_and_assumptions_are_left(status: str) -> None:
    assert list(sections(ended(status))) == ["stops", "verdict", "turn_to", "cautions", "disputed", "assumed",
                                             "sources"]
    assert "missing" in sections(ended(status), details=True)


def test_an_incomplete_case_lists_each_question_once() -> None:
    missing = tuple(a.MissingLine(question=name, text=f"What {name}?") for name in ("duty", "load"))
    advice = ended("incomplete", verdict="Answer: What duty? What load?", missing=missing, turn_to=())
    found = sections(advice)
    assert heads(found["verdict"]) == ["What duty?", "What load?"]
    assert "missing" not in found


def test_stops_stand_first_and_nowhere_else() -> None:
    found = outline(whole(), rule_base())
    assert said(found[0])[0] == "Drain the tank."
    assert found[0].tone == "alarm"
    assert [section.id for section in found if "Drain the tank." in said(section)] == ["stops"]


def test_a_stop_does_not_say_again_what_the_verdict_says() -> None:
    advice = ended("stop", cautions=(caution("tank", "stop", "Drain it."),), verdict="Reason of tank. More.",
                   turn_to=("the master of tank",))
    assert said(sections(advice)["stops"]) == ["Drain it."]


def test_the_worst_condition_of_the_day_comes_first() -> None:
    assert said(sections(whole())["today"])[0] == phrases.TODAY_SAYS["wait"]


def test_a_failing_margin_is_told_at_the_top() -> None:
    verdict = sections(whole())["verdict"]
    assert any(isinstance(line, Line) and line.tone == "alarm" and "Heat" in line.text for line in verdict.blocks)
    assert len(sections(whole(checks=(check(),)))["verdict"].blocks) == 1


def test_the_strongest_reasons_come_first() -> None:
    assert heads(sections(whole())["why"])[:2] == ["A strong reason. A slight reason.", "It smells."]
    assert heads(sections(whole(), details=True)["why"]) == ["A strong reason.", "A slight reason.", "It smells."]


def test_each_other_method_has_its_strongest_reason_against_it() -> None:
    found = {item.head.label: item.head.text for item in items(sections(whole())["why"])[2:]}
    assert found == {"Screw": "Holes weaken it.", "Weld": "Plastic burns."}


def test_methods_with_the_same_reason_stand_together() -> None:
    out = evidence("rule_out", "It joins nothing.")
    methods = tuple(candidate(name, "ruled_out", out) for name in ("nail", "staple"))
    found = items(sections(whole(methods=methods))["why"])
    assert [(item.head.label, item.head.text) for item in found] == [("Nail; Staple", "It joins nothing.")]


def test_a_close_call_shows_both_sides_of_the_other_way() -> None:
    choice = whole().choices[0].model_copy(update={"close_to": "screw"})
    found = items(sections(whole(choices=(choice,), status="close_call"))["why"])[2]
    assert (found.head.label, found.head.text) == ("Screw", "nearly as good.")
    assert [(line.label, line.text) for line in found.tail] == [("For", "There is room."),
                                                                 ("Against", "Holes weaken it.")]


def test_steps_are_numbered_through_their_phases() -> None:
    found = sections(whole())["steps"]
    assert [item.number for item in items(found)] == [1, 2, 3]
    assert [text for text in said(found) if text.startswith("Phase")] == ["Phase ready", "Phase apply"]
    step = items(found)[1]
    assert not step.tail
    detailed = items(sections(whole(), details=True)["steps"])[1]
    assert [(line.label, line.text) for line in detailed.tail] == [("Right when", "It is clear."),
                                                                   ("If not", "Roll again.")]
    (hold,) = step.below
    assert (hold.label, hold.text, hold.tone) == ("HOLD POINT", "Nothing before the face is dry.", "alarm")


def test_cautions_go_from_danger_to_note_and_disputes_apart() -> None:
    found = sections(whole())
    assert heads(found["cautions"]) == ["No flame.", "Wear gloves.", "Mind the step."]
    assert [item.head.label for item in items(found["cautions"])] == ["DANGER", "CAUTION", "NOTE"]
    assert heads(found["disputed"]) == ["Some say long."]


def test_what_was_assumed_is_not_called_missing_too() -> None:
    assert heads(sections(whole())["missing"]) == ["The bead could not be worked out: too thin"]


def test_the_answer_that_decides_comes_before_the_one_that_does_not() -> None:
    decides, other = items(sections(whole())["pivotal"])
    assert decides.head.label == "This answer decides"
    assert [(line.label, line.text) for line in decides.below] == [
        ("glue", "if plate"), ("screw", "if tube; rod"), ("How to find out", "Scratch it.")]
    assert other.head.label == phrases.NO_MATTER


def test_answers_are_read_back_in_plain_words() -> None:
    two = [whole().trace[0].model_copy(update={"fact": fact, "value": value})
           for fact, value in (("part", "a plate"), ("gap", "wide"), ("odd", "a plate"))]
    full = items(sections(whole(trace=two), details=True)["told"])
    assert sorted((item.head.label or "", item.head.text) for item in full) == [
        ("Gap", "wide"), ("Part", "a plate"), ("odd", "a plate")]


def test_every_line_of_the_evidence_is_in_the_balance() -> None:
    found = " ".join(said(sections(whole(), details=True)["balance"]))
    assert all(line.because in found for method in whole().methods for line in method.evidence)
    assert "made.slight; ABC 12 1999" in found
