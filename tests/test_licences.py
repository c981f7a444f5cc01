"""The page of licences says what the installed packages say, and the lock holds everything that is asked for."""

from __future__ import annotations

import re
import tomllib
from pathlib import Path

from packaging.requirements import Requirement

from tests import licences

ROOT = Path(__file__).parents[1]
LOCKED = re.compile(r"^([a-z0-9-]+)==(\S+)((?: \\\n    --hash=sha256:[0-9a-f]{64})+)$", re.M)


def rows(heading: str) -> dict[str, str]:
    text = (ROOT / "docs" / "licences.md").read_text(encoding="utf-8").split(f"## {heading}")[1].split("\n## ")[0]
    return dict(re.findall(r"^\| ([a-z0-9-]+) \| (.+) \|$", text, re.M)[2:])  # below the head of the table


def test_the_page_says_what_the_packages_say() -> None:
    assert rows("What is installed with the program") == licences.run_time()
    listed = rows("What the tests and development use")
    assert {name for name in licences.development() if name not in listed} == set()


def test_the_lock_holds_all_that_is_asked_for_within_its_bounds_and_names_no_host() -> None:
    text = (ROOT / "tests" / "lock.txt").read_text(encoding="utf-8")
    locked = {name: version for name, version, _ in LOCKED.findall(text)}
    assert LOCKED.sub("", text).strip() == ""
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    extras = project["optional-dependencies"]
    asked = [Requirement(line) for line in (*project["dependencies"], *extras["test"], *extras["dev"])]
    wrong = [str(one) for one in asked
             if not one.specifier.contains(locked.get(re.sub(r"[-_.]+", "-", one.name).lower(), "0"))]
    assert wrong == []


def test_every_dependency_is_bounded() -> None:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    lines = [*project["dependencies"], *(line for extra in project["optional-dependencies"].values() for line in extra)]
    assert [line for line in lines if "<" not in line and "==" not in line] == []
