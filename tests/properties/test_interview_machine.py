"""A sample of the interviews that `python -m tests.properties.interview` holds by the thousand."""

from __future__ import annotations

import pytest

from tests.properties.interview import interviews
from tests.properties.interview_machine import COUNTED


@pytest.mark.timeout(240)
def test_nothing_answered_is_lost_or_asked_twice_and_advice_is_that_of_its_file() -> None:
    before = dict(COUNTED)
    interviews(examples=15, steps=12)
    assert COUNTED["steps"] - before["steps"] > 100 and COUNTED["advice"] > before["advice"]
