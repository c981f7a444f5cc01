"""`advisor advise`: answer files in, advice out as text, JSON or Markdown."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Callable, Sequence
from contextlib import ExitStack, closing
from pathlib import Path

from advisor import batch
from advisor.commands.complain import complain
from advisor.commands.desk import Desk, told_of
from advisor.commands.output import written_to
from advisor.commands.page import Page
from advisor.commands.progress import Bar
from advisor.consultation.consult import Advisor


def run(options: argparse.Namespace) -> int:
    """Advise on every file; results go to standard output or `--out`, messages to standard error."""
    files = batch.answer_files(options.files)
    if options.explain is not None or options.why_not is not None:
        _print_reasons(options, files)
        return batch.ADVISED
    several = len(files) > 1 or Path(options.files[0]).is_dir()
    to_screen = options.out is None
    desk = Desk(options.rules, options.products, options.units, options.form, options.details, several,
                Page().width if to_screen else None)
    statuses = set()
    with ExitStack() as stack:
        # Text that scrolls by on the same screen shows the progress by itself.
        bar = None if to_screen and sys.stdout.isatty() or not several else stack.enter_context(Bar(lines=False))
        write: Callable[[str], object] | None = sys.stdout.write if to_screen else None
        results = stack.enter_context(closing(told_of(desk, files, options.jobs)))
        for count, told in enumerate(results, 1):
            for complaint in told.complaints:
                complain(complaint)
            if told.text is not None:
                # Nothing of an earlier file is touched before there is something to put in its place.
                write = write or stack.enter_context(written_to(Path(options.out)))
                write(told.text)
            statuses.add(told.status)
            if bar is not None:
                bar.show("files", count, len(files))
    return batch.exit_status(statuses)


def _print_reasons(options: argparse.Namespace, files: Sequence[Path]) -> None:
    """Why lines of the advice stand there, or why something was not chosen, in place of the advice."""
    from advisor.commands.explain import print_explanations, print_why_not
    advisor = Advisor.from_folder(options.rules, options.products)
    for path in files:
        if options.explain is not None:
            print_explanations(advisor, path, options.explain, options.units, None if options.full else options.depth)
        if options.why_not is not None:
            print_why_not(advisor, path, options.why_not, options.units, options.form == "json")
