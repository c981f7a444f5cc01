"""The desk at which answer files become what is printed: one in each process that works."""

from __future__ import annotations

import gc
import os
from collections.abc import Callable, Generator, Sequence
from dataclasses import dataclass
from functools import partial
from io import StringIO
from pathlib import Path

from advisor import batch
from advisor.commands.page import Page
from advisor.consultation.advice import Advice
from advisor.consultation.consult import Advisor
from advisor.consultation.texts import System
from advisor.crew import PATIENCE, Crew, Lost, done
from advisor.errors import AdvisorError
from advisor.knowledge.load import load_rule_base
from advisor.knowledge.product_card import read_card
from advisor.knowledge.rulebase import RuleBase

FEW = 40
"""Up to so many files are done without further processes, unless these are asked for: they take seconds to begin."""
_FAULT = "this is a fault of the program and not of the file; please report it, with the file"


@dataclass(frozen=True)
class Told:
    """What came of one file: the text to print, if there is advice, and what to say about it beside."""

    text: str | None
    complaints: tuple[str, ...]
    status: int


@dataclass(frozen=True)
class Desk:
    """What is to be made of each file.

    `width` is that of the screen for which text is made, None for a file; `patience` the seconds after which a
    process that works on the same file is held to hang.
    """

    rules: str | None
    products: Sequence[str]
    units: System | None
    form: str
    details: bool
    several: bool
    width: int | None
    patience: float = PATIENCE

    def prepare(self) -> None:
        """Read rules and cards once before many processes do it at the same time.

        Raises:
            AdvisorError: whatever is wrong with them.
        """
        rule_base = load_rule_base(self.rules, examples=False)
        for card in self.products:
            read_card(card, rule_base)

    def build(self) -> Callable[[Path], Told]:
        """What makes of a file what is printed."""
        advisor = Advisor.from_folder(self.rules, self.products)
        gc.freeze()  # the rules stay; looking through them for garbage would hold up an answer
        return partial(self._told, advisor)

    def _told(self, advisor: Advisor, path: Path) -> Told:
        outcome = batch.advise_file(advisor, path, self.units)
        complaints = [] if outcome.error is None else [str(outcome.error)]
        if outcome.unused:
            complaints.append(f"{path}: these answers do not matter here and were not used: "
                              f"{', '.join(outcome.unused)}")
        text = None if outcome.advice is None else self._text(outcome.advice, advisor.rule_base)
        return Told(text, tuple(complaints), outcome.exit_status)

    def _text(self, advice: Advice, rule_base: RuleBase) -> str:
        if self.form == "json":
            return advice.to_json(indent=None if self.several else 2) + "\n"
        if self.form == "markdown":
            from advisor.report import markdown
            return markdown.render(advice, rule_base, details=self.details) + "\n"
        from advisor.report import terminal
        if self.width is None:
            return terminal.plain_text(advice, rule_base, details=self.details) + "\n"
        text = StringIO()
        page = Page(self.width, text)
        if self.several:
            page.print(f"\n== {advice.title}", soft_wrap=True)
        terminal.print_advice(advice, rule_base, page, details=self.details)
        return text.getvalue()


def told_of(desk: Desk, files: Sequence[Path], jobs: int | None) -> Generator[Told, None, None]:
    """What came of each file, in the order given, whatever the number of processes.

    With `jobs` each file is worked on under a watchdog, in one of so many processes; without, only where there are
    many files, with a process for each processor.

    Raises:
        AdvisorError: what is wrong with the rules or the cards.
    """
    if jobs is None and len(files) <= FEW:
        do = desk.build()
        for path in files:
            yield _found(path, done(do, path))
        return
    desk.prepare()
    with Crew(desk.build, min(jobs or _processors(), len(files)), desk.patience) as crew:
        for path, told in crew.run(files):
            yield _found(path, told)


def _found(path: Path, told: Told | Lost) -> Told:
    if isinstance(told, Told):
        return told
    what = f"the program failed on this file: {told.why}" if told.failed else \
        f"the process that worked on this file {told.why}"
    return Told(None, (str(AdvisorError(what, str(path), _FAULT)),), batch.BAD_INPUT)


def _processors() -> int:
    return len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count() or 1
