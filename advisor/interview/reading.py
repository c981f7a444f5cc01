"""From the line a person typed to a command or an answer; nothing here knows a terminal."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass

from advisor.consultation.answers import Raw, read_answer
from advisor.errors import InputError, near, quoted
from advisor.interview import words
from advisor.knowledge.model import UNKNOWN, Question
from advisor.knowledge.rulebase import RuleBase
from advisor.units.spelling import find_unit

LONGEST_LINE = 300
_NUMBERS = re.compile(r"\d+(?:(?:[\s,;]|and|&|\+)+\d+)*[.,;]?", re.IGNORECASE)
_WORD = re.compile(r"[\w']+")
_MOST_NAMED = 4
# One or two letters in the middle of a label are a slip more often than a choice.
_SHORTEST_WITHIN = 3


@dataclass(frozen=True)
class Choice:
    """One numbered choice: its id in the rules and how it reads."""

    id: str
    label: str


def tidy(text: str) -> str:
    """A typed line with single spaces and plain apostrophes."""
    return " ".join(text.replace("\u2019", "'").split())


def command(text: str, choices: Sequence[Choice] = ()) -> str | None:
    """The command that a tidy line is, if it is one; a letter that begins one of the choices means that choice."""
    typed = text.casefold()
    if len(typed) == 1 and any(choice.label.casefold().startswith(typed) for choice in choices):
        return None
    return words.COMMANDS.get(typed)


def choices_of(rule_base: RuleBase, question: Question) -> tuple[Choice, ...]:
    """The numbered choices of a question, `I don't know` the last; none where a quantity is wanted.

    A word that means no more than `I don't know` is not listed beside it.
    """
    allowed = rule_base.values_of(rule_base.facts[question.question])
    told = question.dont_know
    same = told.assume if told and told.listed == "no" else None
    listed = tuple(Choice(id_, label) for id_, label in allowed.items() if id_ != same)
    if not listed or not question.takes_unknown:
        return listed
    return (*listed, Choice(UNKNOWN, words.DONT_KNOW))


def answer_of(rule_base: RuleBase, question: Question, choices: Sequence[Choice], text: str,
              system: str = "metric") -> Raw:
    """The answer that a tidy line gives to a question, as a consultation takes it.

    `system` is the system of units of the answers so far; a bare number beside US units is refused.

    Raises:
        InputError: when it is no answer to this question.
    """
    if not text:
        raise InputError(words.EMPTY, help=words.EMPTY_HELP if question.takes_unknown
                         else words.EMPTY_HELP_ESSENTIAL)
    if len(text) > LONGEST_LINE:
        raise InputError(words.TOO_LONG, help=words.TOO_LONG_HELP)
    if command(text) == words.UNKNOWN:
        if not question.takes_unknown:
            raise InputError(words.NEEDED_HERE, help=f"{question.find_out} {words.LEAVE_TO_LOOK}")
        return UNKNOWN
    if choices:
        return chosen(text, choices, rule_base.facts[question.question].kind == "several")
    if system == "us":
        _refuse_bare(rule_base, question, text)
    return text


def _refuse_bare(rule_base: RuleBase, question: Question, text: str) -> None:
    """Whoever has answered in inches and types `2` means inches; read as millimetres it would mislead."""
    dimension, unit = find_unit(rule_base.facts[question.question].unit or "fraction")
    if unit.system != "metric" or all(other.system != "us" for other in dimension.units):
        return
    if read_answer(rule_base, question.question, text).system == "none":
        raise InputError(words.without_unit(quoted(text)), help=f"write for instance {dimension.example}")


def chosen(text: str, choices: Sequence[Choice], several: bool) -> Raw:
    """The id, or ids, of the choices that a tidy line names by numbers, letters or words.

    Raises:
        InputError: when it names none, more than one where one is wanted, or fits several.
    """
    ids = tuple(dict.fromkeys(choice.id for choice in _named(text, choices, several)))
    if UNKNOWN in ids:
        if len(ids) > 1:
            raise InputError(words.ALONE, help=words.ALONE_HELP)
        return UNKNOWN
    if several:
        return ids
    if len(ids) != 1:
        raise InputError(words.takes_one(len(ids)), help=words.no_such_number(len(choices)))
    return ids[0]


def _named(text: str, choices: Sequence[Choice], several: bool) -> list[Choice]:
    if _NUMBERS.fullmatch(text):
        return [_numbered(int(number), choices) for number in re.findall(r"\d+", text)]
    if not several or _exact(text, choices):
        return [_worded(text, choices)]
    parts = [part for part in (tidy(part) for part in re.split(r"[,;]", text)) if part]
    return [_numbered(int(part), choices) if part.isdecimal() else _worded(part, choices) for part in parts]


def _numbered(number: int, choices: Sequence[Choice]) -> Choice:
    if not 1 <= number <= len(choices):
        raise InputError(f"there is no choice {quoted(str(number))}", help=words.no_such_number(len(choices)))
    return choices[number - 1]


def _exact(text: str, choices: Sequence[Choice]) -> Choice | None:
    wanted = text.casefold()
    return next((choice for choice in choices
                 if wanted in (choice.id, choice.id.replace("_", " "), choice.label.casefold())), None)


def _worded(text: str, choices: Sequence[Choice]) -> Choice:
    """The one choice a text names: exactly, else by how it begins, else by words within it."""
    exact = _exact(text, choices)
    if exact:
        return exact
    begins, within = [], []
    typed = _WORD.findall(text.casefold())
    for choice in choices:
        label = _WORD.findall(choice.label.casefold())
        if typed and len(typed) <= len(label) and all(map(str.startswith, label, typed)):
            begins.append(choice)
        elif len(text) >= _SHORTEST_WITHIN and typed and all(
                any(word.startswith(part) for word in label) for part in typed):
            within.append(choice)
    fitting = begins or within
    if len(fitting) == 1:
        return fitting[0]
    raise _unclear(text, fitting, choices)


def _unclear(text: str, fitting: Sequence[Choice], choices: Sequence[Choice]) -> InputError:
    numbers = {choice: number for number, choice in enumerate(choices, 1)}
    if fitting:
        named = [f"{numbers[choice]} {choice.label}" for choice in fitting[:_MOST_NAMED]]
        named += ["..."] if len(fitting) > _MOST_NAMED else []
        return InputError(f"{quoted(text)} is not clear", help=words.fits_several(named))
    by_text = {text: choice for choice in choices for text in (choice.label, choice.id)}
    guess = near(text, by_text)
    return InputError(f"{quoted(text)} is none of the choices", help=(
        f"did you mean {numbers[by_text[guess]]} {by_text[guess].label}?" if guess
        else words.no_such_number(len(choices))))
