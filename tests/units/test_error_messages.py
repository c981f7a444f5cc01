"""The one shape of messages."""

from __future__ import annotations

import unicodedata

import pytest
from hypothesis import given
from hypothesis import strategies as st

from advisor.errors import (
    AdvisorError,
    InputError,
    KnowledgeError,
    Problem,
    UsageError,
    clean_text,
    near,
    quoted,
)


@pytest.mark.parametrize(("error", "text"), [
    (InputError("what is wrong"), "what is wrong"),
    (InputError("what is wrong", "a.yaml:3"), "a.yaml:3: what is wrong"),
    (InputError("what is wrong", help="do this"), "what is wrong\n  help: do this"),
    (InputError("what is wrong", "gap_max", "do this"), "gap_max: what is wrong\n  help: do this"),
])
def test_shape(error: AdvisorError, text: str) -> None:
    assert str(error) == text


def test_exit_status() -> None:
    errors: list[AdvisorError] = [InputError("x"), UsageError("x"), KnowledgeError([])]
    assert [error.exit_status for error in errors] == [1, 2, 1]


def test_every_problem_of_the_rules_is_printed() -> None:
    problems = [Problem("first", "a.yaml:1"), Problem("second", "b.yaml:2", "do this")]
    error = KnowledgeError(problems)
    assert error.problems == tuple(problems)
    assert str(error) == "a.yaml:1: first\nb.yaml:2: second\n  help: do this\n2 problems in the rules"
    assert str(KnowledgeError(problems[:1])).endswith("\n1 problem in the rules")


@pytest.mark.parametrize(("text", "cleaned"), [
    ("plain", "plain"), ("é½°", "é½°"), ("\x1b[31m", r"\x1b[31m"), ("\x9b31m", r"\x9b31m"), ("a\nb", r"a\nb"),
    ("a\tb", r"a\tb"), ("\u202egnp", r"\u202egnp"), ("\u2066x\u2069", r"\u2066x\u2069"), ("\x00", r"\x00"),
    ("\ud800", r"\ud800"), ("\u2028", r"\u2028"), ("\ufeff", r"\ufeff"), ("x" * 81, "x" * 77 + "..."),
    ("x" * 80, "x" * 80),
])
def test_clean_text(text: str, cleaned: str) -> None:
    assert clean_text(text) == cleaned


@given(text=st.text(), limit=st.integers(0, 50))
def test_clean_text_is_short_and_printable(text: str, limit: int) -> None:
    cleaned = clean_text(text, limit)
    assert len(cleaned) <= limit
    assert not {unicodedata.category(character) for character in cleaned} & {"Cc", "Cf", "Cs", "Zl", "Zp"}


def test_a_backtick_cannot_end_the_quotation() -> None:
    assert quoted("a`b") == "`a'b`"


@pytest.mark.parametrize(("word", "found"), [
    ("gap_mx", "gap_max"), ("GAP_MAX", "gap_max"), ("polyster", "Polyester"), ("zzz", None), ("", None),
    ("x" * 1_000_000, None),
])
def test_near(word: str, found: str | None) -> None:
    assert near(word, ["gap_max", "Polyester", "goal"]) == found
