"""Failing cases become as small as they stay failing."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from advisor.audit.findings import Typed
from advisor.audit.shrink import shrunk

NAMES = [f"q{number}" for number in range(12)]


@given(st.sets(st.sampled_from(NAMES), min_size=1), st.sets(st.sampled_from(NAMES)))
def test_exactly_what_is_needed_stays(needed: set[str], others: set[str]) -> None:
    answers: Typed = {name: "yes" for name in NAMES if name in needed | others}
    small = shrunk(answers, lambda candidate: needed <= set(candidate))
    assert set(small) == needed and set(answers) == needed | others


def test_lists_lose_the_words_that_do_not_matter() -> None:
    small = shrunk({"a": ["x", "y", "z"], "b": "1"}, lambda candidate: "y" in candidate.get("a", ()))
    assert small == {"a": ["y"]}
