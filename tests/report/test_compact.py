"""What a report says once, in few words and round numbers, and what it keeps for the details."""

from __future__ import annotations

import pytest

from advisor.consultation import advice as a
from advisor.report import phrases
from advisor.report.blocks import Item, Line, Table
from advisor.report.phrases import ALL_ABOVE_US
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
    assert said(sections(whole())["buy"])[1:5] == [
        "Paste", "2 x 75 mL; needed 80 to 150 mL (likely 100)", "Clamps", "7; needed 5.2 to 6.4 (likely 5.2)"]


def test_what_nobody_measures_out_runs_on_and_is_an_entry_each_in_the_details() -> None:
    lines = (quantity("Cloths", note="Lint-free"), quantity("Goggles"), quantity("Sand", packs="1 bag"))
    advice = whole(quantities=lines)
    assert said(sections(advice)["buy"]) == ["Sand", "1 bag", phrases.BY_EYE, "Cloths: Lint-free. Goggles."]
    assert said(sections(advice, details=True)["buy"]) == ["Cloths", "Lint-free", "Goggles", "Sand", "1 bag"]


def test_an_amount_to_buy_without_packs_is_the_high_end() -> None:
    line = quantity("Resin", amount=1.0, low=0.8, high=1.4, unit="kg")
    assert said(sections(whole(quantities=(line,)))["buy"])[1:] == ["Resin", "1.4 kg; needed 0.8 to 1.4 kg (likely 1)"]


def test_what_the_rules_say_of_an_amount_to_buy_stands_with_it() -> None:
    line = quantity("Nozzles", amount=3.0, unit="count", note="Buy one more.")
    assert said(sections(whole(quantities=(line,)))["buy"])[1:] == ["Nozzles", "3. Buy one more."]


def test_what_is_bought_is_not_listed_twice() -> None:
    last = items(sections(whole())["buy"])[-1]
    assert (last.head.label, last.head.text) == (phrases.FROM_IT, "Resin laid: 400 to 600 g (likely 500).")


def test_every_amount_is_shown_with_its_range_in_the_details() -> None:
    found = {item.head.label: item.head.text for item in items(sections(whole(), details=True)["quantities"])}
    assert found == {"Paste": "80 to 150 mL (likely 100)", "Clamps": "5.2 to 6.4 (likely 5.2)",
                     "Cloths": phrases.AS_NEEDED, "Resin laid": "400 to 600 g (likely 500)"}


def test_an_amount_nobody_can_reckon_gives_way_to_what_is_said_of_it() -> None:
    lines = (quantity("Rest", buy=False, note="Ask."), quantity("Card", buy=False))
    assert heads(sections(whole(quantities=lines))["buy"]) == [f"Rest: Ask. Card: {phrases.AS_NEEDED}."]


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
    ({"value": 0.5343, "limit": 0.2, "margin": 0.3343, "unit": "fraction"}, "at least 20 %", "33 %"),
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


def test_who_stands_above_this_advice_is_said_once_and_named_with_the_details() -> None:
    last = sections(whole())["cautions"].blocks[-1]
    assert isinstance(last, Line) and last.text == ALL_ABOVE_US
    detailed = " ".join(said(sections(whole(), details=True)["cautions"]))
    assert all(f"the master of {id_}" in detailed for id_ in ("fall", "fire", "skin"))


def test_what_was_assumed_is_one_paragraph_each() -> None:
    (item,) = items(sections(whole())["assumed"])
    assert ([item.head.text, *(line.text for line in item.tail)], item.below) == (["10 mm.", "Taken as wide."], ())


def test_answers_that_do_not_matter_share_a_paragraph() -> None:
    idle = whole().pivotal[0]
    (item,) = items(sections(whole(pivotal=(idle, idle.model_copy(update={"ask": "How old is it?"}))))["pivotal"])
    assert item.head.text == f"How wide is the gap? How old is it? {phrases.NO_MATTER_TEXT}"


def test_numbers_of_one_product_stand_together_and_in_a_table_in_the_details() -> None:
    lines = tuple(a.ConfirmLine(text=f"Paste: {name}", used="3") for name in ("thinnest bed", "thickest bed"))
    (item,) = items(sections(whole(confirm=lines))["confirm"])
    assert (item.head.label, item.head.text) == ("Paste, until then taken as", "thinnest bed 3; thickest bed 3.")
    _, table = sections(whole(confirm=lines), details=True)["confirm"].blocks
    assert table == Table(("Paste", "Until then taken as"), (("thinnest bed", "3"), ("thickest bed", "3")))


