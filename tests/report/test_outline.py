"""What stands in a report, and in which order."""

from __future__ import annotations

import pytest

from advisor.consultation import advice as a
from advisor.report import phrases
from advisor.report.blocks import Item, Line, Section, Table, texts_of
from advisor.report.outline import outline
from tests.report.samples import candidate, caution, check, ended, evidence, quantity, rule_base, whole

ORDER = ["stops", "verdict", "today", "why", "why_not", "choices", "specification", "quantities", "buy", "batches",
         "steps", "checks", "cautions", "disputed", "told", "assumed", "missing", "pivotal", "confirm", "words",
         "sources"]


def sections(advice: a.Advice, details: bool = False) -> dict[str, Section]:
    return {section.id: section for section in outline(advice, rule_base(), details=details)}


def said(section: Section) -> list[str]:
    return list(texts_of([section]))[1:]


def heads(section: Section) -> list[str]:
    return [block.head.text for block in section.blocks if isinstance(block, Item)]


def items(section: Section) -> list[Item]:
    return [block for block in section.blocks if isinstance(block, Item)]


def test_sections_come_in_the_order_of_need() -> None:
    assert list(sections(whole())) == ORDER


def test_details_add_the_balance_and_the_trace() -> None:
    assert [id_ for id_ in sections(whole(), details=True) if id_ not in ORDER] == ["balance", "trace"]


@pytest.mark.parametrize("status", ["stop", "refer"])
def test_without_a_method_only_reasons_cautions_and_assumptions_are_left(status: str) -> None:
    assert list(sections(ended(status))) == ["stops", "verdict", "turn_to", "cautions", "disputed", "assumed",
                                             "missing", "sources"]


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
    assert heads(sections(whole())["why"]) == ["A strong reason.", "A slight reason.", "It smells."]


def test_each_other_method_has_its_strongest_reason_against_it() -> None:
    found = {item.head.label: item.head.text for item in items(sections(whole())["why_not"])}
    assert found == {"Screw": "Holes weaken it.", "Weld": "Plastic burns.", "Tape": phrases.NOTHING_FOR_IT}


def test_methods_with_the_same_reason_stand_together() -> None:
    out = evidence("rule_out", "It joins nothing.")
    methods = tuple(candidate(name, "ruled_out", out) for name in ("nail", "staple"))
    found = items(sections(whole(methods=methods))["why_not"])
    assert [(item.head.label, item.head.text) for item in found] == [("Nail; Staple", "It joins nothing.")]


def test_a_close_call_shows_both_sides_of_the_other_way() -> None:
    choice = whole().choices[0].model_copy(update={"close_to": "screw"})
    found = items(sections(whole(choices=(choice,), status="close_call"))["why_not"])[0]
    assert (found.head.label, found.head.text) == ("Screw", "nearly as good.")
    assert [(line.label, line.text) for line in found.below] == [("For", "There is room."),
                                                                 ("Against", "Holes weaken it.")]


def test_packs_come_before_the_high_end_and_pieces_are_whole() -> None:
    assert said(sections(whole())["buy"])[1:] == [
        "Paste", "2 x 75 mL; needed 80 to 150 mL (likely 100)", "Clamps", "7", "Cloths", "Lint-free."]


def test_an_amount_to_buy_without_packs_is_the_high_end() -> None:
    line = quantity("Resin", amount=1.0, low=0.8, high=1.4, unit="kg")
    assert said(sections(whole(quantities=(line,)))["buy"])[1:] == ["Resin", "1.4 kg"]


def test_every_amount_is_shown_with_its_range() -> None:
    found = {item.head.label: item.head.text for item in items(sections(whole())["quantities"])}
    assert found == {"Paste": "80 to 150 mL (likely 100)", "Clamps": "5.2 to 6.4 (likely 5.2)",
                     "Resin laid": "400 to 600 g (likely 500)"}


def test_steps_are_numbered_through_their_phases() -> None:
    found = sections(whole())["steps"]
    assert [item.number for item in items(found)] == [1, 2, 3]
    assert [text for text in said(found) if text.startswith("Phase")] == ["Phase ready", "Phase apply"]
    hold = items(found)[1].below[0]
    assert (hold.label, hold.text, hold.tone) == ("HOLD POINT", "Nothing before the face is dry.", "alarm")


def test_a_margin_between_temperatures_is_a_difference() -> None:
    one = check(value=20.0, limit=15.0, unit="C", margin=5.0)
    table = sections(whole(checks=(one,), units="us"))["checks"].blocks[0]
    assert isinstance(table, Table)
    assert table.rows == (("Joint", "68 °F", "at least 59 °F", "9 °F", "adequate"),)


@pytest.mark.parametrize(("given", "limit", "spare"), [
    ({"value": 12.0, "margin": 2.0}, "at least 10 mm", "2 mm"),
    ({"value": 8.0, "margin": 2.0}, "at most 10 mm", "2 mm"),
    ({"value": 8.0, "margin": -2.0, "verdict": "fails"}, "at least 10 mm", "short by 2 mm"),
    ({"value": 10.0, "margin": 0.0}, "10 mm", "0 mm")])
def test_a_check_says_which_way_its_limit_holds(given: dict[str, float], limit: str, spare: str) -> None:
    table = sections(whole(checks=(check(**given),)))["checks"].blocks[0]
    assert isinstance(table, Table)
    assert table.rows[0][2:4] == (limit, spare)


def test_formulas_are_kept_for_the_details() -> None:
    assert "length x width" not in said(sections(whole())["checks"])
    assert "length x width" in said(sections(whole(), details=True)["checks"])


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
    assert [(line.label, line.text) for line in decides.below][:2] == [("glue", "if plate"),
                                                                       ("screw", "if tube; rod")]
    assert other.head.label == "It does not matter here"


def test_answers_are_read_back_in_plain_words() -> None:
    assert [(item.head.label, item.head.text) for item in items(sections(whole())["told"])] == [("Part", "a plate")]


def test_a_source_is_named_once_and_memory_plainly() -> None:
    assert heads(sections(whole())["sources"]) == [
        phrases.FROM_MEMORY_IN_FULL, "Invented joints, ABC, ABC 12, 4.2, 1999", phrases.COMMON_PRACTICE_IN_FULL,
        f"Unopened book, XYZ, {phrases.NOT_OPENED}"]


def test_a_source_nobody_wrote_down_is_still_shown() -> None:
    one = check(source=("no-such-source",))
    assert "no-such-source" in heads(sections(whole(checks=(one,)))["sources"])


def test_every_line_of_the_evidence_is_in_the_balance() -> None:
    found = " ".join(said(sections(whole(), details=True)["balance"]))
    assert all(line.because in found for method in whole().methods for line in method.evidence)
    assert "made.evidence; ABC 12 1999" in found
