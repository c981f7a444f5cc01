"""`advisor card`: a short interview that fills a product card from the maker's sheet."""

from __future__ import annotations

import argparse
from pathlib import Path

from advisor.answer_file import dumped
from advisor.commands.complain import complain
from advisor.commands.output import refuse_existing, write_new
from advisor.errors import InputError
from advisor.interview import card_words
from advisor.interview.card import CardInterview
from advisor.interview.terminal import open_asker
from advisor.knowledge.load import load_rule_base
from advisor.knowledge.product_card import read_card

NO_CARD = 130
EXAMPLE = "my-tube.yaml"


def run(options: argparse.Namespace) -> int:
    """Ask, and write the card; prompts go to standard error."""
    target = Path(options.file)
    refuse_existing(target, options.force, EXAMPLE)
    if not target.parent.is_dir():
        raise InputError("there is no such folder", str(target.parent), "name a file in a folder that is there")
    asker = open_asker(options.plain)
    rule_base = load_rule_base(options.rules, examples=False)
    draft = CardInterview(rule_base, asker).hold()
    if draft is None:
        return NO_CARD
    write_new(target, dumped(draft.content()), force=options.force, example=EXAMPLE)
    read_card(target, rule_base)  # what was written is what `--product` reads
    complain(card_words.saved(options.file))
    return 0
