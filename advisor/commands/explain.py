"""`advisor advise FILE --explain WORDS` and `--why-not NAME`: how lines were reached, and why others were not."""

from __future__ import annotations

import json
import os
from collections.abc import Iterator, Sequence
from pathlib import Path

from advisor import answer_file
from advisor.consultation.consult import UNTITLED, Advisor
from advisor.consultation.explain import Explainer, Reason
from advisor.consultation.spoken import Said
from advisor.consultation.texts import System
from advisor.consultation.vary import vary
from advisor.consultation.why_not import balance, instead, names_not_chosen, not_chosen, why_not
from advisor.errors import InputError

MOST_LINES = 5


def print_explanations(advisor: Advisor, path: Path, words: str, units: System | None, depth: int | None) -> None:
    """Print the chain behind each line of the advice that holds the words, `depth` conclusions deep (None: all).

    Raises:
        InputError: no line holds them, or the file cannot be advised on.
    """
    file = answer_file.read(path)
    explainer = Explainer(advisor.consult(file.answers, file.title or UNTITLED, units, file.places))
    found = explainer.lines_with(words)
    if not found:
        raise InputError(f"no line of the advice holds `{words}`", str(path), "copy a few words of the line")
    for said in found[:MOST_LINES]:
        told = _told(said, advisor, explainer.explain(said), depth)
        print("\n".join([f"{said.part.capitalize()}: {said.text}", *(f"  {line}" for line in told), ""]))
    if len(found) > MOST_LINES:
        print(f"{len(found) - MOST_LINES} more lines hold these words; copy more of the one you mean.")


def print_why_not(advisor: Advisor, path: Path, name: str, units: System | None, as_json: bool = False) -> None:
    """Print what spoke for and against something that was not chosen, and what would let it win.

    As JSON all that go by the name are told; an empty name is everything that was not chosen.

    Raises:
        InputError: nothing that was not chosen goes by this name, or the file cannot be advised on.
    """
    file = answer_file.read(path)
    case = advisor.consult(file.answers, file.title or UNTITLED, units, file.places)
    explainer = Explainer(case)
    choices = explainer.result.choices.values()
    found = not_chosen(choices, name, advisor.rule_base)
    asides = [] if as_json or not name else list(instead(explainer.result.choices, name, advisor.rule_base))
    for aside in asides:
        print(f"{aside}\n")
    if asides and not found:
        return
    if not found:
        raise InputError(f"nothing that was not chosen goes by the name `{name}`", str(path),
                         f"one of: {'; '.join(names_not_chosen(choices)) or 'nothing here, no choice was made'}")
    varied = vary(case, processes=os.cpu_count() or 1)
    if as_json:
        print(json.dumps({"title": case.title, "not_chosen": [balance(explainer, one, varied) for one in found]},
                         indent=2, ensure_ascii=False))
        return
    for one in found[:MOST_LINES]:
        reasons = why_not(explainer, one, varied)
        print("\n".join([*("  " * reason.depth + reason.with_source(advisor.rule_base) for reason in reasons), ""]))
    if len(found) > MOST_LINES:
        print(f"{len(found) - MOST_LINES} more go by that name; write more of it.")


def _told(said: Said, advisor: Advisor, reasons: Sequence[Reason], depth: int | None) -> Iterator[str]:
    if said.rule:
        yield f"({said.rule})"
    for reason in reasons:
        if depth is not None and reason.depth > depth:
            continue
        also = "Besides: " if reason.also else ""
        yield "  " * reason.depth + also + reason.with_source(advisor.rule_base)
    deeper = sum(depth is not None and reason.depth > depth for reason in reasons)
    if deeper and depth is not None:
        yield f"({deeper} more sentences lie behind this: --depth {depth + 1}, or --full for all of them)"
