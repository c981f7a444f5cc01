"""Fixtures for interviews on the small rule base."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from advisor.answer_file import AnswerFile
from advisor.consultation.consult import Advisor
from advisor.interview.scripted import ScriptedAsker
from advisor.interview.session import run
from advisor.store import Store
from tests.interview.held import Interviews, write_rules


@pytest.fixture(scope="session")
def rules(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return write_rules(tmp_path_factory.mktemp("small") / "rules")


@pytest.fixture(scope="session")
def small(rules: Path) -> Advisor:
    return Advisor.from_folder(rules)


@pytest.fixture
def interviews(small: Advisor, tmp_path: Path) -> Interviews:
    return Interviews(small, Store(tmp_path / "state" / "consultations"))


@pytest.fixture
def ask_once(small: Advisor) -> Callable[[str, str], str]:
    """What is shown when one text is typed at one question and then nothing more."""
    def once(question: str, typed: str) -> str:
        before: dict[str, str | list[str]] = {"goal": "join", "wood": "pine", "gap": "2 mm", "length": "1 m",
                                              "warmth": "20 C", "places": ["inside"], "clamps": "yes"}
        given = {name: answer for name, answer in before.items() if name != question}
        asker = ScriptedAsker([typed])
        run(small, asker=asker, show_advice=lambda advice: None, answers=AnswerFile("Once", given))
        return asker.text.rpartition("Answer: " + typed)[2]
    return once
