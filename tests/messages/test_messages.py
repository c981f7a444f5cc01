"""Every message of the program has a cause, listed here and run; and all have one form: what, where, what to do."""

from __future__ import annotations

import re

import pytest

from advisor.errors import hidden_in
from tests.messages.provoke import Provoked, by_site, provoked
from tests.messages.sites import HELPERS, PACKAGE, Built

pytestmark = pytest.mark.timeout(240)

# These are told with their help by another message, at the place where they are caught.
_PASSED_ON = {"ArgumentTypeError"}
# A list of problems, each with its own help.
_LISTS = {"KnowledgeError"}
_NAMES_OF_CLASSES = re.compile(r"\b(?:[A-Z][a-z]+){2,}(?:Error)?\b|Traceback|NoneType")


@pytest.fixture(scope="module")
def found() -> list[Provoked]:
    """What every cause brought forth."""
    return provoked()


def test_every_message_has_a_cause(found: list[Provoked]) -> None:
    table = by_site(found)
    assert len(table) > 200
    missing = [f"{site}: {site.call}" for site, reached in table.items() if not reached]
    assert missing == [], "add a cause in tests/messages, or take the message out if nothing can cause it"


def test_every_cause_ends_in_a_message(found: list[Provoked]) -> None:
    assert [(one.cause.said, one.other) for one in found if one.other or not one.built] == []


def test_all_messages_have_one_form(found: list[Provoked]) -> None:
    wrong = {f"{fault}: {built.kind}: {built.what!r}, help {built.help!r}" for one in found for built in one.built
             for fault in _faults(built)}
    assert wrong == set()


def _faults(built: Built) -> list[str]:
    what = built.what
    return [fault for fault, wrong in {
        "empty": not what.strip(),
        "begins with a capital letter": what[:1].isupper(),
        "ends with a full stop": what.endswith("."),
        "several lines": "\n" in what,
        "hidden sign": bool(hidden_in(what)),
        "says the name of a class": bool(_NAMES_OF_CLASSES.search(re.sub(r"`[^`]*`", "", what))),
        "no help": built.kind not in _PASSED_ON | _LISTS and not (built.help or "").strip(),
    }.items() if wrong]


def test_the_helpers_named_here_exist() -> None:
    for file, names in HELPERS.items():
        text = (PACKAGE / file).read_text(encoding="utf-8")
        assert [name for name in names if f"{name}(" not in text] == []
