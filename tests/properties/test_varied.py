"""What `vary` reports is seen when the case is advised afresh, and what it does not report changes nothing."""

from __future__ import annotations

from random import Random

import pytest

from advisor.consultation.consult import Advisor
from tests.properties.varied import Held
from tests.random_answers import consistent_answers


@pytest.mark.parametrize("seed", [6, 7, 10])
def test_reported_changes_are_seen_and_no_others(advisor: Advisor, seed: int) -> None:
    random = Random(seed)
    answers = consistent_answers(advisor, random)
    assert not advisor.consult(answers).contradictions()
    held = Held(advisor, answers, random, grid=4)
    assert list(held.faults(most=3)) == []
    assert held.reported and held.unreported
