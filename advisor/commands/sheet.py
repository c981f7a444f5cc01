"""`advisor sheet`: an answer file in, the job sheet for the bench out."""

from __future__ import annotations

import argparse
from pathlib import Path

from advisor import answer_file
from advisor.batch import exit_status_of, missing_in
from advisor.commands.complain import complain
from advisor.commands.output import refuse_existing, write_new
from advisor.consultation.advice import Advice
from advisor.consultation.consult import Advisor
from advisor.knowledge.rulebase import RuleBase
from advisor.sheet.clocks import Typed

EXAMPLE = "sheet.html"


def run(options: argparse.Namespace) -> int:
    """Write the sheet to the file named by `-o`, or to standard output."""
    target = Path(options.out) if options.out else None
    if target is not None:
        refuse_existing(target, options.force, EXAMPLE)
    advisor = Advisor.from_folder(options.rules, options.products)
    file = answer_file.read(Path(options.file))
    consultation = advisor.consult(file.answers, file.title, options.units, file.places)
    advice = consultation.advice()
    text = rendered(advice, advisor.rule_base, file.answers, options.form)
    if target is None:
        print(text, end="")
    else:
        write_new(target, text, force=options.force, example=EXAMPLE)
        complain(f"the job sheet is in {target}")
    if lacking := missing_in(advice, Path(options.file)):
        complain(lacking)
    return exit_status_of(advice)


def rendered(advice: Advice, rule_base: RuleBase, typed: Typed, form: str = "html") -> str:
    """The sheet as HTML or Markdown."""
    if form == "markdown":
        from advisor.sheet import markdown
        return markdown.render(advice, rule_base)
    from advisor.sheet import page
    return page.render(advice, rule_base, typed)
