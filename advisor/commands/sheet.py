"""`advisor sheet`: an answer file in, the job sheet for the bench out."""

from __future__ import annotations

import argparse
import os
from pathlib import Path

from advisor import answer_file, whole_file
from advisor.batch import exit_status_of, missing_in
from advisor.commands.complain import complain
from advisor.commands.output import mode_of_new_files
from advisor.consultation.advice import Advice
from advisor.consultation.consult import Advisor
from advisor.errors import InputError
from advisor.knowledge.rulebase import RuleBase
from advisor.sheet.clocks import Typed


def run(options: argparse.Namespace) -> int:
    """Write the sheet to the file named by `-o`, or to standard output."""
    target = Path(options.out) if options.out else None
    if target is not None:
        refuse_existing(target, options.force)
    advisor = Advisor.from_folder(options.rules, options.products)
    file = answer_file.read(Path(options.file))
    consultation = advisor.consult(file.answers, file.title, options.units, file.places)
    advice = consultation.advice()
    text = rendered(advice, advisor.rule_base, file.answers, options.form)
    if target is None:
        print(text, end="")
    else:
        write(target, text, force=options.force)
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


def refuse_existing(target: Path, force: bool) -> None:
    """Raises InputError when the file is there and may not be replaced; told before any work is done."""
    if target.is_dir():
        raise InputError("this is a folder", str(target), "name a file in it, such as sheet.html")
    if not force and os.path.lexists(target):
        raise InputError("there is a file of that name already", str(target), "take another name, or add --force")


def write(target: Path, text: str, *, force: bool = False) -> None:
    """Write the sheet whole or not at all.

    Raises:
        InputError: when it cannot be written, or is there already and `force` is not given.
    """
    refuse_existing(target, force)
    try:
        whole_file.write(target, text.encode("utf-8"), mode=mode_of_new_files(), replace=force)
    except FileExistsError:  # it has come meanwhile
        refuse_existing(target, False)
        raise
    except OSError as error:
        raise InputError(f"cannot write: {error.strerror or error}", str(target),
                         "name a file in a folder you may write to") from error
