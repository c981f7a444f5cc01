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
    ("xqzzy nonsense", "No line holds"), ("w", "Type a few words"), ("step 99", "No line holds"),
    ("why not", "Nothing that was not chosen"), ("why not marble", "Nail it"), ("more", "No line holds")])
def test_nonsense_is_answered_with_what_can_be_typed(interviews: Interviews, typed: str, answered: str) -> None:
    assert answered in after_the_advice(interviews, typed, "")


def test_leaving_while_asking_keeps_the_advice(interviews: Interviews) -> None:
    assert interviews.hold(JOINING).ended == "advised"
