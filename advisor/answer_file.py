"""Answer files: what the interview saves, `advise` reads and scenarios are written in."""

from __future__ import annotations

import contextlib
import os
import tempfile
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import yaml

from advisor.consultation.consult import UNTITLED
from advisor.errors import InputError, clean_text, near, quoted
from advisor.knowledge.yaml_text import Block, Items, read_file, read_text, require_clean

FORMAT = "1"
KEYS = ("advisor", "title", "story", "answers", "expect")
LONGEST_TITLE = 120

Given = str | list[str]


@dataclass(frozen=True)
class AnswerFile:
    """An answer file as read: `places` gives file and line of each answer, for messages."""

    title: str
    answers: dict[str, Given]
    places: dict[str, str] = field(default_factory=dict)
    story: str | None = None
    expect: Mapping[str, Any] | None = None


def read(path: Path | str) -> AnswerFile:
    """Read an answer file; what the answers mean is not judged here.

    Raises:
        InputError: with file and line, when it is not an answer file of this version.
    """
    data, problems = read_file(Path(path), str(path))
    return _shaped(require_clean(data, problems), str(path))


def parse(text: str, shown: str) -> AnswerFile:
    """Read the text of an answer file; `shown` names it in messages.

    Raises:
        InputError: as `read`.
    """
    data, problems = read_text(text, shown)
    return _shaped(require_clean(data, problems), shown)


def _shaped(data: Any, shown: str) -> AnswerFile:
    if not isinstance(data, Block):
        raise InputError("this is not an answer file", f"{shown}:1",
                         "it holds `advisor: 1`, `title: ...` and `answers:` with a line for each answer")
    _refuse_unknown_keys(data, shown)
    _refuse_other_versions(data, shown)
    answers = _answers(data, shown)
    places = {name: f"{shown}:{data['answers'].lines[name]}" for name in answers}
    return AnswerFile(_title(data, shown), answers, places, _story(data, shown), _expected(data, shown))


def _place(data: Block, key: str, shown: str) -> str:
    return f"{shown}:{data.lines.get(key, data.line)}"


def _refuse_unknown_keys(data: Block, shown: str) -> None:
    for key in data:
        if key not in KEYS:
            guess = near(key, KEYS)
            raise InputError(f"an answer file has no {quoted(key)}", _place(data, key, shown),
                             f"did you mean `{guess}`?" if guess else
                             f"it may hold {', '.join(KEYS)}; answers stand indented below `answers:`")


def _refuse_other_versions(data: Block, shown: str) -> None:
    version = data.get("advisor")
    if version is None:
        raise InputError("`advisor: 1` is missing", f"{shown}:{data.line}",
                         "it says which version of answer files this is; write it as the first line")
    if version != FORMAT:
        told = quoted(version) if isinstance(version, str) else "a list"
        raise InputError(f"this answer file is of version {told}, and only version {FORMAT} can be read",
                         _place(data, "advisor", shown),
                         "a later program wrote it, or the number is a slip; a wrong reading could mislead")


def _answers(data: Block, shown: str) -> dict[str, Given]:
    if "answers" not in data:
        raise InputError("`answers:` is missing", f"{shown}:{data.line}",
                         "below it stands a line `question: answer` for each, indented")
    answers = data["answers"]
    if not isinstance(answers, Block):
        raise InputError("`answers` must be lines of `question: answer`", _place(data, "answers", shown),
                         "indent them below `answers:`; an empty one is written `answers: {}`")
    return {name: _given(name, given, f"{shown}:{answers.lines[name]}") for name, given in answers.items()}


def _given(name: str, given: Any, where: str) -> Given:
    if isinstance(given, str):
        return given
    if isinstance(given, Items) and all(isinstance(word, str) for word in given):
        return list(given)
    raise InputError(f"the answer to {quoted(name)} must be a word, a quantity or a list of words", where,
                     "for instance `14 mm` or `[weather, heat]`")


def _text(data: Block, key: str, shown: str) -> str | None:
    text = data.get(key)
    if text is not None and not isinstance(text, str):
        raise InputError(f"`{key}` must be a text", _place(data, key, shown))
    return " ".join(text.split()) if text else None


def _title(data: Block, shown: str) -> str:
    title = _text(data, "title", shown)
    if title is None:
        return UNTITLED
    if len(title) > LONGEST_TITLE:
        raise InputError(f"the title is longer than {LONGEST_TITLE} characters", _place(data, "title", shown))
    if clean_text(title, LONGEST_TITLE) != title:
        raise InputError(f"the title {quoted(title)} holds a sign that cannot be printed",
                         _place(data, "title", shown))
    return title


def _story(data: Block, shown: str) -> str | None:
    return _text(data, "story", shown)


def _expected(data: Block, shown: str) -> Mapping[str, Any] | None:
    expected = data.get("expect")
    if expected is not None and not isinstance(expected, Block):
        raise InputError("`expect` must be lines of `name: value`", _place(data, "expect", shown))
    return expected


class _Dumper(yaml.SafeDumper):
    """Writes every text so that it stays a text; never an alias, which reading refuses."""

    def ignore_aliases(self, data: Any) -> bool:
        return True


def _scalar(dumper: _Dumper, text: str) -> yaml.ScalarNode:
    """Signs that a reader would take for the end of a line are kept only within double quotes."""
    style = None if text.isprintable() else '"'
    return dumper.represent_scalar("tag:yaml.org,2002:str", text, style=style)


_Dumper.add_representer(str, _scalar)


def written(title: str, answers: Mapping[str, str | Sequence[str]]) -> str:
    """The text of an answer file."""
    plain = {name: given if isinstance(given, str) else list(given) for name, given in answers.items()}
    content = {"advisor": int(FORMAT), "title": title, "answers": plain}
    return str(yaml.dump(content, Dumper=_Dumper, sort_keys=False, allow_unicode=True, width=110))


def write(path: Path | str, title: str, answers: Mapping[str, str | Sequence[str]]) -> None:
    """Write an answer file, readable by its owner only: whole or not at all, whatever happens meanwhile.

    Raises:
        InputError: when it cannot be written; an earlier file of that name is then unharmed.
    """
    target = Path(path)
    try:
        _replace(target, written(title, answers).encode("utf-8"))
    except OSError as error:
        raise InputError(f"cannot be written: {error.strerror or error}", str(path)) from error


def _replace(target: Path, content: bytes) -> None:
    descriptor, temporary = tempfile.mkstemp(dir=target.parent, prefix=f".{target.stem}.", suffix=".tmp")
    try:
        with os.fdopen(descriptor, "wb") as file:
            file.write(content)
            file.flush()
            os.fsync(file.fileno())
        os.replace(temporary, target)
    except BaseException:
        Path(temporary).unlink(missing_ok=True)
        raise
    _settle(target.parent)


def _settle(folder: Path) -> None:
    """Make the new name survive a power cut, where the system offers that for folders."""
    with contextlib.suppress(OSError):
        descriptor = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(descriptor)
        finally:
            os.close(descriptor)
