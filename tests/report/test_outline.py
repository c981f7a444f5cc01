"""What stands in a report, and in which order."""

from __future__ import annotations

import pytest

from advisor.consultation import advice as a
from advisor.report import phrases
from advisor.report.blocks import Item, Line, Section, Table, texts_of
from advisor.report.outline import outline
from tests.report.samples import candidate, caution, check, ended, evidence, quantity, rule_base, whole, why

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
        "Paste", "2 x 75 mL; needed 80 to 150 mL (likely 100)", "Clamps", "7; needed 5.2 to 6.4 (likely 5.2)",
        "Cloths", "Lint-free."]


def test_an_amount_to_buy_without_packs_is_the_high_end() -> None:
    line = quantity("Resin", amount=1.0, low=0.8, high=1.4, unit="kg")
    assert said(sections(whole(quantities=(line,)))["buy"])[1:] == ["Resin", "1.4 kg; needed 0.8 to 1.4 kg (likely 1)"]


def test_what_the_rules_say_of_an_amount_to_buy_stands_with_it() -> None:
    line = quantity("Nozzles", amount=3.0, unit="count", note="Buy one more.")
    assert said(sections(whole(quantities=(line,)))["buy"])[1:] == ["Nozzles", "3. Buy one more."]


def test_what_is_bought_is_not_listed_twice() -> None:
    found = {item.head.label: item.head.text for item in items(sections(whole())["quantities"])}
    assert found == {"Resin laid": "400 to 600 g (likely 500)"}


def test_every_amount_is_shown_with_its_range_in_the_details() -> None:
    found = {item.head.label: item.head.text for item in items(sections(whole(), details=True)["quantities"])}
    assert found == {"Paste": "80 to 150 mL (likely 100)", "Clamps": "5.2 to 6.4 (likely 5.2)",
                     "Cloths": phrases.AS_NEEDED, "Resin laid": "400 to 600 g (likely 500)"}


def test_an_amount_nobody_can_reckon_gives_way_to_what_is_said_of_it() -> None:
    lines = (quantity("Rest", buy=False, note="Ask."), quantity("Card", buy=False))
    assert heads(sections(whole(quantities=lines))["quantities"]) == ["Ask.", phrases.AS_NEEDED]


def test_steps_are_numbered_through_their_phases() -> None:
    found = sections(whole())["steps"]
    assert [item.number for item in items(found)] == [1, 2, 3]
    assert [text for text in said(found) if text.startswith("Phase")] == ["Phase ready", "Phase apply"]
    step = items(found)[1]
    assert [(line.label, line.text) for line in step.tail] == [("Right when", "It is clear."),
                                                               ("If not", "Roll again.")]
    (hold,) = step.below
    assert (hold.label, hold.text, hold.tone) == ("HOLD POINT", "Nothing before the face is dry.", "alarm")


def test_a_margin_between_temperatures_is_a_difference() -> None:
    one = check(value=20.0, limit=15.0, unit="C", margin=5.0)
    table = sections(whole(checks=(one,), units="us"))["checks"].blocks[0]
    assert isinstance(table, Table)
    assert table.rows == (("Joint", "68 °F", "at least 59 °F", "9 °F", "adequate"),)


@pytest.mark.parametrize(("given", "limit", "spare"), [
    ({"value": 12.0, "margin": 2.0}, "at least 10 mm", "2 mm"),
    ({"value": 8.0, "margin": 2.0, "bound": "at_most"}, "at most 10 mm", "2 mm"),
    ({"value": 8.0, "margin": -2.0, "verdict": "fails"}, "at least 10 mm", "short by 2 mm"),
    ({"value": 10.0, "margin": 0.0}, "at least 10 mm", "0 mm"),
    ({"value": 9.3197, "limit": 3.0, "margin": 6.3197, "unit": "K"}, "at least 3 °C", "6.3 °C"),
    ({"value": 0.5343, "limit": 0.2, "margin": 0.3343, "unit": "fraction"}, "at least 20 %", "33.4 %"),
    ({"value": 7.71, "limit": 7.5, "margin": 0.21, "unit": "min"}, "at least 8 min", "12.6 s")])
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


def test_a_danger_has_its_reason_and_the_rest_only_with_the_details() -> None:
    danger, care, note = items(sections(whole())["cautions"])
    assert [line.text for line in danger.tail] == ["Reason of fire."]
    assert not (care.tail or care.below or note.tail or note.below)
    detailed = " ".join(said(sections(whole(), details=True)["cautions"]))
    assert all(f"Reason of {id_}." in detailed for id_ in ("fire", "skin", "fall"))


def test_who_stands_above_this_advice_is_named_once() -> None:
    twice = caution("fire", "danger", "Shut the lid.").model_copy(update={"defer_to": "a doctor; the master of skin"})
    last = sections(whole(cautions=(*whole().cautions, twice)))["cautions"].blocks[-1]
    assert isinstance(last, Line) and last.label == "Above this advice stand"
    assert last.text == ("the master of fall; the master of fire; the master of skin; the master of disputed_taper; "
                         "a doctor.")