def test_a_rule_that_speaks_of_both_faces_is_heard_once() -> None:
    both = [evidence("favour", f"It holds on {part}.", "clear", "made.holds") for part in ("Part A", "Part B")]
    other = evidence("favour", "It is cheap.", "slight")
    paste = candidate("paste", "chosen", *both, other)
    choice = a.Choice(decision="adhesive", label="Adhesive", chosen="paste", candidates=(paste,))
    (item,) = items(sections(whole(choices=(choice,)), details=True)["choices"])
    assert [line.text for line in item.below] == ["It holds on Part A.", "It is cheap."]


def test_what_was_outweighed_is_said_even_without_the_reasons_for_a_choice() -> None:
    against = evidence("oppose", "It softens.", "clear")
    paste = candidate("paste", "chosen", evidence("favour", "It holds.", "clear"), against)
    choice = a.Choice(decision="adhesive", label="Adhesive", chosen="paste", candidates=(paste,))
    (item,) = items(sections(whole(choices=(choice,)))["choices"])
    assert (item.head.text, [(line.label, line.text) for line in item.tail]) == (
        "Paste.", [(phrases.OUTWEIGHED, "It softens.")])


@pytest.mark.parametrize(("count", "told"), [(3, ["M0; M1; M2"]), (4, [])])
def test_methods_that_nobody_would_ask_about_are_left_to_the_details(count: int, told: list[str]) -> None:
    out = evidence("rule_out", "You came to join.")
    methods = tuple(candidate(f"m{number}", "ruled_out", out) for number in range(count))
    advice = whole(methods=(*methods, candidate("tape", "nothing_for_it")))
    short, full = sections(advice).get("why"), sections(advice, details=True)["why_not"]
    assert [item.head.label for item in items(short)] == told if short else not told
    assert [item.head.label for item in items(full)][1:] == ["Tape"]


def test_rows_that_differ_only_in_their_number_are_one() -> None:
    rows = tuple({"number": n, "glass": "Mat" if n < 4 else "Cloth"} for n in (1, 2, 3, 4))
    line = a.SpecificationLine(about="Plies", say="", why=why(), rows=rows, columns={"number": "No", "glass": "Glass"})
    (item,) = items(sections(whole(specification=(line,)))["specification"])
    assert (item.head.label, item.head.text) == ("Plies", "No 1 to 3, each: glass Mat; No 4: glass Cloth.")
    table = sections(whole(specification=(line,)), details=True)["specification"].blocks[1]
    assert isinstance(table, Table)
    assert table.rows == (("1", "Mat"), ("2", "Mat"), ("3", "Mat"), ("4", "Cloth"))


def test_more_than_two_rows_stay_a_table() -> None:
    rows = tuple({"number": n, "glass": glass} for n, glass in ((1, "Mat"), (2, "Mat"), (3, "Cloth"), (4, "Mat")))
    line = a.SpecificationLine(about="Plies", say="", why=why(), rows=rows, columns={"number": "No", "glass": "Glass"})
    table = sections(whole(specification=(line,)))["specification"].blocks[1]
    assert isinstance(table, Table) and table.rows == (("1 to 2", "Mat"), ("3", "Cloth"), ("4", "Mat"))


def test_batches_that_differ_only_in_their_start_are_one_row() -> None:
    cups = tuple(a.Batch(number=n, mass_kg=0.3 if n < 3 else 0.2, start_min=9.0 * (n - 1), place_within_min=12,
                         stop_at_min=20) for n in (1, 2, 3))
    short, full = (sections(whole(batches=cups), details)["batches"].blocks[0] for details in (False, True))
    assert isinstance(short, Table) and isinstance(full, Table)
    assert short.rows == (("1 to 2", "300 g", "0 min, 9 min", "12 min", "20 min"),
                          ("3", "200 g", "18 min", "12 min", "20 min"))
    assert [row[0] for row in full.rows] == ["1", "2", "3"]


