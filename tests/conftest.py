"""Shared by all tests: the real rule base, loaded once."""

from __future__ import annotations

import pytest

from advisor.consultation.consult import Advisor


@pytest.fixture(scope="session")
def advisor() -> Advisor:
    """The advisor with the rules that come with the program."""
    return Advisor.from_folder()
