"""The consultation on a small invented rule base: answers, questions, decisions, determinism."""

from __future__ import annotations

from pathlib import Path

import pytest

from advisor.consultation.consult import Advisor
from advisor.errors import InputError
from advisor.knowledge.load import load_rule_base
from tests.small_rules import write_rules


@pytest.fixture
def small(tmp_path: Path) -> Advisor:
    return Advisor(load_rule_base(write_rules(tmp_path)))


def test_only_questions_that_matter_are_asked(small: Advisor) -> None:
    tube = small.consult({"part": "tube"})
    assert [q.question for q in small.rule_base.questions_in_order] == ["part", "marks", "gap"]
    question = tube.next_question()
    assert question is not None and question.question == "gap"
    plate = small.consult({"part": "plate"})
    question = plate.next_question()
    assert question is not None and question.question == "marks"


def test_no_question_is_left_when_all_are_answered(small: Advisor) -> None:
    case = small.consult({"part": "tube", "gap": "1 mm"})
    assert case.next_question() is None
    assert case.about_how_many_more() == 0


def test_evidence_decides_and_every_candidate_shows_its_balance(small: Advisor) -> None:
    advice = small.consult({"part": "plate", "marks": "blue", "gap": "1 mm"}).advice()
    assert (advice.status, advice.method, advice.verdict) == ("advice", "glue", "Glue it.")
    assert {c.id: c.standing for c in advice.methods} == {"glue": "chosen", "screw": "possible"}


def test_a_ruled_out_method_never_wins(small: Advisor) -> None:
    advice = small.consult({"part": "plate", "marks": "blue", "gap": "9 mm"}).advice()
    assert advice.method == "screw"
    glue = next(c for c in advice.methods if c.id == "glue")
    assert glue.standing == "ruled_out"
    assert "Too wide at 9 mm." in [line.because for line in glue.evidence]


def test_i_dont_know_is_assumed_as_the_question_says(small: Advisor) -> None:
    advice = small.consult({"part": "tube", "gap": "unknown"}).advice()
    assert advice.method == "screw"
    assert [(a.question, a.value, a.because) for a in advice.assumed] == [("gap", "10 mm", "Taken as wide.")]


def test_a_question_left_out_counts_as_i_dont_know_and_is_named(small: Advisor) -> None:
    advice = small.consult({"part": "tube"}).advice()
    assert [line.question for line in advice.missing] == ["gap"]
    assert [line.question for line in advice.assumed] == ["gap"]


def test_an_unknown_without_assumption_satisfies_no_negative_test(small: Advisor) -> None:
    case = small.consult({"part": "plate", "marks": "unknown", "gap": "1 mm"})
    screw = next(c for c in case.advice().methods if c.id == "screw")
    assert screw.evidence == ()


def test_an_essential_answer_cannot_be_left_out(small: Advisor) -> None:
    advice = small.consult({"gap": "1 mm"}).advice()
    assert (advice.status, advice.method) == ("incomplete", None)
    assert [line.question for line in advice.missing] == ["part"]
    with pytest.raises(InputError, match="`part` needs an answer"):
        small.consult({"part": "unknown"})


def test_an_answer_that_no_longer_matters_is_not_used(small: Advisor) -> None:
    with_marks = small.consult({"part": "tube", "gap": "1 mm", "marks": "blue"}).advice()
    without = small.consult({"part": "tube", "gap": "1 mm"}).advice()
    assert with_marks == without


def test_the_same_answers_give_the_same_advice_byte_for_byte_in_any_order(small: Advisor) -> None:
    answers = {"part": "plate", "marks": "blue", "gap": "1 mm"}
    backwards = dict(reversed(answers.items()))
    one, two = small.consult(answers).advice().to_json(), small.consult(backwards).advice().to_json()
    assert one == two


def test_a_changed_answer_is_a_fresh_evaluation(small: Advisor) -> None:
    case = small.consult({"part": "tube", "gap": "9 mm"})
    assert case.advice().method == "screw"
    case.answer("gap", "1 mm")
    assert case.advice() == small.consult({"part": "tube", "gap": "1 mm"}).advice()


@pytest.mark.parametrize(("given", "what", "help"), [
    ({"gap": "-3 mm"}, "`-3 mm`", ""),
    ({"gap": "3 km"}, "`3 km`", "150"),
    ({"gap": "nan"}, "`nan`", ""),
    ({"gap": "1e400 mm"}, "`1e400 mm`", ""),
    ({"gap": "5 kg"}, "`5 kg` is a mass, a length is wanted", ""),
    ({"part": "plank"}, "`plank` is not an answer to `part`", "plate"),
    ({"prat": "plate"}, "there is no question `prat`", "did you mean `part`?"),
    ({"part": ["plate", "tube"]}, "`part` takes one answer, 2 were given", "plate"),
    ({"marks": []}, "the answer is empty", "unknown"),
])
def test_bad_answers_are_refused_with_what_would_be_right(
        small: Advisor, given: dict[str, str | list[str]], what: str, help: str) -> None:
    with pytest.raises(InputError) as caught:
        small.consult(given)
    assert what in caught.value.what
    assert help in (caught.value.help or "")


def test_a_bad_answer_leaves_the_earlier_one(small: Advisor) -> None:
    case = small.consult({"gap": "2 mm"})
    with pytest.raises(InputError):
        case.answer("gap", "three")
    assert case.answers["gap"].typed == "2 mm"


def test_every_bad_answer_is_named_at_once(small: Advisor) -> None:
    with pytest.raises(InputError) as caught:
        small.consult({"part": "plank", "gap": "5 kg"}, places={"part": "f.yaml:3", "gap": "f.yaml:4"})
    assert "f.yaml:3" in str(caught.value) and "f.yaml:4" in str(caught.value)


def test_texts_follow_the_units_most_answers_were_typed_in(small: Advisor) -> None:
    advice = small.consult({"part": "plate", "marks": "red", "gap": "1/8 in"}).advice()
    assert advice.units == "us"
    assert small.consult({"part": "plate", "gap": "1/8 in"}, units="metric").advice().units == "metric"


def test_every_derived_fact_names_rule_and_support(small: Advisor) -> None:
    advice = small.consult({"part": "plate", "marks": "red", "gap": "1 mm"}).advice()
    line = next(line for line in advice.trace if line.fact == "wide")
    assert (line.rule, line.from_) == ("gap.narrow", ("gap=1",))
