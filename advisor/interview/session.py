"""The interview as a sequence of turns: what to ask, where an answer leads, when to advise."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Literal

from advisor.answer_file import LONGEST_TITLE, AnswerFile
from advisor.consultation.advice import Advice
from advisor.consultation.answers import Answer, Raw
from advisor.consultation.consult import UNTITLED, Advisor, Consultation
from advisor.consultation.texts import System
from advisor.errors import AdvisorError, InputError, clean_text
from advisor.interview import present, words
from advisor.interview.asker import BLANK, Asker, Line, Paragraph
from advisor.interview.keeping import Keeper
from advisor.interview.reading import Choice, choices_of, chosen, command, tidy
from advisor.knowledge.model import UNKNOWN, Question
from advisor.store import Store

GOAL = "goal"
LONGEST_LINE = 300
HINTED = 2


@dataclass(frozen=True)
class Outcome:
    """How an interview ended: with advice, left by the person's word, or cut short by Ctrl-C or Ctrl-D."""

    ended: Literal["advised", "left", "interrupted"]
    advice: Advice | None = None
    saved_as: str | None = None


class Leave(Exception):  # noqa: N818
    """The person wants to stop."""


def run(advisor: Advisor, *, asker: Asker, show_advice: Callable[[Advice], None], store: Store | None = None,
        goal: str | None = None, resume: str | None = None, answers: AnswerFile | None = None,
        title: str | None = None, units: System | None = None) -> Outcome:
    """Hold an interview and show the advice.

    Begins with `answers` or the saved consultation `resume`, if given; `goal` answers the question of that
    name. With `store` every answer is saved at once.

    Raises:
        InputError: when there is no such saved consultation, it is damaged, or `goal` is no answer.
    """
    if resume is not None and store is not None:
        answers = store.load(resume)
    consultation = advisor.consult(title=title or (answers.title if answers else UNTITLED), units=units)
    keeper = Keeper(consultation, store, asker, resume)
    session = Session(consultation, asker, keeper)
    if goal is not None:
        consultation.answer(GOAL, goal)
    return session.hold(answers, show_advice)


