"""Shared by all tests: the real rule base, loaded once."""

from __future__ import annotations

import os
import tempfile

import pytest
from hypothesis import settings

from advisor.consultation.consult import Advisor

settings.register_profile("tests", deadline=None)  # a busy machine is no fault of the program
settings.load_profile("tests")


def pytest_configure(config: pytest.Config) -> None:
    """Rules read in tests are kept in a folder of their own, not in the user's cache, which goes when they end."""
    folder = tempfile.TemporaryDirectory(prefix="advisor-tests-", ignore_cleanup_errors=True)
    os.environ["XDG_CACHE_HOME"] = folder.name
    config.add_cleanup(folder.cleanup)


@pytest.fixture(scope="session")
def advisor() -> Advisor:
    """The advisor with the rules that come with the program."""
    return Advisor.from_folder()
