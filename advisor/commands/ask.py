"""`advisor ask`: the interview; prompts go to standard error, the advice to standard output."""

from __future__ import annotations

import argparse
from pathlib import Path

from advisor import answer_file
from advisor.consultation.advice import Advice
from advisor.consultation.consult import Advisor
from advisor.interview.terminal import open_asker

ADVISED, STOP_OR_REFER, INTERRUPTED = 0, 3, 130


def run(options: argparse.Namespace) -> int:
    """Hold an interview; the exit status says how it ended."""
    asker = open_asker(options.plain)
    from advisor.interview import session
    from advisor.store import Store
    advisor = Advisor.from_folder(options.rules)
    answers = answer_file.read(Path(options.from_file)) if options.from_file else None

    def show(advice: Advice) -> None:
        from rich.console import Console

        from advisor.report import terminal
        terminal.print_advice(advice, advisor.rule_base, Console(highlight=False, markup=False))

    outcome = session.run(advisor, asker=asker, show_advice=show, store=Store(), goal=options.goal,
                          resume=options.resume, answers=answers, units=options.units)
    if outcome.ended == "interrupted":
        return INTERRUPTED
    ended = outcome.advice is not None and outcome.advice.status in ("stop", "refer")
    return STOP_OR_REFER if ended else ADVISED
