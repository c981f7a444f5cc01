"""The rules folder read into a RuleBase, with every problem reported in one go."""

from __future__ import annotations

import gc
import hashlib
import os
from importlib import resources
from pathlib import Path
from typing import Any

from pydantic import ValidationError

from advisor.errors import InputError, KnowledgeError, Problem, clean_text, near
from advisor.knowledge import check, forms, kept
from advisor.knowledge.invariants import Invariant
from advisor.knowledge.model import ENTRY_FORMS, Entry, Thing
from advisor.knowledge.plain_file import content_of
from advisor.knowledge.rulebase import RuleBase, build
from advisor.knowledge.yaml_text import MOST_BYTES, Block, Items, problem, read_file

TESTS = ("examples", "invariants")
FORMS: dict[str, type[Entry]] = {**ENTRY_FORMS, "invariant": Invariant}
KEPT: tuple[type[Entry], ...] = tuple(dict.fromkeys([*FORMS.values(), Thing]))
RULES_VARIABLE = "ADVISOR_RULES"
MOST_FILES = 2000
MOST_PROBLEMS = 1000


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
    problems: list[Problem] = []
    if not folder.is_dir():
        return None, [problem(str(folder), 1, "there is no rules folder here",
                              f"name one with --rules or {RULES_VARIABLE}")]
    paths = [path for path in sorted(folder.rglob("*.yaml")) if examples or not path.name.startswith(TESTS)]
    if len(paths) > MOST_FILES:
        return None, [problem(str(folder), 1, f"there are more than {MOST_FILES} files here",
                              "name the folder that holds rules and nothing else")]
    stamp, key = _stamps(paths, folder)
    if not examples and (known := kept.read(key, KEPT)) is not None:
        return build(known, stamp, []), []
    blocks: list[tuple[str, str | None, Block]] = []
    for path in paths:
        shown = path.relative_to(folder.parent).as_posix()
        data, found = read_file(path, shown)
        problems += found
        blocks += [(shown, _topic(path, folder), block) for block in _entry_blocks(data, shown, problems)]
    kinds = {str(block["kind"]) for _, _, block in blocks if next(iter(block), None) == "kind"}
    entries: list[Entry] = []
    for shown, topic, block in blocks:
        if (entry := _entry(block, shown, topic, kinds, problems)) is not None:
            entries.append(entry)
        if len(problems) > MOST_PROBLEMS:
            return None, problems
    rule_base = build(entries, stamp, problems)
    problems += check.problems_of(rule_base)
    if not examples and not problems:
        kept.keep(key, KEPT, entries)
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


def _topic(path: Path, folder: Path) -> str | None:
    parts = path.relative_to(folder).parts
    return parts[1] if len(parts) > 2 and parts[0] == "topics" else None


def _entry_blocks(data: Any, shown: str, problems: list[Problem]) -> list[Block]:
    if data is None:
        return []
    if not isinstance(data, Items):
        problems.append(problem(shown, 1, "a rules file is a list of entries", "start each entry with `- `"))
        return []
    good: list[Block] = []
    for item, line in zip(data, data.lines, strict=True):
        if isinstance(item, Block) and item:
            good.append(item)
        else:
            problems.append(problem(shown, line, "an entry must be lines of `name: value`",
                                    "indent them below the first, which begins with `- `"))
    return good


def _entry(block: Block, shown: str, topic: str | None, kinds: set[str],
           problems: list[Problem]) -> Entry | None:
    form = next(iter(block))
    known = {*FORMS, *kinds}
    if form not in known:
        guess = near(form, known)
        problems.append(problem(shown, block.line, f"unknown kind of entry `{clean_text(form, limit=60)}`",
                                f"did you mean `{guess}`?" if guess else f"one of {', '.join(sorted(known))}"))
        return None
    try:
        shaped = forms.regular(block)
    except forms.FormError as error:
        problems.append(problem(shown, error.line, error.what, error.help))
        return None
    return _validated(form, shaped, shown, topic, problems)


def _validated(form: str, shaped: Block, shown: str, topic: str | None,
               problems: list[Problem]) -> Entry | None:
    model = FORMS.get(form, Thing)
    if model is Thing:
        name = shaped.pop(form)
        shaped.put("kind", form, shaped.line)
        shaped.put("thing", name, shaped.line)
    try:
        return model.model_validate({**shaped, "file": shown, "topic": topic})
    except ValidationError as error:
        problems += [_problem_of(detail, shaped, model, shown) for detail in error.errors()]
        return None


def _problem_of(detail: Any, shaped: Block, model: type[Entry], shown: str) -> Problem:
    line = _line_at(detail["loc"], shaped)
    field = ".".join(str(part) for part in detail["loc"])
    if detail["type"] == "extra_forbidden":
        guess = near(str(detail["loc"][-1]), model.model_fields)
        known = ", ".join(name for name in model.model_fields if name not in ("file", "line", "topic"))
        return problem(shown, line, f"unknown field `{clean_text(field, limit=80)}`",
                       f"did you mean `{guess}`?" if guess else f"known fields: {known}")
    if detail["type"] == "missing":
        return problem(shown, line, f"`{field}` is missing", "add it; see the README of the rules folder")
    return problem(shown, line, f"`{clean_text(field, limit=80)}`: {clean_text(str(detail['msg']), limit=160)}",
                   "see the form of the entry in the README of the rules folder")


def _line_at(location: tuple[str | int, ...], shaped: Block) -> int:
    """The line of the innermost part of a validation error that still knows its line."""
    line, here = shaped.line, shaped
    for part in location:
        if isinstance(here, Block):
            line = here.lines.get(str(part), line)
            here = here.get(str(part))  # type: ignore[assignment]
        elif isinstance(here, Items) and isinstance(part, int) and part < len(here):
            here = here[part]
            line = here.line if isinstance(here, Block) else line
    return line


