"""`advisor rule`: search and browse the rules folder, print it as a book, or check it."""

from __future__ import annotations

import argparse
import json
from collections.abc import Iterable, Sequence
from dataclasses import asdict

from advisor.errors import InputError, near, quoted
from advisor.handbook.lookup import Found, everything, nearest, search
from advisor.knowledge.load import load_rule_base
from advisor.knowledge.rulebase import RuleBase

_MOST_WHOLE = 3
_MOST_ALSO = 12


def run(options: argparse.Namespace) -> int:
    """Print what was looked for, the list of rules, the book, or the result of the check."""
    rule_base = load_rule_base(options.rules)
    if options.check:
        from advisor.engine.compile import compile_rules
        compile_rules(rule_base)
        print(f"{len(rule_base.rules)} rules, {len(rule_base.questions)} questions, {len(rule_base.cautions)} "
              f"cautions, {len(rule_base.sources)} sources: no mistakes found")
        return 0
    entries = everything(rule_base)
    if not options.words:
        if options.form == "markdown":
            from advisor.handbook.book import handbook
            print(handbook(rule_base), end="")
            return 0
        entries = [entry for entry in entries if entry.kind == "rule"]
    print_found(found_of(entries, options.words), options.form, rule_base)
    return 0


def found_of(entries: Sequence[Found], words: Sequence[str]) -> list[Found]:
    """The entries looked for; all when no words are given.

    Raises:
        InputError: nothing was found, with what is spelled nearest.
    """
    if not words:
        return list(entries)
    found = search(entries, words)
    if not found:
        raise InputError(f"nothing is found for {quoted(' '.join(words))}", help=_help(entries, words))
    return found


def _help(entries: Sequence[Found], words: Sequence[str]) -> str:
    """What to try instead: the ids and words spelled nearest."""
    ids = [guess for word in words if (guess := near(word, [entry.id for entry in entries]))] if len(words) == 1 else []
    unknown = nearest(entries, words)
    guesses = [*ids, *(guess for found in unknown.values() for guess in found)]
    if guesses:
        return f"did you mean {' or '.join(f'`{guess}`' for guess in dict.fromkeys(guesses))}?"
    if unknown:
        return f"no entry has {' or '.join(f'`{word}`' for word in unknown)}; try fewer or other words"
    return "each word stands somewhere, but no entry has them all; try fewer of them"


def print_found(found: list[Found], form: str, rule_base: RuleBase) -> None:
    """A few entries whole, many as a list; all of them whole in JSON and Markdown."""
    if form == "json":
        print(json.dumps([asdict(entry) for entry in found], indent=2, ensure_ascii=False))
    elif form == "markdown" or len(found) <= _MOST_WHOLE:
        print("\n\n".join("\n".join(_whole(entry, rule_base, form == "markdown")) for entry in found))
    else:
        print("\n".join(f"{entry.kind} {entry.id}  {entry.headline}" for entry in found))


def _whole(entry: Found, rule_base: RuleBase, markdown: bool) -> Iterable[str]:
    bullet = "- " if markdown else "  "
    yield f"### {entry.headline}" if markdown else entry.headline
    yield f"{bullet}{entry.kind} {entry.id} ({entry.where})"
    yield from (f"{bullet}{line}" for line in entry.lines if line)
    yield from (f"{bullet}source: {rule_base.sources[source].title}" for source in entry.sources)
    if entry.uses:
        yield f"{bullet}used by: {', '.join(entry.uses)}"
    if entry.also:
        more = len(entry.also) - _MOST_ALSO
        rest = f" and {more} more" if more > 0 else ""
        yield f"{bullet}also mentioned in: {', '.join(entry.also[:_MOST_ALSO])}{rest}"
