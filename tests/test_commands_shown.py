"""Every command that a page shows is one that the program takes; docs/commands.md tells every option."""

from __future__ import annotations

import argparse
import re
import shlex
from pathlib import Path

import pytest

from advisor.cli import COMMANDS, build_parser

ROOT = Path(__file__).parents[1]
PAGES = [ROOT / "README.md", ROOT / "DEVELOPERS.md", ROOT / "rules" / "README.md",
         *sorted((ROOT / "docs").rglob("*.md"))]
SHOWN = re.compile(rf"(?:^|`|&& )(?:\.venv/bin/)?advisor ((?:{'|'.join(COMMANDS)})\b(?: [^`#\n]*)?)(?<!\\)(?=[`#\n])",
                   re.MULTILINE)
ONWARD = re.compile(r"\s(?:>|2>|\||&&|\|\|)\s")
IN_BRACKETS = re.compile(r"\[[^\]]*\]")


def shown() -> list[tuple[str, str]]:
    """Each command shown with what it is given, and its page; what may be left out is left out."""
    found = [(page.name, ONWARD.split(IN_BRACKETS.sub("", command.replace("\\|", "|")))[0].strip())
            for page in PAGES for command in SHOWN.findall(page.read_text(encoding="utf-8"))]
    return [(page, command) for page, command in found if " " in command]


@pytest.mark.parametrize(("page", "command"), shown())
def test_a_command_shown_is_one_that_can_be_given(page: str, command: str) -> None:
    words = [word.split("|")[0] for word in shlex.split(command.replace("...", ""))]
    assert build_parser().parse_args(words).command == words[0], page


def options() -> list[tuple[str, str]]:
    """Every option of every command."""
    commands = next(action for action in build_parser()._actions if isinstance(action, argparse._SubParsersAction))
    return [(name, option) for name, parser in commands.choices.items() for action in parser._actions
            for option in action.option_strings if option.startswith("--") and option != "--help"]


def sections() -> dict[str, str]:
    """docs/commands.md by command; what stands before the first counts for all."""
    everywhere, *parts = re.split(r"^## advisor ", (ROOT / "docs" / "commands.md").read_text(encoding="utf-8"),
                                  flags=re.MULTILINE)
    return {part.split(maxsplit=1)[0]: everywhere.partition("| 130")[2] + part for part in parts}


def test_every_command_has_its_section() -> None:
    assert sorted(sections()) == sorted(COMMANDS)


@pytest.mark.parametrize(("command", "option"), options())
def test_every_option_is_told(command: str, option: str) -> None:
    assert re.search(re.escape(option) + r"\b", sections()[command])
