"""What decides agrees with trying every answer by hand; comparing says what differs and nothing else."""

from __future__ import annotations

import json
from pathlib import Path
from random import Random

import pytest

from advisor import answer_file, cli
from advisor.consultation.compare import compare
from advisor.consultation.consult import Advisor, Consultation
from advisor.consultation.tried import where_it_leads
from advisor.consultation.vary import vary
from advisor.errors import InputError
from tests.random_answers import consistent_answers, random_answers

SCENARIOS = Path(__file__).parents[2] / "scenarios"


def case_of(advisor: Advisor, name: str, **changed: str) -> Consultation:
    file = answer_file.read(SCENARIOS / f"{name}.yaml")
    return advisor.consult({**file.answers, **changed}, name)


def chosen(case: Consultation) -> tuple[str, dict[str, str | None]]:
    advice = case.advice()
    return advice.status, {choice.decision: choice.chosen for choice in advice.choices}


@pytest.mark.parametrize("question", ["face_b", "closing", "joint_form"])
def test_vary_agrees_with_trying_every_answer(advisor: Advisor, question: str) -> None:
    base = chosen(case_of(advisor, "lap-that-fits"))[1]
    (varied,) = vary(case_of(advisor, "lap-that-fits"), question)
    changed = {str(change.value): change for change in varied.changes}
    for word in advisor.rule_base.values_of(advisor.rule_base.facts[question]):
        if word == case_of(advisor, "lap-that-fits").answers[question].value:
            continue
        status, choices = chosen(case_of(advisor, "lap-that-fits", **{question: word}))
        parts = {part for part, _, _ in changed[word].changes} if word in changed else set()
        if status in ("stop", "refer", "incomplete"):
            assert parts == {"ended"}, word
        else:
            assert parts - {"failing", "today"} == {d for d in {*base, *choices} if base.get(d) != choices.get(d)}, word


@pytest.mark.parametrize("block", range(4))
def test_the_outline_comes_to_what_the_whole_rules_come_to(advisor: Advisor, block: int) -> None:
    random = Random(block)
    raw = [answer_file.read(path).answers for path in sorted(SCENARIOS.glob("*.yaml"))[block::8]]
    raw += [make(advisor, random) for make in (random_answers, consistent_answers) for _ in range(7)]
    for case in (advisor.consult(answers) for answers in raw):
        whole, outline = (where_it_leads(evaluator, case.answers, "metric")
                          for evaluator in (case.evaluator, case.outliner))
        assert whole == outline, case.answers


