"""`advisor ask`: the interview; prompts go to standard error, the advice to standard output."""

from __future__ import annotations

import argparse
import gc
import os
from collections.abc import Iterator, Mapping, Sequence
from importlib import import_module
from pathlib import Path

from advisor import answer_file
from advisor.answer_file import AnswerFile
from advisor.consultation.advice import Advice
from advisor.consultation.consult import Advisor
from advisor.errors import InputError, UsageError
from advisor.interview import words
from advisor.interview.asker import BLANK, Asker, Line, Paragraph
from advisor.interview.terminal import open_asker, wants_plain
from advisor.places import typed_path

NO_ADVICE = 130
_SHOWN_WITH = ("rich.console", "rich.table", "advisor.report.terminal", "advisor.commands.page")
_STATUS = {"stop": 3, "refer": 3, "incomplete": 1}


def run(options: argparse.Namespace) -> int:
    """Hold an interview; the exit status says how it ended."""
    plain = options.plain or wants_plain(os.environ)
    asker = open_asker(plain)
    from advisor.interview import session
    from advisor.store import Store
    advisor = Advisor.from_folder(options.rules, options.products)
    gc.freeze()  # the rules stay; looking through them for garbage would hold up an answer
    asker.meanwhile(_prepare(advisor))
    answers = _begun_with(options, asker)

    def show(advice: Advice) -> None:
        from advisor.commands.page import Page
        from advisor.report import terminal
        terminal.print_advice(advice, advisor.rule_base, Page(plain=plain))

    outcome = session.run(advisor, asker=asker, show_advice=show, store=Store(), goal=options.goal,
                          resume=options.resume, answers=answers, units=options.units)
    if outcome.advice is None:
        return NO_ADVICE
    _offer_sheet(advisor, asker, outcome.advice, outcome.answers)
    return _STATUS.get(outcome.advice.status, 0)


def _prepare(advisor: Advisor) -> Iterator[None]:
    yield from advisor.prepare()
    for name in _SHOWN_WITH:
        yield
        import_module(name)


def _begun_with(options: argparse.Namespace, asker: Asker) -> AnswerFile | None:
    """The answers to begin with: of an answer file, or of a record, which is shown in a few lines."""
    if options.record is None:
        return answer_file.read(Path(options.from_file)) if options.from_file else None
    if options.from_file or options.resume:
        raise UsageError("--record does not go together with --from or --resume", help="give one of them")
    from advisor import record_file  # only when a record is read
    record = record_file.read(Path(options.record))
    for line in record_file.told(record):
        asker.show(Paragraph(line, indent=2))
    return record_file.answers_of(record, options.record)


def _offer_sheet(advisor: Advisor, asker: Asker, advice: Advice, answers: Mapping[str, str | Sequence[str]]) -> None:
    """Offer the job sheet; a name that cannot be used is asked again, Enter or leaving means none."""
    from advisor.commands.output import write_new
    from advisor.commands.sheet import EXAMPLE, rendered
    asker.show(BLANK)
    asker.show(Paragraph(words.SHEET_OFFER))
    try:
        while name := asker.read(Line(words.SHEET_PROMPT)).strip():
            sheet = advisor.consult(answers, advice.title, "both").advice()
            try:
                write_new(typed_path(name), rendered(sheet, advisor.rule_base, answers), force=False, example=EXAMPLE)
            except InputError as error:
                asker.show(Paragraph(str(error)))
                continue
            asker.show(Paragraph(words.sheet_written(name)))
            return
    except (KeyboardInterrupt, EOFError):
        return
