"""After the advice: any line explains itself, and what was not chosen says what would let it win."""

from __future__ import annotations

import pytest

from advisor.interview import words
from tests.interview.held import Interviews

pytestmark = pytest.mark.timeout(60)

JOINING = ["1", "1", "2 mm", "1 m", "20 C", "1", "yes", ""]


def after_the_advice(interviews: Interviews, *typed: str) -> str:
    outcome = interviews.hold([*JOINING, *typed])
    assert outcome.ended == "advised"
    return interviews.text.split(words.ASK_ABOUT[:30])[1]


def test_a_line_is_explained_and_unfolds(interviews: Interviews) -> None:
    told = after_the_advice(interviews, "glue it", "1", *["more"] * 9, "")
    assert "You were asked:" in told
    assert words.NOTHING_DEEPER in told


def test_why_not_names_what_would_let_it_win(interviews: Interviews) -> None:
    told = after_the_advice(interviews, "why not nail?", "")
    assert "Chosen was: Glue it." in told
    assert "would make it win" in told or "No single other answer" in told


@pytest.mark.parametrize(("typed", "answered"), [
    ("xqzzy nonsense", "No line holds"), ("w", "Type a few words"), ("step 99", "There is no step 99"),
    ("why not", "These were not chosen"), ("why not marble", "Nail it"), ("more", "Nothing lies behind this")])
def test_nonsense_is_answered_with_what_can_be_typed(interviews: Interviews, typed: str, answered: str) -> None:
    assert answered in after_the_advice(interviews, typed, "")


def test_why_alone_tells_how_the_verdict_was_reached(interviews: Interviews) -> None:
    assert "was chosen" in after_the_advice(interviews, "why", "")


def test_a_question_in_place_of_the_number_of_a_line_is_answered(interviews: Interviews) -> None:
    told = after_the_advice(interviews, "glue", "step 99", "")
    assert words.ASK_WHICH in told and "There is no step 99" in told
    assert words.which_again(2)[:12] in after_the_advice(interviews, "glue", "77", "", "")


def test_what_decides_and_what_another_answer_would_change(interviews: Interviews) -> None:
    assert "You said" in after_the_advice(interviews, "what decides", "")
    told = after_the_advice(interviews, "what if the gap were 30 mm", "")
    assert "as it is: 2 mm" in told and "then: 30 mm" in told
    assert "cannot be tried" in after_the_advice(interviews, "what if gap banana", "")
    assert "None of your answers is about `marble`" in after_the_advice(interviews, "what if marble", "")


def test_a_name_that_was_chosen_is_said_to_be(interviews: Interviews) -> None:
    assert "Glue it is what was chosen." in after_the_advice(interviews, "why not glue it", "")


def test_a_very_long_line_is_refused(interviews: Interviews) -> None:
    assert words.ASK_TOO_LONG in after_the_advice(interviews, "long " * 100, "")


def test_leaving_while_asking_keeps_the_advice(interviews: Interviews) -> None:
    assert interviews.hold(JOINING).ended == "advised"
