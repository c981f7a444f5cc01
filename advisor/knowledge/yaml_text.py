"""YAML read strictly: every scalar is text, every block knows its line, nothing is run or guessed.

YAML turns `no` into a boolean and `12:30` into a number; here the vocabulary decides what a word means,
so scalars stay the text that was written. Aliases, tags, duplicate keys and deep nesting are refused.
"""

from __future__ import annotations

from pathlib import Path
from typing import Any

import yaml

from advisor.errors import InputError, Problem, clean_text

MOST_BYTES = 2_000_000
MOST_DEPTH = 12


class Block(dict[str, Any]):
    """A mapping that knows the line it starts on and the line of each of its keys."""

    def __init__(self, line: int) -> None:
        super().__init__()
        self.line = line
        self.lines: dict[str, int] = {}

    def put(self, key: str, value: Any, line: int) -> None:
        """Store `value` under `key`, remembering its line."""
        self[key] = value
        self.lines[key] = line


class Items(list[Any]):
    """A list that knows the line of each of its items."""

    def __init__(self, line: int) -> None:
        super().__init__()
        self.line = line
        self.lines: list[int] = []


def problem(file: str, line: int, what: str, help: str | None = None) -> Problem:
    """One thing wrong in a file, with its place."""
    return Problem(what, f"{file}:{line}", help)


def read_file(path: Path, shown: str) -> tuple[Any, list[Problem]]:
    """Read one YAML file.

    Returns the data (Block, Items or text; None when unreadable) and the problems met. `shown` is the
    name used in messages.
    """
    try:
        if path.stat().st_size > MOST_BYTES:
            return None, [problem(shown, 1, f"the file is larger than {MOST_BYTES // 1_000_000} MB",
                                  "an advisor file is a few kilobytes of text")]
        text = path.read_bytes().decode("utf-8-sig")
    except UnicodeDecodeError as error:
        return None, [problem(shown, 1, f"the file is not UTF-8 text (byte {error.start})",
                              "save it as UTF-8")]
    except OSError as error:
        return None, [problem(shown, 1, f"cannot be read: {error.strerror}")]
    return read_text(text, shown)


def read_text(text: str, shown: str) -> tuple[Any, list[Problem]]:
    """Read YAML text; see `read_file`."""
    try:
        refused = _refused_event(text, shown)
        if refused:
            return None, [refused]
        node = yaml.compose(text, Loader=yaml.CSafeLoader)
    except yaml.YAMLError as error:
        return None, [_syntax_problem(error, shown)]
    except (ValueError, RecursionError) as error:
        return None, [problem(shown, 1, f"not readable as YAML: {clean_text(str(error), limit=100)}")]
    problems: list[Problem] = []
    data = None if node is None else _plain(node, shown, problems)
    return data, problems


def _refused_event(text: str, shown: str) -> Problem | None:
    """Look at the event stream first: it is bounded by the text, a composed tree is not."""
    depth = 0
    for event in yaml.parse(text, Loader=yaml.CSafeLoader):
        line = event.start_mark.line + 1 if event.start_mark else 1
        if isinstance(event, yaml.AliasEvent) or getattr(event, "anchor", None):
            return problem(shown, line, "anchors and aliases (`&`, `*`) are not allowed",
                           "write the text again, or put it in quotes")
        if isinstance(event, yaml.CollectionStartEvent):
            depth += 1
            if depth > MOST_DEPTH:
                return problem(shown, line, f"nested deeper than {MOST_DEPTH} levels",
                               "no form of entry needs that")
        elif isinstance(event, yaml.CollectionEndEvent):
            depth -= 1
        tag = getattr(event, "tag", None)
        if tag and not (tag == "!" or tag.startswith("tag:yaml.org,2002:str")):
            return problem(shown, line, f"the tag `{clean_text(tag, limit=60)}` is not allowed",
                           "files hold text only")
    return None


def _syntax_problem(error: yaml.YAMLError, shown: str) -> Problem:
    mark = getattr(error, "problem_mark", None)
    what = getattr(error, "problem", None) or str(error)
    line = mark.line + 1 if mark else 1
    return problem(shown, line, f"not readable as YAML: {clean_text(str(what), limit=120)}",
                   "check the indentation, and quote texts that contain `: ` or ` #`")


def _plain(node: yaml.Node, shown: str, problems: list[Problem]) -> Any:
    line = node.start_mark.line + 1
    if isinstance(node, yaml.ScalarNode):
        return str(node.value)
    if isinstance(node, yaml.SequenceNode):
        items = Items(line)
        for child in node.value:
            items.append(_plain(child, shown, problems))
            items.lines.append(child.start_mark.line + 1)
        return items
    block = Block(line)
    for key_node, value_node in node.value:
        key_line = key_node.start_mark.line + 1
        if not isinstance(key_node, yaml.ScalarNode):
            problems.append(problem(shown, key_line, "a key must be a plain word"))
            continue
        key = str(key_node.value)
        if key in block:
            problems.append(problem(shown, key_line, f"duplicate key `{clean_text(key, limit=60)}`",
                                    f"first written on line {block.lines[key]}; keep one"))
            continue
        block.put(key, _plain(value_node, shown, problems), key_line)
    return block


def require_clean(data: Any, problems: list[Problem]) -> Any:
    """Return `data`, or raise an InputError that lists every problem of a person's own file."""
    if problems:
        first, *rest = problems
        raise InputError(first.what, where=first.where, help="\n".join([first.help or "", *map(str, rest)]).strip())
    return data
