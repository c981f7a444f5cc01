"""The rules folder read into a RuleBase, with every problem reported in one go."""

from __future__ import annotations

import gc
import hashlib
import os
from importlib import resources
from pathlib import Path

from advisor.errors import InputError, KnowledgeError, Problem
from advisor.knowledge import kept
from advisor.knowledge.gathered import gathered
from advisor.knowledge.model import RUN_TIME_FORMS
from advisor.knowledge.plain_file import MOST_BYTES, content_of
from advisor.knowledge.rulebase import RuleBase, build

TESTS = ("examples", "invariants")
RULES_VARIABLE = "ADVISOR_RULES"
MOST_FILES = 2000


def rules_folder(chosen: str | None = None) -> Path:
    """Where the rules stand: the folder asked for, the one installed with the program, or the checkout's.

    Never the current folder: a rules folder from a stranger must be named on purpose.
    """
    asked = chosen or os.environ.get(RULES_VARIABLE)
    if asked:
        return Path(asked)
    installed = Path(str(resources.files("advisor"))) / "_rules"
    checkout = Path(__file__).resolve().parents[2] / "rules"
    return checkout if checkout.is_dir() else installed


def load_rule_base(folder: Path | str | None = None, *, examples: bool = True) -> RuleBase:
    """Read, validate and cross-check a rules folder; without `examples` the files of tests
    (`examples*`, `invariants*`) are passed over.

    Raises:
        KnowledgeError: listing every problem with file, line and what would be right.
    """
    collecting = gc.isenabled()
    gc.disable()  # tens of thousands of small objects that all stay: collecting meanwhile only costs time
    try:
        rule_base, problems = read_rule_base(rules_folder(str(folder) if folder else None), examples=examples)
    finally:
        if collecting:
            gc.enable()
    if problems:
        raise KnowledgeError(sorted(problems, key=_place))
    assert rule_base is not None
    return rule_base


def _place(found: Problem) -> tuple[str, int]:
    file, _, line = (found.where or "").rpartition(":")
    return file, int(line) if line.isdigit() else 0


def read_rule_base(folder: Path, *, examples: bool = True) -> tuple[RuleBase | None, list[Problem]]:
    """Read a rules folder; returns the rule base (None when it cannot be built) and all problems."""
    if not folder.is_dir():
        return None, [Problem("there is no rules folder here", f"{folder}:1",
                              f"name one with --rules or {RULES_VARIABLE}")]
    paths = [path for path in sorted(folder.rglob("*.yaml")) if examples or not path.name.startswith(TESTS)]
    if len(paths) > MOST_FILES:
        return None, [Problem(f"there are more than {MOST_FILES} files here", f"{folder}:1",
                              "name the folder that holds rules and nothing else")]
    stamp, key = _stamps(paths, folder)
    if not examples and (known := kept.read(key, RUN_TIME_FORMS)) is not None:
        return gathered(build(known, stamp, [])), []
    from advisor.knowledge import reading  # only where no rules are kept: it takes long to load, and longer to read
    entries, problems = reading.read_entries(paths, folder)
    if len(problems) > reading.MOST_PROBLEMS:
        return None, problems
    rule_base = reading.checked(entries, stamp, problems)
    if not examples and not problems and all(type(entry) in RUN_TIME_FORMS for entry in entries):
        kept.keep(key, RUN_TIME_FORMS, entries)
    return rule_base, problems


def _stamps(paths: list[Path], folder: Path) -> tuple[str, str]:
    """A short hash of the rules, tests beside them left out, and the key under which they are kept once read."""
    digest = hashlib.sha256()
    contents = []
    for path in paths:
        try:
            content = content_of(path, path.name, MOST_BYTES)
        except InputError:
            continue  # reported when it is read as YAML
        contents += [os.fsencode(path.relative_to(folder.parent).as_posix()), content]
        if not path.name.startswith(TESTS):
            digest.update(contents[-2] + b"\0" + content)
    return digest.hexdigest()[:16], kept.key_of(contents)