class Session:
    """One interview. What is answered stands in the consultation; here is only where the person is in it."""

    def __init__(self, consultation: Consultation, asker: Asker, keeper: Keeper) -> None:
        self.consultation, self.asker, self.keeper = consultation, asker, keeper
        self.rule_base = consultation.rule_base
        self._trail: list[str] = []
        self._wanted: str | None = None
        self._disputed: list[str] = []
        self._aside: set[str] = set()
        self._look_first = False
        self._hints = HINTED

    # -- the whole

    def hold(self, earlier: AnswerFile | None, show_advice: Callable[[Advice], None]) -> Outcome:
        """Ask, review, advise; however it ends, the answers are kept."""
        try:
            self._begin(earlier)
            while not self._turn():
                pass
            advice = self.consultation.advice()
            self._say(BLANK)
            show_advice(advice)
        except Leave:
            return self._left("left")
        except (KeyboardInterrupt, EOFError):
            self._say(BLANK)
            return self._left("interrupted")
        self.keeper.tell()
        return Outcome("advised", advice, self.keeper.name)

    def _left(self, how: Literal["left", "interrupted"]) -> Outcome:
        self._say(Paragraph(words.ENDED_BY_PERSON))
        self.keeper.tell()
        return Outcome(how, None, self.keeper.name)

    def _begin(self, earlier: AnswerFile | None) -> None:
        self._say(Paragraph(words.WELCOME))
        if earlier is None:
            if self.consultation.title == UNTITLED:
                self._ask_title()
        else:
            self._take_up(earlier)
        self._trail = [answer.question for answer in self.consultation.relevant_answers()]
        self._aside = self._not_relevant()
        self.keeper.keep()

    def _ask_title(self) -> None:
        self._say(BLANK, Paragraph(words.ASK_TITLE, strong=True), Paragraph(words.TITLE_HINT))
        typed = clean_text(tidy(self.asker.read(Line(words.TITLE_PROMPT))), LONGEST_TITLE)
        if command(typed) == words.QUIT:
            raise Leave
        self.consultation.title = typed or UNTITLED

    def _take_up(self, earlier: AnswerFile) -> None:
        """Answers from a file; one that the rules do not accept any more is told and asked again."""
        for name, given in earlier.answers.items():
            if name in self.consultation.answers:
                continue  # given on the command line
            try:
                self.consultation.answer(name, given)
            except InputError as error:
                place = earlier.places.get(name, name)
                self._say(Paragraph(words.no_longer_fits(f"{place}: {error.what}")))
        self._say(Paragraph(words.resumed(self.consultation.title, len(self.consultation.answers))))
        self._look_first = self._ended_by() == "stop"

    # -- turns

    def _turn(self) -> bool:
        """One question or one look at the answers; True when the advice is wanted."""
        if self._look_first:
            self._look_first = False
            return self._review()
        if self._wanted is None and self._ended_by() == "stop":
            self._say(BLANK, Paragraph(words.STOPPED, strong=True))
            return True
        name = self._next()
        if name is None:
            return self._review()
        self._ask(self.rule_base.questions[name])
        return False

    def _next(self) -> str | None:
        """The question to ask: one the person turned to, one in dispute, or the next that matters."""
        if self._wanted is not None:
            name, self._wanted = self._wanted, None
            return name
        found = self.consultation.contradictions()
        if not found:
            if self._disputed:
                self._say(Paragraph(words.FITS_NOW))
            self._disputed = []
            question = self.consultation.next_question()
            return question.question if question else None
        if not self._disputed:
            self._disputed = list(dict.fromkeys(name for one in found for name in one.questions))
            self._say(*present.disputed(self.consultation, self._disputed))
        return self._disputed.pop(0)

    def _ask(self, question: Question) -> None:
        """Ask one question until it is answered or the person turns elsewhere."""
        choices = choices_of(self.rule_base, question)
        self._say(*present.card(self.consultation, question, choices, self._progress(question), self._hints > 0))
        self._hints -= 1
        line = self._line(question, choices)
        while not self._heard(question, choices, tidy(self.asker.read(line))):
            pass

    def _heard(self, question: Question, choices: tuple[Choice, ...], text: str) -> bool:
        """Act on a typed line; True when the turn is over."""
        word = command(text)
        if word == words.HELP:
            self._say(*present.help_of(self.consultation, question))
            return False
        if word == words.WHY:
            self._say(*present.why_of(self.consultation, question))
            return False
        if word == words.BACK:
            return self._back(question.question)
        if word == words.REVIEW:
            self._wanted = question.question
            self._look_first = True
            return True
        if word == words.QUIT:
            raise Leave
        return self._answered(question, choices, UNKNOWN if word == words.UNKNOWN else text)

    def _answered(self, question: Question, choices: tuple[Choice, ...], text: str) -> bool:
        """Take an answer, or say what is wrong with it; True when it was taken."""
        name = question.question
        try:
            if not text and name in self.consultation.answers:
                answer = self.consultation.answers[name]
            else:
                answer = self.consultation.answer(name, self._raw(question, choices, text))
        except InputError as error:
            self._say(*present.fault(error))
            return False
        if name not in self._trail:
            self._trail.append(name)
        self.keeper.keep()
        self._echo(question, answer)
        self._note_aside()
        return True

    def _raw(self, question: Question, choices: tuple[Choice, ...], text: str) -> Raw:
        if not text:
            raise InputError(words.EMPTY, help=words.EMPTY_HELP)
        if len(text) > LONGEST_LINE:
            raise InputError(words.TOO_LONG, help=present.how_to_answer(self.rule_base, question))
        if text == UNKNOWN:
            if question.essential == "yes":
                raise InputError(words.NEEDED, help=question.find_out)
            return UNKNOWN
        return chosen(text, choices, self._several(question)) if choices else text

    def _echo(self, question: Question, answer: Answer) -> None:
        self._say(Paragraph(present.shown(self.rule_base, answer), indent=2, lead="= "))
        if answer.unknown:
            self._say(Paragraph(present.not_knowing(self.consultation, question), indent=4))

    # -- moving about

    def _back(self, name: str) -> bool:
        before = self._before(name)
        if before is None:
            self._say(Paragraph(words.FIRST_QUESTION, indent=2))
            return False
        self._wanted = before
        return True

    def _before(self, name: str | None) -> str | None:
        """The question asked before this one, leaving out those that do not matter now."""
        earlier = self._trail[:self._trail.index(name)] if name in self._trail else self._trail
        return next((one for one in reversed(earlier) if one not in self._aside), None)

    def _review(self) -> bool:
        """Show the answers and act on one line; True when the advice is wanted."""
        names = self._to_review()
        aside = [name for name in self.consultation.answers if name not in names]
        is_open = self._wanted is not None or not self._may_advise()
        self._say(*present.reviewed(self.consultation, names, aside),
                  Paragraph(words.REVIEW_OPEN if is_open else words.REVIEW_DONE))
        while True:
            text = tidy(self.asker.read(Line(words.REVIEW_PROMPT, words=("back", "quit"))))
            if not text:
                return not is_open and self._advice_possible()
            if self._turned(text, names):
                return False

    def _turned(self, text: str, names: list[str]) -> bool:
        """Whether a line typed at the review turns to a question."""
        word = command(text)
        if word == words.QUIT:
            raise Leave
        if word == words.BACK:
            self._wanted = self._wanted or self._before(None)
        elif text.isdecimal() and len(text) < 4 and 1 <= int(text) <= len(names):
            self._wanted = names[int(text) - 1]
        else:
            self._say(Paragraph(words.review_again(len(names)), indent=2))
            return False
        return self._wanted is not None

    def _to_review(self) -> list[str]:
        """The answers that count, in the order of asking; before a stop that is not yet known of all."""
        return [question.question for question in self.rule_base.questions_in_order
                if question.question in self.consultation.answers and question.question not in self._aside]

    # -- where the case stands

    def _ended_by(self) -> str | None:
        return self.consultation.so_far().ended_by

    def _may_advise(self) -> bool:
        return not self.consultation.contradictions() and self.consultation.next_question() is None

    def _advice_possible(self) -> bool:
        """Whether advice can be given; assumptions may contradict an answer in the end."""
        try:
            self.consultation.advice()
        except AdvisorError as error:
            self._say(*present.fault(error))
            return False
        return True

    def _not_relevant(self) -> set[str]:
        return {name for name in self.consultation.answers if name not in self.consultation.so_far().asked}

    def _note_aside(self) -> None:
        """Say which answers stopped counting, and which count again."""
        if self._ended_by() is not None:
            return  # the evaluation ended before it could tell
        now = self._not_relevant()
        for names, told in ((now - self._aside, words.put_aside), (self._aside - now, words.counts_again)):
            labels = [present.label_of(self.rule_base, name) for name in sorted(names)]
            if labels:
                self._say(Paragraph(told(labels), indent=2))
        self._aside = now

    def _progress(self, question: Question) -> str:
        again = question.question in self._trail
        trail = [name for name in self._trail if name not in self._aside]
        number = trail.index(question.question) + 1 if question.question in trail else len(trail) + 1
        more = self.consultation.about_how_many_more() - (0 if again else 1)
        return words.progress(number, more, again)

    def _several(self, question: Question) -> bool:
        return self.rule_base.facts[question.question].kind == "several"

    def _line(self, question: Question, choices: tuple[Choice, ...]) -> Line:
        def taken_as(typed: str) -> str:
            return present.taken_as(self.consultation, question, choices, typed)
        return Line(words.ANSWER_PROMPT, [choice.label for choice in choices], words.ANY_TIME,
                    self._several(question), taken_as)

    def _say(self, *paragraphs: Paragraph) -> None:
        for paragraph in paragraphs:
            self.asker.show(paragraph)
