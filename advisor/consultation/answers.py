"""What a person answers: read by the vocabulary, refused with the reason and what would be right."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from advisor.consultation.facts import Value
from advisor.errors import InputError, near, quoted
from advisor.knowledge.model import UNKNOWN, FactForm, Question
from advisor.knowledge.numbers import Number
from advisor.knowledge.rulebase import RuleBase
from advisor.units import parse_quantity

Raw = str | Sequence[str]
MOST_WORDS = 30
MOST_FAULTS = 20
_DONT_KNOW = frozenset({"unknown", "i don't know", "i dont know", "don't know", "dont know", "not sure", "?"})
_NOTHING = ("none_of_these", "none")


@dataclass(frozen=True)
class Answer:
    """An answer as typed and as understood."""

    question: str
    typed: str | tuple[str, ...]
    value: Value
    system: str = "none"

    @property
    def unknown(self) -> bool:
        """Whether the answer is `I don't know`."""
        return bool(self.value == UNKNOWN)


def read_answers(rule_base: RuleBase, raw: Mapping[str, Raw],
                 places: Mapping[str, str] | None = None) -> dict[str, Answer]:
    """Read every answer; `places` gives the file and line of each for messages.

    Raises:
        InputError: naming the answers that cannot be used, the first of them if there are very many.
    """
    answers: dict[str, Answer] = {}
    faults: list[InputError] = []
    for name, given in raw.items():
        where = (places or {}).get(name, name)
        try:
            answers[name] = read_answer(rule_base, name, given, where)
        except InputError as error:
            faults.append(error)
            if len(faults) > MOST_FAULTS:
                break
    if faults:
        first, *rest = faults[:MOST_FAULTS]
        more = "".join(f"\n{error}" for error in rest)
        more += "\n... and perhaps more; put these right first" if len(faults) > MOST_FAULTS else ""
        raise InputError(first.what, first.where, (first.help or "") + more or None)
    return answers


def read_answer(rule_base: RuleBase, name: str, given: Raw, where: str | None = None) -> Answer:
    """Read one answer to the question `name`.

    Raises:
        InputError: with the accepted words, range or unit.
    """
    question = rule_base.questions.get(name)
    if question is None:
        guess = near(name, rule_base.questions)
        raise InputError(f"there is no question {quoted(name)}", where,
                         f"did you mean `{guess}`?" if guess else "`advisor schema answers` lists them all")
    words = [given] if isinstance(given, str) else list(given)
    if not words or not all(isinstance(word, str) and word.strip() for word in words):
        raise InputError("the answer is empty", where, "write `unknown` where you do not know")
    if len(words) > MOST_WORDS:
        raise InputError(f"the answer has {len(words)} parts", where, f"at most {MOST_WORDS} are read")
    form = rule_base.facts[name]
    if len(words) == 1 and words[0].strip().casefold() in _DONT_KNOW:
        return _unknown(question, where)
    if form.kind in ("quantity", "count"):
        return _quantity(name, words, form, where)
    return _words(rule_base, name, words, form, where)


def _unknown(question: Question, where: str | None) -> Answer:
    if not question.takes_unknown:
        raise InputError(f"`{question.question}` needs an answer; nothing safe can be said without it", where,
                         question.find_out)
    return Answer(question.question, UNKNOWN, UNKNOWN)


def _quantity(name: str, words: list[str], form: FactForm, where: str | None) -> Answer:
    if len(words) != 1:
        raise InputError(f"`{name}` takes one number, {len(words)} were given", where,
                         "for a range write `10 to 14 mm`")
    unit = form.unit or "fraction"
    try:
        read = parse_quantity(words[0], unit, plausible=form.plausible, name=name)
    except InputError as error:
        raise InputError(error.what, where, error.help) from error
    return Answer(name, " ".join(words[0].split()), Number(read.value, read.low, read.high, unit), read.system)


def _words(rule_base: RuleBase, name: str, words: list[str], form: FactForm, where: str | None) -> Answer:
    allowed = rule_base.values_of(form)
    read = tuple(dict.fromkeys(_word(name, word, allowed, where) for word in words))
    if form.kind == "several":
        alone = [word for word in read if word in _NOTHING]
        if alone and len(read) > 1:
            raise InputError(f"`{alone[0]}` cannot stand beside other answers", where, "take one or the other out")
        return Answer(name, read, read)
    if len(read) != 1:
        raise InputError(f"`{name}` takes one answer, {len(read)} were given", where, f"one of {', '.join(allowed)}")
    return Answer(name, read[0], read[0])


def _word(name: str, word: str, allowed: Mapping[str, str], where: str | None) -> str:
    wanted = word.strip().casefold()
    by_text = {**{label.casefold(): id_ for id_, label in allowed.items()}, **{id_.casefold(): id_ for id_ in allowed}}
    found = by_text.get(wanted) or by_text.get(wanted.replace(" ", "_"))
    if found:
        return found
    guess = near(wanted, by_text)
    raise InputError(f"{quoted(word)} is not an answer to `{name}`", where,
                     f"did you mean `{by_text[guess]}`?" if guess else f"one of {', '.join(allowed)}")
