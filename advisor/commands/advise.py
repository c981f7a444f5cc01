"""`advisor advise`: answer files in, advice out as text, JSON or Markdown."""

from __future__ import annotations

import argparse
import gc
from pathlib import Path

from advisor import batch
from advisor.commands.complain import complain
from advisor.consultation.advice import Advice
from advisor.consultation.consult import Advisor
from advisor.errors import InputError
from advisor.knowledge.rulebase import RuleBase


def run(options: argparse.Namespace) -> int:
    """Advise on every file; results go to standard output or `--out`, messages to standard error."""
    advisor = Advisor.from_folder(options.rules, options.products)
    gc.freeze()  # the rules stay; looking through them for garbage would hold up an answer
    if options.explain is not None or options.why_not is not None:
        _print_reasons(advisor, options)
        return batch.ADVISED
    outcomes = []
    texts: list[str] = []
    to_screen = options.out is None
    for outcome in batch.advise_files(advisor, map(Path, options.files), options.units):
        outcomes.append(outcome)
        if outcome.error is not None:
            complain(outcome.error)
        if outcome.unused:
            complain(f"{outcome.path}: these answers do not matter here and were not used: "
                     f"{', '.join(outcome.unused)}")
        if outcome.advice is None:
            continue
        if options.form == "text" and to_screen:
            _print_text(outcome.advice, advisor.rule_base, options.details, len(options.files) > 1)
        elif to_screen:
            print(_rendered(outcome.advice, advisor.rule_base, options))
        else:
            texts.append(_rendered(outcome.advice, advisor.rule_base, options))
    if texts:
        _write(Path(options.out), "\n".join(texts) + "\n")
    return batch.exit_status(outcomes)


def _print_reasons(advisor: Advisor, options: argparse.Namespace) -> None:
    """Why lines of the advice stand there, or why something was not chosen, in place of the advice."""
    from advisor.commands.explain import print_explanations, print_why_not
    for path in map(Path, options.files):
        if options.explain is not None:
            print_explanations(advisor, path, options.explain, options.units, None if options.full else options.depth)
        if options.why_not is not None:
            print_why_not(advisor, path, options.why_not, options.units)


def _rendered(advice: Advice, rule_base: RuleBase, options: argparse.Namespace) -> str:
    if options.form == "json":
        return advice.to_json(indent=None if len(options.files) > 1 else 2)
    if options.form == "markdown":
        from advisor.report import markdown
        return markdown.render(advice, rule_base, details=options.details)
    from advisor.report import terminal
    return terminal.plain_text(advice, rule_base, details=options.details)


def _print_text(advice: Advice, rule_base: RuleBase, details: bool, several: bool) -> None:
    from advisor.commands.page import Page
    from advisor.report import terminal
    if several:
        print(f"\n== {advice.title}")
    terminal.print_advice(advice, rule_base, Page(), details=details)


def _write(path: Path, text: str) -> None:
    try:
        path.write_text(text, encoding="utf-8")
    except OSError as error:
        raise InputError(f"cannot write: {error.strerror}", str(path),
                         "name a file in a folder you may write to") from error
