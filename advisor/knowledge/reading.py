"""The YAML files of a rules folder read into entries, and every problem of them found."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import Any

from pydantic import ValidationError

from advisor.errors import Problem, clean_text, near
from advisor.knowledge import check, forms
from advisor.knowledge.gathered import gathered
from advisor.knowledge.invariants import Invariant
from advisor.knowledge.model import ENTRY_FORMS, Entry, Thing
from advisor.knowledge.rulebase import RuleBase, build
from advisor.knowledge.yaml_text import Block, Items, problem, read_file

FORMS: dict[str, type[Entry]] = {**ENTRY_FORMS, "invariant": Invariant}
MOST_PROBLEMS = 1000


def read_entries(paths: Sequence[Path], folder: Path) -> tuple[list[Entry], list[Problem]]:
    """The entries of the files of a folder, in order, and what is wrong; no entries where too much is wrong."""
    problems: list[Problem] = []
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
            return [], problems
    return entries, problems


def checked(entries: Sequence[Entry], stamp: str, problems: list[Problem]) -> RuleBase:
    """The rule base of these entries; what is wrong with it is added to the problems."""
    rule_base = gathered(build(entries, stamp, problems))
    problems += check.problems_of(rule_base)
    return rule_base


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
