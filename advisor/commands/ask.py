"""`advisor ask`: the interview; prompts go to standard error, the advice to standard output."""

from __future__ import annotations

import argparse
import gc
from pathlib import Path

from advisor import answer_file
from advisor.consultation.advice import Advice
from advisor.consultation.consult import Advisor
from advisor.interview.terminal import open_asker

NO_ADVICE = 130
_STATUS = {"stop": 3, "refer": 3, "incomplete": 1}


def run(options: argparse.Namespace) -> int:
    """Hold an interview; the exit status says how it ended."""
    asker = open_asker(options.plain)
    from advisor.interview import session
    from advisor.store import Store
    advisor = Advisor.from_folder(options.rules)
    gc.freeze()  # the rules stay; looking through them for garbage would hold up an answer
    answers = answer_file.read(Path(options.from_file)) if options.from_file else None

    def show(advice: Advice) -> None:
        from advisor.commands.page import Page
        from advisor.report import terminal
        terminal.print_advice(advice, advisor.rule_base, Page())

    outcome = session.run(advisor, asker=asker, show_advice=show, store=Store(), goal=options.goal,
                          resume=options.resume, answers=answers, units=options.units)
    if outcome.advice is None:
        return NO_ADVICE
    return _STATUS.get(outcome.advice.status, 0)
