"""What is fuzzed: each target takes any bytes and fails where a reader does anything but accept or refuse them well."""

from __future__ import annotations

import math
import tempfile
from collections.abc import Callable
from functools import cache
from pathlib import Path

from advisor import answer_file, record_file
from advisor.errors import AdvisorError, hidden_in
from advisor.knowledge.load import load_rule_base, read_rule_base
from advisor.knowledge.product_card import parse_card
from advisor.knowledge.rulebase import RuleBase
from advisor.knowledge.yaml_text import read_text
from advisor.units import DIMENSIONS, format_range, known_unit, parse_quantity
from tests.small_rules import write_rules

_LONGEST_MESSAGE = 20_000
_UNITS = [unit.symbol for dimension in DIMENSIONS for unit in dimension.units]


def judged(message: str) -> None:
    """Fails where a message could steer a terminal or would flood it."""
    assert hidden_in(message) is None, f"hidden sign in {message!r}"
    assert len(message) <= _LONGEST_MESSAGE, f"{len(message)} signs of message"


def units(data: bytes) -> None:
    """The first byte chooses the unit that is wanted, the rest is what was typed."""
    unit = _UNITS[data[0] % len(_UNITS)] if data else "mm"
    text = data[1:].decode("utf-8", "surrogateescape")
    known_unit(text)
    try:
        read = parse_quantity(text, unit)
    except AdvisorError as error:
        assert error.what, text
        judged(str(error))
        return
    assert read.low <= read.value <= read.high, read
    assert hidden_in(" ".join(text.split())) is None, ascii(text)
    assert all(map(math.isfinite, (read.low, read.value, read.high))), read
    judged(format_range(read.low, read.value, read.high, unit, "both"))


def yaml(data: bytes) -> None:
    """Any text as YAML: data made of texts, lists and blocks, or problems with their place."""
    read, problems = read_text(data.decode("utf-8", "surrogateescape"), "evil.yaml")
    assert read is not None or problems or not data.strip() or _empty(data)
    for problem in problems:
        assert (problem.where or "").startswith("evil.yaml:"), problem
        judged(str(problem))


def _empty(data: bytes) -> bool:
    """Whether the text holds comments, directives and marks of documents only."""
    return read_text(data.decode("utf-8", "surrogateescape"), "evil.yaml") == (None, [])


def answers(data: bytes) -> None:
    """An answer file; one that is taken is written and read back the same."""
    try:
        read = answer_file.parse(data.decode("utf-8", "surrogateescape"), "evil.yaml")
    except AdvisorError as error:
        judged(str(error))
        return
    judged(read.title)
    again = answer_file.parse(answer_file.written(read.title, read.answers), "again.yaml")
    assert (again.title, again.answers) == (read.title, read.answers)


def record(data: bytes) -> None:
    """A record of a job."""
    try:
        read = record_file.parse(data, "evil.json")
    except AdvisorError as error:
        judged(str(error))
        return
    judged(record_file.answers_of(read, "evil.json").title)


@cache
def _rules() -> RuleBase:
    return load_rule_base(examples=False)


def card(data: bytes) -> None:
    """A product card, for the rules that come with the program."""
    try:
        read = parse_card(data.decode("utf-8", "surrogateescape"), "evil.yaml", _rules())
    except AdvisorError as error:
        judged(str(error))
        return
    judged("\n".join([read.product, *read.queries]))


@cache
def _small_rules() -> Path:
    memory = "/dev/shm" if Path("/dev/shm").is_dir() else None
    return write_rules(Path(tempfile.mkdtemp(prefix="fuzz-rules-", dir=memory)))


def rules(data: bytes) -> None:
    """A file among the rules."""
    folder = _small_rules()
    (folder / "evil.yaml").write_bytes(data)
    _, problems = read_rule_base(folder)
    for problem in problems:
        judged(str(problem))


TARGETS: dict[str, Callable[[bytes], None]] = {
    "units": units, "yaml": yaml, "answers": answers, "record": record, "card": card, "rules": rules}
