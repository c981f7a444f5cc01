"""A question, its help and its answer as paragraphs, in plain words and both systems of units."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from advisor.consultation.agenda import Contradiction
from advisor.consultation.answers import read_answer
from advisor.consultation.assume import assumption_for
from advisor.consultation.consult import Consultation
from advisor.consultation.texts import Texts
from advisor.errors import AdvisorError, InputError
from advisor.interview import words
from advisor.interview.asker import BLANK, Line, Paragraph
from advisor.interview.readback import in_words, shown
from advisor.interview.reading import Choice, answer_of, command, tidy
from advisor.knowledge.model import Question, Rule
from advisor.knowledge.rulebase import RuleBase
from advisor.knowledge.shapes import PLACEHOLDER
from advisor.units.spelling import find_unit

MOST_RULES = 6
LONG_LIST = 14


def card(consultation: Consultation, question: Question, choices: Sequence[Choice],
         progress: str, hint: bool) -> Iterator[Paragraph]:
    """The question as asked: where we are, the sentence, the choices, the earlier answer, how to answer."""
    ask = _filled(consultation, question.ask)
    yield BLANK
    yield Paragraph(progress)
    yield Paragraph(ask, strong=True)
    yield from listed([choice.label for choice in choices])
    if len(choices) > LONG_LIST:
        yield Paragraph(ask, strong=True)
    earlier = consultation.answers.get(question.question)
    if earlier is not None:
        yield Paragraph(words.earlier(shown(consultation.rule_base, earlier)))
    several = consultation.rule_base.facts[question.question].kind == "several"
    if hint or several or not choices or len(choices) > LONG_LIST:
        yield Paragraph(how_to_answer(consultation.rule_base, question))


def listed(labels: Sequence[str]) -> Iterator[Paragraph]:
    """A numbered list."""
    width = len(str(len(labels)))
    for number, label in enumerate(labels, 1):
        yield Paragraph(label, indent=2, lead=f"{number:>{width}}  ")


def how_to_answer(rule_base: RuleBase, question: Question) -> str:
    """What to type."""
    form = rule_base.facts[question.question]
    if form.kind in ("quantity", "count"):
        example = question.example or find_unit(form.unit or "fraction")[0].example
        return words.how_to_measure(example.replace("`", ""), question.takes_unknown)
    return words.how_to_choose(form.kind == "several", question.takes_unknown)


def help_of(consultation: Consultation, question: Question) -> Iterator[Paragraph]:
    """How to find the answer out, and what not knowing it means."""
    yield Paragraph(_filled(consultation, question.find_out), indent=2)
    if question.takes_unknown:
        yield Paragraph(f"{words.DONT_KNOW}: {not_knowing(consultation, question)}", indent=2)
    else:
        yield Paragraph(words.NEEDED, indent=2)
    yield Paragraph(how_to_answer(consultation.rule_base, question), indent=2)


def not_knowing(consultation: Consultation, question: Question) -> str:
    """What `I don't know` means for a question."""
    told = question.dont_know
    assumption, because = assumption_for(question, consultation.so_far().facts)
    parts: list[str] = []
    if assumption is not None:
        answer = read_answer(consultation.rule_base, question.question, assumption)
        parts.append(words.assumed(in_words(consultation.rule_base, answer), because))
    if told and told.home_test is not None:
        parts.append(told.home_test)
    if told and told.try_every == "yes":
        parts.append(words.every_tried())
    return _filled(consultation, " ".join(parts) or question.find_out)


def why_of(consultation: Consultation, question: Question) -> Iterator[Paragraph]:
    """What the answer decides, and the rules that wait for it."""
    yield Paragraph(_filled(consultation, question.why), indent=2)
    rules = consultation.waiting_rules(question.question)
    yield Paragraph(words.rules_wait(len(rules)), indent=2)
    for rule in rules[:MOST_RULES]:
        yield Paragraph(_in_general(consultation.rule_base, rule), indent=2, lead="- ")
    if len(rules) > MOST_RULES:
        yield Paragraph(words.rules_more(len(rules) - MOST_RULES), indent=2)


def echo(consultation: Consultation, question: Question) -> Iterator[Paragraph]:
    """How an answer was understood, and what follows where it is not known."""
    answer = consultation.answers[question.question]
    yield Paragraph(shown(consultation.rule_base, answer), indent=2, lead="= ")
    if answer.unknown:
        yield Paragraph(not_knowing(consultation, question), indent=4)


def line_for(rule_base: RuleBase, question: Question, choices: Sequence[Choice], system: str = "metric") -> Line:
    """The line to read for a question; while it is typed it says what it would be taken as."""
    def taken_as(typed: str) -> str:
        text = tidy(typed)
        if not text or command(text, choices):
            return ""
        try:
            given = answer_of(rule_base, question, choices, text, system)
            return shown(rule_base, read_answer(rule_base, question.question, given))
        except InputError:
            return ""
    return Line(words.ANSWER_PROMPT, [choice.label for choice in choices], words.ANY_TIME,
                rule_base.facts[question.question].kind == "several", taken_as)


def fault(error: AdvisorError, choices: Sequence[Choice] = ()) -> Iterator[Paragraph]:
    """What is wrong and what would be right; places in files are left out, choices go by their words."""
    for line in (error.what, *(error.help or "").splitlines()):
        for choice in choices:
            line = line.replace(f"`{choice.id}`", f"`{choice.label}`")
        yield Paragraph(line[:1].upper() + line[1:], indent=2)


def label_of(rule_base: RuleBase, name: str) -> str:
    """What a question is about, in a few words."""
    return rule_base.facts[name].label


def reviewed(consultation: Consultation, names: Sequence[str], aside: Sequence[str]) -> Iterator[Paragraph]:
    """The answers, numbered, and those kept aside."""
    rule_base = consultation.rule_base
    yield BLANK
    yield Paragraph(words.REVIEW_TITLE if names else words.NO_ANSWERS, strong=True)
    yield from listed([f"{label_of(rule_base, name)}: {_at_review(consultation, name)}" for name in names])
    if aside:
        labels = "; ".join(label_of(rule_base, name) for name in aside)
        yield Paragraph(f"{words.KEPT_ASIDE}: {labels}")


def _at_review(consultation: Consultation, name: str) -> str:
    assumption, _ = assumption_for(consultation.rule_base.questions[name], consultation.so_far().facts)
    if not consultation.answers[name].unknown or assumption is None:
        return shown(consultation.rule_base, consultation.answers[name])
    assumed = read_answer(consultation.rule_base, name, assumption)
    return words.taken_for_unknown(in_words(consultation.rule_base, assumed))


def disputed(consultation: Consultation, found: Sequence[Contradiction],
             questions: Sequence[str]) -> Iterator[Paragraph]:
    """Answers that cannot all be right: what was found, why, and what is asked again."""
    yield BLANK
    yield Paragraph(words.DISPUTE, strong=True)
    for one in found:
        yield Paragraph(one.says, indent=2)
        yield Paragraph(one.because, indent=2)
    labels = "; ".join(label_of(consultation.rule_base, name) for name in questions)
    yield Paragraph(f"{words.ASKED_AGAIN}: {labels}.", indent=2)


def _filled(consultation: Consultation, text: str) -> str:
    return Texts(consultation.rule_base, consultation.so_far().facts, consultation.system).fill(text)


def _in_general(rule_base: RuleBase, rule: Rule) -> str:
    """What a rule says before its facts are known: their names stand for their values."""
    def named(match: re.Match[str]) -> str:
        form = rule_base.facts.get(match[1])
        if form is None:
            return match[1].removeprefix("limit/").replace("_", " ").replace(".", " ")
        abbreviated = form.label[:2].isupper()
        return form.label if abbreviated else form.label[:1].lower() + form.label[1:]
    return PLACEHOLDER.sub(named, rule.says)
