"""What a report says once, in few words and round numbers, and what it keeps for the details."""

from __future__ import annotations

import pytest

from advisor.consultation import advice as a
from advisor.report import phrases
from advisor.report.blocks import Line, Table
from tests.report.samples import (
    candidate,
    caution,
    check,
    evidence,
    heads,
    items,
    quantity,
    said,
    sections,
    whole,
    why,
)


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


@pytest.mark.parametrize(("count", "label"), [(3, "M0; M1; M2"), (4, "Each of 4 others")])
def test_many_methods_with_one_reason_are_counted(count: int, label: str) -> None:
    out = evidence("rule_out", "You came to join.")
    methods = tuple(candidate(f"m{number}", "ruled_out", out) for number in range(count))
    found = items(sections(whole(methods=(*methods, candidate("tape", "nothing_for_it"))))["why_not"])
    assert [(item.head.label, item.head.text) for item in found] == [
        (label, "You came to join."), ("Tape", phrases.NOTHING_FOR_IT)]


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