def test_good_conditions_run_on_and_bad_ones_stand_apart() -> None:
    good = [a.ConditionLine(say=f"{what}.", verdict="go", why=why()) for what in ("Dry", "Warm")]
    bad = a.ConditionLine(say="Dark.", verdict="no_go", why=why())
    found = items(sections(whole(conditions=(good[0], bad, good[1])))["today"])
    assert [(item.head.label, item.head.text) for item in found] == [("No-go", "Dark."), ("Go", "Dry. Warm.")]


def test_ample_margins_run_on_and_every_other_one_stands_in_the_table() -> None:
    verdicts: tuple[a.Verdict, ...] = ("ample", "adequate", "thin", "fails")
    advice = whole(checks=tuple(check(name=verdict.title(), verdict=verdict) for verdict in verdicts))
    table, ample = sections(advice)["checks"].blocks
    assert isinstance(table, Table) and [row[0] for row in table.rows] == ["Adequate", "Thin", "Fails"]
    assert ample == Item(Line("Ample 12 mm (at least 10 mm).", phrases.AMPLE))
    full = sections(advice, details=True)["checks"].blocks[0]
    assert isinstance(full, Table) and len(full.rows) == len(verdicts)


def test_what_is_not_sure_is_said_once_for_all_margins_it_holds_for() -> None:
    pair = [check(name=name, straddles=True, assumed=("gap",)) for name in ("Heat", "Cold")]
    found = items(sections(whole(checks=pair))["checks"])
    assert [item.head.label for item in found] == [f"Heat; Cold. {phrases.STRADDLES}",
                                                   f"Heat; Cold. {phrases.RESTS_ON}"]
    assert found[0].head.text == "11 to 13 mm (likely 12), against at least 10 mm."


def test_care_stays_whole_and_notes_are_one_sentence_until_the_details() -> None:
    lines = (caution("a", "care", "Wear gloves. Long ones."), caution("b", "note", "Keep it light. White is best."),
             caution("c", "danger", "No flame. None at all."), caution("disputed_d", "note", "Some say so. Do this."))
    short, full = (" ".join(" ".join(said(found[id_])) for id_ in ("cautions", "disputed"))
                   for found in (sections(whole(cautions=lines), details) for details in (False, True)))
    assert "Wear gloves. Long ones." in short and "Wear gloves. Long ones." in full
    for kept, dropped in (("Keep it light.", "White is best."), ("Some say so.", "Do this.")):
        assert kept in short and dropped not in short and f"{kept} {dropped}" in full
    assert "No flame. None at all." in short and "Reason of c." in short


def test_minutes_of_a_batch_have_no_false_precision() -> None:
    batch = a.Batch(number=1, mass_kg=0.2, start_min=0.0, place_within_min=7.71, stop_at_min=4.25)
    table = sections(whole(batches=(batch,)))["batches"].blocks[0]
    assert isinstance(table, Table) and table.rows[0][2:] == ("0 min", "8 min", "4 min")


def test_only_the_sources_of_what_is_printed_are_counted_and_all_are_named_in_the_details() -> None:
    screw = whole().methods[1]
    unread = screw.evidence[0].model_copy(update={"source": ("unopened",)})
    advice = whole(conditions=(), methods=(whole().methods[0], screw.model_copy(
        update={"evidence": (unread, screw.evidence[1])})), choices=())
    assert said(sections(advice)["sources"])[0].startswith("3 in all")
    assert "Unopened" in " ".join(said(sections(advice, details=True)["sources"]))


def test_a_source_is_named_once_and_memory_plainly() -> None:
    assert heads(sections(whole(), details=True)["sources"]) == [
        phrases.FROM_MEMORY_IN_FULL, "Invented joints, ABC, ABC 12, 4.2, 1999", phrases.COMMON_PRACTICE_IN_FULL,
        f"Unopened book, XYZ, {phrases.NOT_OPENED}"]


def test_a_source_nobody_wrote_down_is_still_shown() -> None:
    one = check(source=("no-such-source",))
    assert "no-such-source" in heads(sections(whole(checks=(one,)), details=True)["sources"])


def test_the_answers_that_weighed_most_stand_with_the_reasons() -> None:
    weighed = whole().pivotal[0].model_copy(update={"given": "2 mm", "matters": True})
    told = sections(whole(pivotal=(weighed,)))
    assert "pivotal" not in told
    assert any("2 mm" in item.head.text for item in items(told["why"]) if item.head.label == phrases.WEIGHED_MOST)