def test_two_processes_find_what_one_finds(advisor: Advisor, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("advisor.consultation.vary.active_count", lambda: 1)
    case = case_of(advisor, "gel-coat-scratch")
    assert vary(case, processes=2) == vary(case)


def test_the_nearest_change_of_a_number_is_where_the_advice_changes(advisor: Advisor) -> None:
    (varied,) = vary(case_of(advisor, "lap-that-fits"), "gap_max")
    found = [change for change in varied.nearest if any(part == "method" for part, _, _ in change.changes)]
    assert found
    at = found[0].value.value  # type: ignore[union-attr]
    base = chosen(case_of(advisor, "lap-that-fits"))[1]["method"]
    assert chosen(case_of(advisor, "lap-that-fits", gap_max=f"{at} mm"))[1]["method"] != base
    assert chosen(case_of(advisor, "lap-that-fits", gap_max=f"{at * 0.97:.3g} mm"))[1]["method"] == base


def test_what_decides_most_comes_first(advisor: Advisor) -> None:
    weights = [one.weight for one in vary(case_of(advisor, "bracket-long-enough"))]
    assert weights == sorted(weights, reverse=True) and weights[0] > 0


def test_a_question_that_does_not_matter_is_named(advisor: Advisor) -> None:
    with pytest.raises(InputError, match="does not matter here"):
        vary(case_of(advisor, "lap-that-fits"), "damage_kind")


def test_compare_names_what_differs_and_nothing_else(advisor: Advisor) -> None:
    same = case_of(advisor, "lap-that-fits")
    assert compare(same, case_of(advisor, "lap-that-fits")) == []
    found = compare(case_of(advisor, "bracket-long-enough"), case_of(advisor, "bracket-too-short-for-its-load"))
    assert {"answers", "advice", "margins"} <= {difference.part for difference in found}
    assert all(difference.one != difference.other for difference in found)


def test_compare_tells_amounts_times_and_margins_with_their_ranges(advisor: Advisor) -> None:
    cases = [case_of(advisor, name) for name in ("first-timer-glue-or-laminate", "hole-from-both-sides")]
    found = compare(*cases)
    by_part = {part: {line.name: line for line in found if line.part == part}
               for part in ("amounts", "time", "margins")}
    laid = next(line for name, line in by_part["amounts"].items() if name.startswith("Mixed resin to lay"))
    (amount,) = [line for line in cases[0].advice().quantities if line.item == laid.name]
    assert laid.one_number and laid.other_number
    assert (laid.one_number.low, laid.one_number.likely, laid.one_number.high) == (
        amount.low, amount.amount, amount.high)
    assert " to " in laid.one and "likely" in laid.one
    assert any("buy 1 x" in line.one for line in by_part["amounts"].values())
    batches = cases[0].advice().batches
    assert by_part["time"]["batches"].one.startswith(f"{len(batches)}, the largest")
    assert any("not sure either way" in line.one for line in by_part["margins"].values())
    checks = {line.name: line for line in cases[0].advice().checks}
    for name, line in by_part["margins"].items():
        if line.one:
            assert line.one_number and line.one_number.likely == checks[name].value
            assert line.one.startswith(checks[name].verdict)


def test_both_commands_print_text_and_json(capsys: pytest.CaptureFixture[str]) -> None:
    one, other = (str(SCENARIOS / f"bracket-{name}.yaml") for name in ("long-enough", "too-short-for-its-load"))
    assert cli.main(["vary", one, "--question", "load_force", "--as", "json"]) == 0
    assert json.loads(capsys.readouterr().out)[0]["question"] == "load_force"
    assert cli.main(["compare", one, other]) == 0
    assert "instead" not in capsys.readouterr().err
    assert cli.main(["compare", one, other, "--as", "json"]) == 0
    assert json.loads(capsys.readouterr().out)


def test_answers_that_weighed_most_stand_in_every_advice_and_mostly_turn_it(advisor: Advisor) -> None:
    """Not every one of them alone turns the choice: a reason may rest on several answers, or several weigh alike."""
    turns = named = 0
    for path in sorted(SCENARIOS.glob("*.yaml"))[::10]:
        case = advisor.consult(answer_file.read(path).answers)
        advice = case.advice()
        given = [pivot.question for pivot in advice.pivotal if pivot.given]
        assert (1 <= len(given) <= 3) == (advice.status in ("advice", "close_call")), path.stem
        heads = {name for name, decision in advisor.rule_base.decisions.items() if decision.heads == "yes"} | {"ended"}
        for name in given:
            (varied,) = vary(case, name)
            parts = {part for change in (*varied.changes, *varied.nearest) for part, _, _ in change.changes}
            named, turns = named + 1, turns + bool(parts & heads)
    assert turns / named >= 0.6


def test_what_nobody_knew_is_not_told_as_answered(advisor: Advisor) -> None:
    assumed = [pivot.given for pivot in case_of(advisor, "nothing-known").advice().pivotal if pivot.given]
    assert assumed
    assert all(given.startswith("nobody knew; ") for given in assumed)
    answered = [pivot.given for pivot in case_of(advisor, "lap-that-fits").advice().pivotal if pivot.given]
    assert answered
    assert not any(given.startswith("nobody knew") for given in answered)
