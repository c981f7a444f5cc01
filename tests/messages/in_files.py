"""What makes a file unreadable: answer files, product cards, records of jobs, and what stands in their place."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache, partial
from pathlib import Path

from advisor import answer_file, record_file
from advisor.knowledge.load import load_rule_base
from advisor.knowledge.product_card import parse_card, read_card
from advisor.knowledge.rulebase import RuleBase
from advisor.knowledge.yaml_text import read_text
from tests.hostile import files
from tests.messages.causes import Cause


@cache
def rules() -> RuleBase:
    """The rules that come with the program."""
    return load_rule_base(examples=False)


_HEAD = "advisor: 1\nanswers: "
_ANSWER_FILES = (
    ("an answer file that is a list", "- a\n"),
    ("a word in the wrong place of an answer file", "advisor: 1\nanswer: {}\n"),
    ("an answer file without its version", "answers: {}\n"),
    ("an answer file of a version that is no number", "advisor: x\nanswers: {}\n"),
    ("an answer file of a later version", "advisor: 2\nanswers: {}\n"),
    ("an answer file without answers", "advisor: 1\n"),
    ("answers that are a word", _HEAD + "x\n"),
    ("more answers than there are questions", _HEAD + "{" + ", ".join(f"q{i}: x" for i in range(1001)) + "}\n"),
    ("an answer that is a block", _HEAD + "{gap_max: {low: 1 mm}}\n"),
    ("a title that is a list", _HEAD + "{}\ntitle: [a]\n"),
    ("a title beyond reason", _HEAD + "{}\ntitle: " + "x" * 121 + "\n"),
    ("expectations that are a word", _HEAD + "{}\nexpect: x\n"),
)
_CARD = "advisor: 1\nproduct: T\nkind: adhesive\nfamily: methacrylate\nvalues:\n  gap_high: 5 mm\n"
_CARDS = (
    ("a card that is a list", "- a\n"),
    ("a word in the wrong place of a card", _CARD + "colour: red\n"),
    ("a card without its version", _CARD.replace("advisor: 1\n", "")),
    ("a card without the product's name", _CARD.replace("product: T\n", "")),
    ("a product's name beyond reason", _CARD.replace("product: T", "product: " + "x" * 61)),
    ("a card of an unknown kind", _CARD.replace("kind: adhesive", "kind: adhesiv")),
    ("a card without values", _CARD.replace("values:\n  gap_high: 5 mm\n", "")),
    ("a value in the wrong unit on a card", _CARD.replace("5 mm", "5 kg")),
    ("a word on a card that is none of those known", _CARD + "  flammable: maybe\n"),
    ("a word that a card does not know", _CARD + "  colour: red\n"),
    ("a list where a card has one number", _CARD.replace("5 mm", "[5 mm]")),
    ("far too many numbers on a card", _CARD + f"  work_times: [{'1 min, ' * 40}1 min]\n"),
)
_RECORDS = (
    ("a record that is no JSON", b"x"),
    ("a record that is JSON of something else", b"{}"),
    ("a record of a later version", b'{"advisor_record": 2}'),
    ("a record with a field unknown", b'{"advisor_record": 1, "x": 1}'),
)
_YAML = (
    ("two documents in a file", "a: b\n---\nc: d\n"),
    ("an alias", "a: &b c\nd: *b\n"),
    ("a tag", "a: !x b\n"),
    ("blocks within blocks without end", "[" * 50),
    ("a hidden sign", 'a: "\\e"\n'),
    ("a list for a key", "? [a]\n: b\n"),
    ("the same key twice", "a: b\na: c\n"),
    ("the same key a hundred times", "a: b\n" * 100),
    ("a bracket left open", "a: [b\n"),
    ("half a surrogate handed over by another program", "a: \ud800\n"),
)


def _made(make: files.Maker, folder: Path) -> object:
    return answer_file.read(make(folder))


def _card(text: str, folder: Path) -> object:
    return parse_card(text, "card.yaml", rules())


def _reading(read: Callable[[str, str], object], text: str, folder: Path) -> object:
    return read(text, "file.yaml")


def _record(content: bytes, folder: Path) -> object:
    return record_file.parse(content, "record.json")


def _unwritable(folder: Path) -> None:
    answer_file.write(folder / "none" / "job.yaml", "advisor: 1\n")


CAUSES = [
    *(Cause(said, partial(_reading, answer_file.parse, text)) for said, text in _ANSWER_FILES),
    *(Cause(said, partial(_card, text)) for said, text in _CARDS),
    *(Cause(said, partial(_record, content)) for said, content in _RECORDS),
    *(Cause(said, partial(_reading, read_text, text)) for said, text in _YAML),
    *(Cause(hostile.name, partial(_made, hostile.make)) for hostile in files.PLACES
      if hostile.name in ("50 MB of zeros", "a pipe that nobody writes to", "a link to nothing")),
    Cause("a file in Latin-1", partial(_made, files.content(b"caf\xe9"))),
    Cause("an answer file written where there is no folder", _unwritable),
    Cause("a card that is not there", lambda folder: read_card(folder / "none.yaml", rules())),
]