def test_what_was_assumed_is_one_paragraph_each() -> None:
    (item,) = items(sections(whole())["assumed"])
    assert ([item.head.text, *(line.text for line in item.tail)], item.below) == (["10 mm.", "Taken as wide."], ())


def test_answers_that_do_not_matter_share_a_paragraph() -> None:
    idle = whole().pivotal[0]
    (item,) = items(sections(whole(pivotal=(idle, idle.model_copy(update={"ask": "How old is it?"}))))["pivotal"])
    assert item.head.text == f"How wide is the gap? How old is it? {phrases.NO_MATTER_TEXT}"


def test_numbers_of_one_product_stand_in_one_table() -> None:
    lines = tuple(a.ConfirmLine(text=f"Paste: {name}", used="3") for name in ("thinnest bed", "thickest bed"))
    _, table = sections(whole(confirm=lines))["confirm"].blocks
    assert table == Table(("Paste", "Until then taken as"), (("thinnest bed", "3"), ("thickest bed", "3")))


def test_a_rule_that_speaks_of_both_faces_is_heard_once() -> None:
    both = [evidence("favour", f"It holds on {part}.", "clear", "made.holds") for part in ("Part A", "Part B")]
    other = evidence("favour", "It is cheap.", "slight")
    paste = candidate("paste", "chosen", *both, other)
    choice = a.Choice(decision="adhesive", label="Adhesive", chosen="paste", candidates=(paste,))
    (item,) = items(sections(whole(choices=(choice,)))["choices"])
    assert [line.text for line in item.below] == ["It holds on Part A.", "It is cheap."]


def test_many_methods_that_differ_only_in_name_are_counted() -> None:
    methods = [candidate(name, "ruled_out", evidence("rule_out", f"You join, and {name} mends one.", rule="made.goal"))
               for name in ("taper", "inject", "fill")]
    found = items(sections(whole(methods=(*methods, candidate("tape", "nothing_for_it"))))["why_not"])
    assert [(item.head.label, item.head.text) for item in found] == [
        ("Each of 3 others", "You join, and this mends one."), ("Tape", phrases.NOTHING_FOR_IT)]
    two = items(sections(whole(methods=tuple(methods[:2])))["why_not"])
    assert [item.head.label for item in two] == ["Taper; Inject"]


def test_rows_that_differ_only_in_their_number_are_one() -> None:
    rows = tuple({"number": n, "glass": "Mat" if n < 4 else "Cloth"} for n in (1, 2, 3, 4))
    line = a.SpecificationLine(about="Plies", say="", why=why(), rows=rows, columns={"number": "No", "glass": "Glass"})
    for details, wanted in ((False, (("1 to 3", "Mat"), ("4", "Cloth"))),
                            (True, (("1", "Mat"), ("2", "Mat"), ("3", "Mat"), ("4", "Cloth")))):
        table = sections(whole(specification=(line,)), details)["specification"].blocks[1]
        assert isinstance(table, Table) and table.rows == wanted


def test_minutes_of_a_batch_have_no_false_precision() -> None:
    batch = a.Batch(number=1, mass_kg=0.2, start_min=0.0, place_within_min=7.71, stop_at_min=4.25)
    table = sections(whole(batches=(batch,)))["batches"].blocks[0]
    assert isinstance(table, Table) and table.rows[0][2:] == ("0 min", "8 min", "4.25 min")


def test_only_the_sources_of_what_is_printed_are_named() -> None:
    screw = whole().methods[1]
    unread = screw.evidence[0].model_copy(update={"source": ("unopened",)})
    advice = whole(conditions=(), methods=(whole().methods[0], screw.model_copy(
        update={"evidence": (unread, screw.evidence[1])})), choices=())
    assert "Unopened" not in " ".join(said(sections(advice)["sources"]))
    assert "Unopened" in " ".join(said(sections(advice, details=True)["sources"]))


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
        phrases.FROM_MEMORY_IN_FULL, "Invented joints, ABC 12, 1999", phrases.COMMON_PRACTICE_IN_FULL,
        "Unopened book, XYZ *"]
    assert phrases.NOT_OPENED_BELOW in said(sections(whole())["sources"])
    assert heads(sections(whole(), details=True)["sources"])[1::2] == [
        "Invented joints, ABC, ABC 12, 4.2, 1999", f"Unopened book, XYZ, {phrases.NOT_OPENED}"]


def test_a_source_nobody_wrote_down_is_still_shown() -> None:
    one = check(source=("no-such-source",))
    assert "no-such-source" in heads(sections(whole(checks=(one,)))["sources"])


def test_every_line_of_the_evidence_is_in_the_balance() -> None:
    found = " ".join(said(sections(whole(), details=True)["balance"]))
    assert all(line.because in found for method in whole().methods for line in method.evidence)
    assert "made.slight; ABC 12 1999" in found
