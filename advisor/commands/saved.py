"""`advisor saved`: list, show or delete saved consultations."""

from __future__ import annotations

import argparse

from advisor import answer_file
from advisor.errors import UsageError
from advisor.store import Store


def run(options: argparse.Namespace) -> int:
    """Do what was asked with the saved consultations."""
    store = Store()
    if options.action == "list":
        for saved in store.saved():
            told = saved.fault or f"{saved.title}, {saved.answered} answers, {saved.changed:%Y-%m-%d %H:%M}"
            print(f"{saved.name}  {told}")
        return 0
    if options.name is None:
        raise UsageError(f"`saved {options.action}` needs a name", help="`advisor saved` lists the names")
    if options.action == "show":
        file = store.load(options.name)
        print(answer_file.written(file.title, file.answers), end="")
    else:
        store.delete(options.name)
        print(f"deleted {options.name}")
    return 0
