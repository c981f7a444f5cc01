"""`advisor advise FILE --explain WORDS`: how the lines that hold these words were reached."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from advisor import answer_file
from advisor.consultation.consult import UNTITLED, Advisor
from advisor.consultation.explain import Reason, Said, explain, lines_with
from advisor.consultation.texts import System
from advisor.errors import InputError

MOST_LINES = 5


def print_explanations(advisor: Advisor, path: Path, words: str, units: System | None) -> None:
    """Print the chain behind each line of the advice that holds the words.

    Raises:
        InputError: no line holds them, or the file cannot be advised on.
    """
    file = answer_file.read(path)
    case = advisor.consult(file.answers, file.title or UNTITLED, units, file.places)
    found = lines_with(case.advice(), words)
    if not found:
        raise InputError(f"no line of the advice holds `{words}`", str(path), "copy a few words of the line")
    for said in found[:MOST_LINES]:
        print("\n".join([said.text, *(f"  {line}" for line in _tree(said, advisor, explain(case, said.rule))), ""]))
    if len(found) > MOST_LINES:
        print(f"{len(found) - MOST_LINES} more lines hold these words; copy more of the one you mean.")


def _tree(said: Said, advisor: Advisor, reasons: list[Reason]) -> Iterator[str]:
    yield f"({said.rule})"
    for reason in reasons:
        titles = "; ".join(advisor.rule_base.sources[name].title for name in reason.source)
        yield "  " * reason.depth + reason.text + (f" [{titles}]" if titles else "")
