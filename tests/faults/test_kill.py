"""A few kills of the command itself; `python -m tests.faults.kill` does hundreds."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.faults.kill import Killer
from tests.interview.held import write_rules

pytestmark = pytest.mark.timeout(180)


@pytest.fixture
def killer(tmp_path: Path) -> Killer:
    return Killer(tmp_path / "home", 3, write_rules(tmp_path / "rules"))


def test_echoed_answers_survive_kills(killer: Killer) -> None:
    assert [lost for _ in range(5) if (lost := killer.once())] == []
    assert killer.kills == 5
    assert killer.answers > 5


def test_a_lost_answer_would_be_found(killer: Killer) -> None:
    while not killer.job.echoed:
        assert killer.once() == []
    name = killer.job.name
    kept = killer.store.load(name)
    killer.store.save(name, kept.title, {})
    assert killer._lost()
    killer.store.save(name, kept.title, {**kept.answers, "clamps": "yes"})
    assert killer._lost() or "clamps" in kept.answers
    killer.store.path(name).unlink()
    assert killer._lost() == [f"{name}: no file"]
