"""The public names: docs/python.md runs as it stands, every name is there, and importing them costs nothing."""

from __future__ import annotations

import doctest
import subprocess
import sys
from pathlib import Path

import pytest

import advisor

ROOT = Path(__file__).parents[1]


def test_the_examples_of_the_page_run(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(ROOT)
    failed, tried = doctest.testfile(str(ROOT / "docs" / "python.md"), module_relative=False)
    assert tried > 15 and failed == 0


def test_every_public_name_is_there_and_has_a_docstring() -> None:
    for name in advisor.__all__:
        assert getattr(advisor, name).__doc__, name
    assert dir(advisor) == advisor.__all__
    with pytest.raises(AttributeError, match="nonsense"):
        advisor.__getattr__("nonsense")


def test_importing_loads_nothing_else() -> None:
    code = "import advisor, sys; print([name for name in sys.modules if 'pydantic' in name])"
    shown = subprocess.run([sys.executable, "-c", code], cwd=ROOT, capture_output=True, text=True, check=True)
    assert shown.stdout.strip() == "[]"
