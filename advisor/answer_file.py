"""Answer files: what the interview saves, `advise` reads and scenarios are written in."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import yaml

from advisor import whole_file
from advisor.consultation.consult import LONGEST_TITLE, UNTITLED
from advisor.errors import InputError, near, quoted
from advisor.knowledge.yaml_text import Block, Items, read_file, read_text, require_clean

FORMAT = 1
# For each version but the last: what makes a file of the next version of one of it, in place. Version 1 is the first.
STEPS: dict[int, Callable[[Block], None]] = {}
KEYS = ("advisor", "title", "story", "answers", "set_aside", "expect")
MOST_ANSWERS = 1000

Given = str | list[str]
_NUMBER = re.compile(r"[1-9][0-9]{0,8}")


class VersionError(InputError):
    """The file is whole, but of a version that this program does not read."""


@dataclass(frozen=True)
class AnswerFile:
    """An answer file as read.

    `places` gives file and line of each answer, for messages; `set_aside` are answers that did not fit the rules when
    the file was written, kept in case they fit again.
    """

    title: str
    answers: dict[str, Given]
    places: dict[str, str] = field(default_factory=dict)
    story: str | None = None
    expect: Mapping[str, Any] | None = None
    set_aside: dict[str, Given] = field(default_factory=dict)


def read(path: Path | str) -> AnswerFile:
    """Read an answer file; what the answers mean is not judged here.

    Raises:
        InputError: with file and line, when it is not an answer file.
        VersionError: when it is one of a version that cannot be read.
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
    _bring_up_to_date(data, shown)
    _refuse_unknown_keys(data, shown)
    answers = _answers(data, "answers", shown)
    aside = _answers(data, "set_aside", shown) if "set_aside" in data else {}
    places = {name: f"{shown}:{data[key].lines[name]}"
              for key, given in (("set_aside", aside), ("answers", answers)) for name in given}
    return AnswerFile(_title(data, shown), answers, places, _story(data, shown), _expected(data, shown), aside)


def _place(data: Block, key: str, shown: str) -> str:
    return f"{shown}:{data.lines.get(key, data.line)}"


def _refuse_unknown_keys(data: Block, shown: str) -> None:
    for key in data:
        if key not in KEYS:
            guess = near(key, KEYS)
            raise InputError(f"an answer file has no {quoted(key)}", _place(data, key, shown),
                             f"did you mean `{guess}`?" if guess else
                             f"it may hold {', '.join(KEYS)}; answers stand indented below `answers:`")


def _bring_up_to_date(data: Block, shown: str) -> None:
    version = data.get("advisor")
    if version is None:
        raise InputError("`advisor: 1` is missing", f"{shown}:{data.line}",
                         "it says which version of answer files this is; write it as the first line")
    place = _place(data, "advisor", shown)
    if not isinstance(version, str) or not _NUMBER.fullmatch(version):
        told = quoted(version) if isinstance(version, str) else "a list"
        raise InputError(f"{told} is no version of answer files", place, f"this program writes `advisor: {FORMAT}`")
    if (number := int(version)) > FORMAT:
        raise VersionError(f"this answer file is of version {number}, and only up to version {FORMAT} can be read",
                           place, "a later program wrote it, or the number is a slip; a wrong reading could mislead")
    for older in range(number, FORMAT):
        STEPS[older](data)


def _answers(data: Block, key: str, shown: str) -> dict[str, Given]:
    if key not in data:
        raise InputError(f"`{key}:` is missing", f"{shown}:{data.line}",
                         "below it stands a line `question: answer` for each, indented")
    answers = data[key]
    if not isinstance(answers, Block):
        raise InputError(f"`{key}` must be lines of `question: answer`", _place(data, key, shown),
                         f"indent them below `{key}:`; an empty one is written `{key}: {{}}`")
    if len(answers) > MOST_ANSWERS:
        raise InputError(f"there are {len(answers)} answers", _place(data, key, shown),
                         f"at most {MOST_ANSWERS} are read, far more than there are questions")
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
        raise InputError(f"`{key}` must be a text", _place(data, key, shown), f"write `{key}: ...` on one line")
    return " ".join(text.split()) if text else None


def _title(data: Block, shown: str) -> str:
    title = _text(data, "title", shown)
    if title is None:
        return UNTITLED
    if len(title) > LONGEST_TITLE:
        raise InputError(f"the title is longer than {LONGEST_TITLE} characters",
                         _place(data, "title", shown), "shorten it; what it does not hold has room in `story:`")
    return title


def _story(data: Block, shown: str) -> str | None:
    return _text(data, "story", shown)


def _expected(data: Block, shown: str) -> Mapping[str, Any] | None:
    expected = data.get("expect")
    if expected is not None and not isinstance(expected, Block):
        raise InputError("`expect` must be lines of `name: value`", _place(data, "expect", shown),
                         "indent them below `expect:`, or take it out: only scenarios hold it")
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


def written(title: str, answers: Mapping[str, str | Sequence[str]],
            set_aside: Mapping[str, str | Sequence[str]] | None = None) -> str:
    """The text of an answer file."""
    content: dict[str, Any] = {"advisor": FORMAT, "title": title, "answers": _plain(answers)}
    if set_aside:
        content["set_aside"] = _plain(set_aside)
    return dumped(content)


def dumped(content: Mapping[str, object]) -> str:
    """The text of a YAML file of this program, its keys in the order given."""
    return str(yaml.dump(dict(content), Dumper=_Dumper, sort_keys=False, allow_unicode=True, width=110))


def _plain(answers: Mapping[str, str | Sequence[str]]) -> dict[str, Given]:
    return {name: given if isinstance(given, str) else list(given) for name, given in answers.items()}


def write(path: Path | str, text: str, *, replace: bool = True) -> None:
    """Write the text of an answer file, readable by its owner only: whole or not at all, whatever happens meanwhile.

    Raises:
        InputError: when it cannot be written; an earlier file of that name is then unharmed.
        FileExistsError: when there is one and `replace` is not given.
    """
    try:
        whole_file.write(Path(path), text.encode("utf-8"), replace=replace)
    except FileExistsError:
        raise
    except OSError as error:
        raise InputError(f"cannot be written: {error.strerror or error}", str(path),
                         "look whether there is room, and name a folder that you may write to") from error
