"""YAML read strictly: every scalar is text, every block knows its line, nothing is run or guessed.

YAML turns `no` into a boolean and `12:30` into a number; here the vocabulary decides what a word means,
so scalars stay the text that was written. Aliases, tags, duplicate keys and deep nesting are refused.
"""

from __future__ import annotations

from pathlib import Path
from typing import Any, NoReturn

import yaml

from advisor.errors import InputError, Problem, clean_text, hidden_in
from advisor.knowledge.plain_file import MOST_BYTES, content_of

MOST_DEPTH = 12
MOST_PROBLEMS = 20


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
        text = content_of(path, shown, MOST_BYTES).decode("utf-8-sig")
    except UnicodeDecodeError as error:
        return None, [problem(shown, 1, f"the file is not UTF-8 text (byte {error.start})", "save it as UTF-8")]
    except InputError as error:
        return None, [problem(shown, 1, error.what, error.help)]
    return read_text(text, shown)


def read_text(text: str, shown: str) -> tuple[Any, list[Problem]]:
    """Read YAML text; see `read_file`."""
    reader = _Reader(text, shown)
    try:
        data = reader.document()
    except _RefusedError as refused:
        return None, [*reader.problems, refused.problem]
    except yaml.YAMLError as error:
        return None, [_syntax_problem(error, shown, text)]
    except UnicodeEncodeError as error:
        return None, [problem(shown, 1, f"not readable as YAML: {clean_text(str(error), limit=100)}",
                              "save it as UTF-8")]
    return data, reader.problems


def _syntax_problem(error: yaml.YAMLError, shown: str, text: str) -> Problem:
    mark = getattr(error, "problem_mark", None)
    what = getattr(error, "problem", None) or str(error)
    line = mark.line + 1 if mark else 1
    lines = text.splitlines()
    if line <= len(lines) and "\t" in lines[line - 1][:len(lines[line - 1]) - len(lines[line - 1].lstrip())]:
        return problem(shown, line, "there is a tab where spaces belong", "indent with spaces")
    return problem(shown, line, f"not readable as YAML: {clean_text(str(what), limit=120)}",
                   "check the indentation, and quote texts that contain `: ` or ` #`")


class _RefusedError(Exception):
    """Something that YAML allows and this project does not."""

    def __init__(self, problem: Problem) -> None:
        super().__init__(problem.what)
        self.problem = problem


class _Reader:
    """Builds blocks straight from YAML's event stream, which is bounded by the text; a composed tree is not."""

    def __init__(self, text: str, shown: str) -> None:
        self._events = yaml.parse(text, Loader=yaml.CSafeLoader)
        self._shown = shown
        self.problems: list[Problem] = []

    def document(self) -> Any:
        """The one document of the text; None when it is empty."""
        data = None
        documents = 0
        for event in self._events:
            if isinstance(event, yaml.DocumentStartEvent):
                documents += 1
                if documents > 1:
                    self._refuse(event, "a second document begins", "one document a file; take `---` out")
            elif isinstance(event, yaml.NodeEvent):
                data = self._node(event, 0)
        return data

    def _node(self, event: Any, depth: int) -> Any:
        if isinstance(event, yaml.AliasEvent) or event.anchor:
            self._refuse(event, "anchors and aliases (`&`, `*`) are not allowed",
                         "write the text again, or put it in quotes")
        tag = event.tag
        if tag and tag != "!" and not tag.startswith("tag:yaml.org,2002:str"):
            self._refuse(event, f"the tag `{clean_text(tag, limit=60)}` is not allowed", "files hold text only")
        if isinstance(event, yaml.ScalarEvent):
            return self._scalar(event)
        if depth >= MOST_DEPTH:
            self._refuse(event, f"nested deeper than {MOST_DEPTH} levels", "no form of entry needs that")
        return self._items(event, depth) if isinstance(event, yaml.SequenceStartEvent) else self._block(event, depth)

    def _scalar(self, event: yaml.ScalarEvent) -> str:
        text = str(event.value)
        if hidden := hidden_in(text):
            self._note(event, f"`{clean_text(text, limit=60)}` holds the hidden sign `{clean_text(hidden)}`",
                       "write it without; hidden signs can steer a terminal or turn the writing")
        return text

    def _items(self, start: yaml.Event, depth: int) -> Items:
        items = Items(_line(start))
        for event in self._events:
            if isinstance(event, yaml.SequenceEndEvent):
                break
            items.append(self._node(event, depth + 1))
            items.lines.append(_line(event))
        return items

    def _block(self, start: yaml.Event, depth: int) -> Block:
        block = Block(_line(start))
        for event in self._events:
            if isinstance(event, yaml.MappingEndEvent):
                break
            key = self._node(event, depth + 1)
            value = self._node(next(self._events), depth + 1)
            if not isinstance(key, str):
                self._note(event, "a key must be a plain word", "write `name: value`")
            elif key in block:
                self._note(event, f"duplicate key `{clean_text(key, limit=60)}`",
                           f"first written on line {block.lines[key]}; keep one")
            else:
                block.put(key, value, _line(event))
        return block

    def _note(self, event: yaml.Event, what: str, help: str) -> None:
        """Keep a problem and read on; after many the rest of the file is not worth reading."""
        self.problems.append(problem(self._shown, _line(event), what, help))
        if len(self.problems) >= MOST_PROBLEMS:
            self._refuse(event, "and perhaps more: the file is not read any further", "put these right first")

    def _refuse(self, event: yaml.Event, what: str, help: str) -> NoReturn:
        raise _RefusedError(problem(self._shown, _line(event), what, help))


def _line(event: yaml.Event) -> int:
    return int(event.start_mark.line) + 1 if event.start_mark else 1


def require_clean(data: Any, problems: list[Problem]) -> Any:
    """Return `data`, or raise an InputError that lists every problem of a person's own file."""
    if problems:
        first, *rest = problems
        raise InputError(first.what, where=first.where, help="\n".join([first.help or "", *map(str, rest)]).strip())
    return data
