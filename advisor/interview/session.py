"""The interview as a sequence of turns: what to ask, where an answer leads, when to advise."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Literal

from advisor.consultation.advice import Advice, OnwardLine
from advisor.consultation.agenda import Contradiction
from advisor.consultation.consult import LONGEST_TITLE, UNTITLED, Advisor, Consultation
from advisor.consultation.texts import System
from advisor.errors import AdvisorError, InputError, clean_text
from advisor.interview import onward, present, words
from advisor.interview.asker import BLANK, Asker, Line, Paragraph
from advisor.interview.keeping import Keeper
from advisor.interview.reading import Choice, answer_of, choices_of, command, tidy
from advisor.interview.resuming import take_up
from advisor.interview.trail import Trail
from advisor.knowledge.model import Question
from advisor.store import Store

if TYPE_CHECKING:
    from advisor.answer_file import AnswerFile

GOAL = "goal"
_HINTED = 2
_MOST_DIGITS = 3


@dataclass(frozen=True)
class Outcome:
    """How an interview ended: with advice, left by the person's word, or cut short by Ctrl-C or Ctrl-D."""

    ended: Literal["advised", "left", "interrupted"]
    advice: Advice | None = None
    saved_as: str | None = None
    answers: Mapping[str, str | Sequence[str]] = field(default_factory=dict)


class Leave(Exception):  # noqa: N818
    """The person wants to stop."""


def run(advisor: Advisor, *, asker: Asker, show_advice: Callable[[Advice], None], store: Store | None = None,
        goal: str | None = None, resume: str | None = None, answers: AnswerFile | None = None,
        title: str | None = None, units: System | None = None) -> Outcome:
    """Hold an interview and show the advice.

    Begins with `answers`, or with the consultation saved as `resume`; `goal` answers the question of that
    name. With `store` every answer is saved at once; `show_advice` prints the advice.

    Raises:
        InputError: when there is no such saved consultation, it is damaged, or `goal` is no answer.
    """
    taken_up = None
    if resume is not None:
        taken_up = take_up(store or Store(), resume, asker)
        if taken_up is None:
            return Outcome("left")
        answers = taken_up.answers
    consultation = advisor.consult(title=title or (answers.title if answers else UNTITLED), units=units)
    keeper = Keeper(consultation, store, asker, taken_up)
    try:
        if goal is not None:
            consultation.answer(GOAL, goal)
        return Session(consultation, asker, keeper).hold(answers, show_advice)
    finally:
        keeper.let_go()


