"""`advisor saved`: list, show or delete saved consultations."""

from __future__ import annotations

import argparse

from advisor import answer_file
from advisor.commands.complain import complain
from advisor.errors import UsageError
from advisor.store import Saved, Store


def run(options: argparse.Namespace) -> int:
    """Do what was asked with the saved consultations."""
    store = Store()
    if options.action == "list":
        found = store.saved()
        for saved in found:
            print(f"{saved.name}  {_told(saved)}")
        if not found:
            complain(f"nothing is saved in {store.folder}")
        return 0
    if options.name is None:
        raise UsageError(f"`saved {options.action}` needs a name", help="`advisor saved` lists the names")
    if options.action == "show":
        file = store.load(options.name)
        print(answer_file.written(file.title, file.answers, file.set_aside), end="")
    else:
        store.delete(options.name)
        print(f"deleted {options.name}")
    return 0


def _told(saved: Saved) -> str:
    count = f"{saved.answered} {'answer' if saved.answered == 1 else 'answers'}"
    return saved.fault or f"{saved.title}, {count}, {saved.changed:%Y-%m-%d %H:%M}"
