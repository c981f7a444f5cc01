"""After the advice: another answer tried, and what it would change."""

from __future__ import annotations

import re
from collections.abc import Sequence

from advisor.consultation.compare import compare, told
from advisor.consultation.consult import Consultation
from advisor.errors import InputError
from advisor.interview import present, words
from advisor.interview.asker import Asker, Paragraph
from advisor.interview.reading import answer_of, choices_of, tidy
from advisor.knowledge.model import Question

_EMPTY = frozenset({"a", "an", "are", "be", "had", "has", "have", "i", "is", "it", "its", "of", "the", "there", "to",
                    "was", "we", "were"})
_AT_LENGTH, _DANGER = ("amounts", "cautions"), "danger"
"""The parts of which only what has a number, or is a danger, is told."""
_WORD = re.compile(r"[\w']+")


def named(consultation: Consultation, typed: str) -> tuple[list[Question], str]:
    """The questions that the first words of a what-if name, and the rest, which may be an answer.

    A question goes by the words of its label, of the question itself or of its id. As many words as name one are
    taken; the label comes before the question.
    """
    asked = [consultation.rule_base.questions[name] for name in consultation.concluded().asked]
    tokens = typed.split()
    for count in range(len(tokens), 0, -1):
        wanted = [word for token in tokens[:count] for word in _WORD.findall(token.casefold()) if word not in _EMPTY]
        if not wanted:
            continue
        label = consultation.rule_base.facts
        for texts in ([label[one.question].label for one in asked], [f"{one.question} {one.ask}" for one in asked]):
            found = [one for one, text in zip(asked, texts, strict=True) if _holds(text, wanted)]
            if found:
                rest = tokens[count:]
                while rest and rest[0].casefold() in _EMPTY:
                    rest = rest[1:]
                return found, " ".join(rest)
    return [], typed


def _holds(text: str, wanted: Sequence[str]) -> bool:
    held = _WORD.findall(text.casefold().replace("_", " "))
    return all(any(word.startswith(one) for word in held) for one in wanted)


def tell(asker: Asker, consultation: Consultation, question: Question, given: str) -> None:
    """Take another answer to one question, all else as it is, and show what differs; an impossible one is said so."""
    choices = choices_of(consultation.rule_base, question)
    if not given:
        asker.show(Paragraph(question.ask, strong=True))
        for paragraph in present.listed([choice.label for choice in choices]):
            asker.show(paragraph)
        asker.show(Paragraph(present.how_to_answer(consultation.rule_base, question)))
        given = tidy(asker.read(present.line_for(consultation.rule_base, question, choices, consultation.system)))
    if not given:
        return
    other = Consultation(consultation.advisor, consultation.title, consultation.units)
    other.answers.update(consultation.answers)
    try:
        other.answer(question.question, answer_of(consultation.rule_base, question, choices, given,
                                                  consultation.system))
        found = compare(consultation, other)
    except InputError as error:
        asker.show(Paragraph(words.IMPOSSIBLE))
        for paragraph in present.fault(error, choices):
            asker.show(paragraph)
        return
    asker.show(Paragraph(words.ELSE_AS_IT_IS))
    told_first = [one for one in found if one.part not in _AT_LENGTH or one.one_number or one.other_number
                  or _DANGER in (one.one, one.other)]
    for depth, line in told(told_first, words.NOW_AND_THEN):
        asker.show(Paragraph(line, indent=2 * depth))
    if len(told_first) < len(found):
        asker.show(Paragraph(words.and_smaller(len(found) - len(told_first))))