class Session:
    """One interview. The answers stand in the consultation; here is only where the person is among them."""

    def __init__(self, consultation: Consultation, asker: Asker, keeper: Keeper) -> None:
        self.consultation, self.asker, self.keeper = consultation, asker, keeper
        self.trail = Trail(consultation)
        self._wanted: str | None = None
        self._disputed: list[str] | None = None
        self._look_first = False
        self._hints = _HINTED

    # -- the whole

    def hold(self, earlier: AnswerFile | None, show_advice: Callable[[Advice], None]) -> Outcome:
        """Ask, review, advise; however it ends, the answers are kept."""
        try:
            self._begin(earlier)
            advice = self._advised(show_advice)
            while (way := onward.chosen(self.asker, advice.onward)) is not None:
                self._go_on(way)
                advice = self._advised(show_advice)
        except Leave:
            return self._left("left")
        except (KeyboardInterrupt, EOFError):
            return self._left("interrupted")
        self._say(BLANK)
        self.keeper.tell()
        typed = {name: answer.typed for name, answer in self.consultation.answers.items()}
        return Outcome("advised", advice, self.keeper.name, typed)

    def _advised(self, show_advice: Callable[[Advice], None]) -> Advice:
        """Ask and review until there is advice, and show it."""
        while (advice := self._turn()) is None:
            pass
        self._say(BLANK)
        show_advice(advice)
        from advisor.interview.asking import Asking  # what explains is loaded when there is something to explain
        Asking(self.asker, self.consultation, advice).hold()
        return advice

    def _go_on(self, way: OnwardLine) -> None:
        """The next case begins with the answers of this one, which stays as it was saved."""
        self.keeper.begin_anew()
        for name, answer in way.answers.items():
            self.consultation.answer(name, answer)
        self.trail = Trail(self.consultation)
        self.trail.start()
        self.keeper.keep()
        self._say(BLANK, Paragraph(words.gone_on(way.say)))

    def _left(self, how: Literal["left", "interrupted"]) -> Outcome:
        self._say(BLANK, Paragraph(words.ENDED_BY_PERSON))
        self.keeper.tell()
        return Outcome(how, None, self.keeper.name)

    def _begin(self, earlier: AnswerFile | None) -> None:
        self._say(Paragraph(words.WELCOME))
        if earlier is not None:
            self._take_up(earlier)
        elif self.consultation.title == UNTITLED:
            self._ask_title()
        self.trail.start()
        self.keeper.keep()

    def _ask_title(self) -> None:
        self._say(BLANK, Paragraph(words.ASK_TITLE, strong=True), Paragraph(words.TITLE_HINT))
        while word := command(typed := clean_text(tidy(self.asker.read(Line(words.TITLE_PROMPT))), LONGEST_TITLE)):
            if word == words.QUIT:
                raise Leave
            self._say(Paragraph(words.TITLE_HINT, indent=2))
        self.consultation.title = typed or UNTITLED

    def _take_up(self, earlier: AnswerFile) -> None:
        """Answers from a file; one that the rules do not accept any more is told, set aside and asked again."""
        for name, given in (*earlier.answers.items(), *earlier.set_aside.items()):
            if name in self.consultation.answers:
                continue  # given on the command line, which comes first
            try:
                self.consultation.answer(name, given)
            except InputError as error:
                self.keeper.set_aside.setdefault(name, given)
                place = earlier.places.get(name, name)
                self._say(Paragraph(words.no_longer_fits(f"{place}: {error.what}")))
        self._say(Paragraph(words.resumed(self.consultation.title, len(self.consultation.answers))))
        # Whoever comes back to a case that ended in a stop may have come to put a slip right.
        self._look_first = self._stopped()

    # -- turns

    def _turn(self) -> Advice | None:
        """One question or one look at the answers; the advice once it is wanted."""
        if self._look_first:
            self._look_first = False
            return self._review()
        if self._wanted is None and self._stopped():
            self._say(BLANK, Paragraph(words.STOPPED, strong=True))
            return self._advice()
        name = self._next()
        if name is None:
            return self._review()
        self._ask(self.consultation.rule_base.questions[name])
        return None

    def _next(self) -> str | None:
        """The question to ask: one the person turned to, one in dispute, or the next that matters."""
        if self._wanted is not None:
            name, self._wanted = self._wanted, None
            return name
        found = self.consultation.contradictions()
        if found:
            return self._next_disputed(found)
        if self._disputed is not None:
            self._disputed = None
            self._say(Paragraph(words.FITS_NOW))
        question = self.consultation.next_question()
        return question.question if question else None

    def _next_disputed(self, found: list[Contradiction]) -> str:
        """Each question in dispute once; then, if that did not help, the reason and all of them again."""
        if not self._disputed:
            self._disputed = list(dict.fromkeys(name for one in found for name in one.questions))
            self._say(*present.disputed(self.consultation, found, self._disputed))
        return self._disputed.pop(0)

    def _ask(self, question: Question) -> None:
        """Ask one question until it is answered or the person turns elsewhere."""
        choices = choices_of(self.consultation.rule_base, question)
        progress = self._progress(question.question)
        self._say(*present.card(self.consultation, question, choices, progress, self._hints > 0))
        self._hints -= 1
        line = present.line_for(self.consultation.rule_base, question, choices, self.consultation.system)
        while not self._heard(question, choices, tidy(self.asker.read(line))):
            pass

    def _progress(self, name: str) -> str:
        again = name in self.trail
        more = self.consultation.about_how_many_more() - (0 if again else 1)
        if again and self.consultation.next_question() is None:
            more = 0  # everything is answered; the estimate counts questions that only another answer would raise
        return words.progress(self.trail.number(name), more, again)

    def _heard(self, question: Question, choices: tuple[Choice, ...], text: str) -> bool:
        """Act on a typed line; True when the turn is over."""
        match command(text, choices):
            case words.HELP:
                self._say(*present.help_of(self.consultation, question))
            case words.WHY:
                self._say(*present.why_of(self.consultation, question))
            case words.BACK:
                return self._back(question.question)
            case words.REVIEW:
                self._wanted, self._look_first = question.question, True
                return True
            case words.QUIT:
                raise Leave
            case _:
                return self._answered(question, choices, text)
        return False

    def _answered(self, question: Question, choices: tuple[Choice, ...], text: str) -> bool:
        """Take an answer, or say what is wrong with it; True when it was taken."""
        name = question.question
        try:
            if text or name not in self.consultation.answers:
                self.consultation.answer(name, answer_of(self.consultation.rule_base, question, choices, text,
                                                         self.consultation.system))
        except InputError as error:
            self._say(*present.fault(error, choices))
            return False
        self.trail.add(name)
        self.keeper.keep()
        self._say(*present.echo(self.consultation, question))
        self._tell_aside()
        return True

    def _tell_aside(self) -> None:
        gone, returned = self.trail.note_aside()
        for names, told in ((gone, words.put_aside), (returned, words.counts_again)):
            if names:
                labels = [present.label_of(self.consultation.rule_base, name) for name in names]
                self._say(Paragraph(told(labels), indent=2))

    def _back(self, name: str) -> bool:
        self._wanted = self.trail.before(name)
        if self._wanted is None:
            self._say(Paragraph(words.FIRST_QUESTION, indent=2))
        return self._wanted is not None

    # -- the review

    def _review(self) -> Advice | None:
        """Show the answers and act on one line; the advice when it is wanted and nothing is open."""
        names = self.trail.counting()
        ready = self._wanted is None and self._complete()
        self._say(*present.reviewed(self.consultation, names, sorted(self.trail.aside)),
                  Paragraph(words.REVIEW_DONE if ready else words.REVIEW_OPEN))
        line = Line(words.REVIEW_PROMPT, words=("back", "quit"))
        while text := tidy(self.asker.read(line)):
            if self._turned(text, names):
                return None
        return self._advice() if ready else None

    def _turned(self, text: str, names: list[str]) -> bool:
        """Whether a line typed at the review turns to a question."""
        word = command(text)
        if word == words.QUIT:
            raise Leave
        if word == words.BACK:
            self._wanted = self._wanted or self.trail.before(None)
        elif text.isdecimal() and len(text) <= _MOST_DIGITS and 1 <= int(text) <= len(names):
            self._wanted = names[int(text) - 1]
        else:
            self._say(Paragraph(words.review_again(len(names)), indent=2))
            return False
        return self._wanted is not None

    def _complete(self) -> bool:
        return not self.consultation.contradictions() and self.consultation.next_question() is None

    def _advice(self) -> Advice | None:
        """The advice; None where assumptions contradict an answer, and the answers are shown again."""
        try:
            return self.consultation.advice()
        except AdvisorError as error:
            self._say(*present.fault(error))
            self._look_first = True
            return None

    def _stopped(self) -> bool:
        return self.consultation.so_far().ended_by == "stop"

    def _say(self, *paragraphs: Paragraph) -> None:
        for paragraph in paragraphs:
            self.asker.show(paragraph)
