"""Hostile files are refused quickly, plainly and without harm; what was found by fuzzing stays found."""

from __future__ import annotations

import json
import subprocess
import sys
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from tests.hostile.judge import faults
from tests.hostile.targets import TARGETS
from tests.hostile.trial import KINDS, Result

SAMPLED = ("answers", "saved", "card", "record", "rules")
SEEDS = Path(__file__).parent / "seeds"


def _said_by(*arguments: str) -> Any:
    """What a module of this folder prints, run in a process of its own as it replaces or watches the program."""
    done = subprocess.run([sys.executable, "-m", *arguments], capture_output=True, text=True, timeout=500, check=False)
    assert done.stdout, done.stderr
    return json.loads(done.stdout.splitlines()[-1])


@pytest.mark.skipif(sys.platform != "linux", reason="bounds on a process, and pipes in the way of files, are of Linux")
@pytest.mark.timeout(600)
def test_no_hostile_file_does_harm() -> None:
    found = _said_by("tests.hostile", *SAMPLED, "--sample", "--json")
    assert found["faults"] == []
    assert found["trials"] == sum(len(KINDS[kind].files) for kind in SAMPLED)


def test_the_judge_sees_what_is_wrong() -> None:
    good = Result("answers", "advise", "x", False, 1, 0.1, 1.0, "", "advisor: x:1: no\n")
    assert list(faults(good)) == []
    for change in ({"status": 0}, {"status": -9}, {"errors": "Traceback\nKeyError"}, {"errors": ""}, {"seconds": 60.0},
                   {"megabytes": 500.0}, {"output": "\x1b[2J"}, {"errors": "advisor: \u202e"},
                   {"errors": "advisor: " + "x" * 200_000}):
        assert list(faults(replace(good, **change))), change


@pytest.mark.parametrize("target", TARGETS)
def test_seeds_of_fuzzing_are_read_or_refused_well(target: str) -> None:
    seeds = sorted((SEEDS / target).iterdir())
    assert seeds
    for seed in seeds:
        TARGETS[target](seed.read_bytes())


@pytest.mark.parametrize("work", ["commands", "vary"])
def test_nothing_of_a_file_is_run_and_the_network_is_left_alone(work: str) -> None:
    assert _said_by("tests.hostile.watched", work) == []


def test_the_watch_sees_code_and_sockets() -> None:
    seen = " ".join(_said_by("tests.hostile.watched", "evil"))
    assert "compile" in seen and "exec" in seen and "socket.__new__" in seen
