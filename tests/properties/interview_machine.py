"""The whole interview as a state machine: in whatever order it is typed, nothing answered is lost or asked twice."""

from __future__ import annotations

import tempfile
from functools import cache
from pathlib import Path
from random import Random

from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, initialize, invariant, precondition, rule

from advisor.answer_file import AnswerFile
from advisor.audit.answering import Answering
from advisor.consultation.advice import Advice
from advisor.consultation.consult import Advisor
from advisor.interview import words
from advisor.interview.reading import choices_of
from advisor.interview.session import run
from advisor.knowledge.model import UNKNOWN
from advisor.store import Store
from tests.properties.held_interview import HeldInterview, Typed
from tests.random_answers import consistent_answers

SLIPS = ("", "purple", "1, 1, 77", "-3 mm", "help", "why", "\u202e12", "5 bananas")
SHARES = (0.0, 0.4, 0.9, 1.0)
COUNTED = {"cases": 0, "steps": 0, "advice": 0, "left": 0}
"""What the machine did in this process: interviews, lines typed, advice compared, times left."""
Told = dict[str, str | list[str]]


@cache
def advisor() -> Advisor:
    """The real rules, read once."""
    return Advisor.from_folder()


@cache
def answering() -> Answering:
    """What types answers to the real questions."""
    return Answering(advisor().rule_base, advisor().evaluator.programs)


@cache
def by_ask() -> dict[str, str]:
    """The question behind each sentence that asks it."""
    return {question.ask: name for name, question in advisor().rule_base.questions.items()}


class Interviewing(RuleBasedStateMachine):
    """Answers, slips, back, changes, unknown, looking through, leaving and coming back; `told` is what must be kept."""

    def __init__(self) -> None:
        super().__init__()
        self.folder = tempfile.TemporaryDirectory(prefix="advisor-machine-")
        self.store = Store(Path(self.folder.name) / "kept")
        self.told: Told = {}
        self.advice: Advice | None = None
        self.last_advice: Advice | None = None
        self.may_ask: set[str] = set()
        self.in_dispute: set[str] = set()
        self.left_at: str | None = None
        self.asked_now: str | None = None
        self.interview: HeldInterview | None = None
        self.steps = 0

    @initialize(seed=st.integers(0, 10**6), share=st.sampled_from(SHARES))
    def begin(self, seed: int, share: float) -> None:
        """Begin with nothing, or with some or all answers of a random case."""
        random = Random(seed)
        case = consistent_answers(advisor(), random) if share else {}
        self.told = {name: given for name, given in case.items() if random.random() < share}
        self._open(answers=AnswerFile("Machine", dict(self.told)) if share else None)

    def _open(self, **how: object) -> None:
        self.interview = HeldInterview(lambda asker: run(
            advisor(), asker=asker, show_advice=self._keep_advice, store=self.store,
            title="Machine", **how))  # type: ignore[arg-type]
        self._heard()

    def _keep_advice(self, advice: Advice) -> None:
        self.advice = advice

    # -- where the person is

    @property
    def held(self) -> HeldInterview:
        assert self.interview is not None
        return self.interview

    @property
    def prompt(self) -> str:
        return self.held.line.prompt if self.held.line else ""

    @property
    def question(self) -> str | None:
        """The question being asked."""
        return self.asked_now if self.prompt == words.ANSWER_PROMPT else None

    def at_question(self) -> bool:
        return self.question is not None

    def at_review(self) -> bool:
        return self.prompt == words.REVIEW_PROMPT

    def ended(self) -> bool:
        return self.interview is not None and self.held.line is None

    # -- what a person does

    def _type(self, text: Typed) -> None:
        self.steps += 1
        self.left_at = None
        self.held.type(text)
        self._heard()

    def _heard(self) -> None:
        """Find the question that is asked now, and whether it may be: nothing answered is asked again by itself."""
        asked = [by_ask()[paragraph.text] for paragraph in self.held.shown
                 if paragraph.strong and paragraph.text in by_ask()]
        if asked:
            name = self.asked_now = asked[-1]
            if name in self.told and name not in self.may_ask:
                disputed = {one for found in advisor().consult(self.told).contradictions() for one in found.questions}
                self.in_dispute = self.in_dispute | disputed if disputed else disputed
                assert name in self.in_dispute, f"{name} was answered and is asked again"
        self.may_ask = set()
        if self.advice is not None:
            self._same_from_the_file()

    @precondition(at_question)
    @rule(random=st.randoms(use_true_random=False))
    def answer(self, random: Random) -> None:
        """Answer by number or quantity."""
        assert self.question is not None
        given = answering().one(self.question, random)
        self._say(self.question, given)

    @precondition(at_question)
    @rule(seed=st.integers(0, 10**6), count=st.integers(2, 9))
    def answer_several(self, seed: int, count: int) -> None:
        """Answer the next few questions, as most people do."""
        random = Random(seed)
        for _ in range(count):
            if self.question is not None:
                self._say(self.question, answering().one(self.question, random))
                self.everything_told_is_kept()

    @precondition(at_question)
    @rule()
    def unknown(self) -> None:
        """Say `I don't know`; refused where a question does not say what that means."""
        assert self.question is not None
        self._say(self.question, UNKNOWN)

    def _say(self, name: str, given: str | list[str]) -> None:
        before = self.told.get(name)
        numbers = {choice.id: str(number) for number, choice in enumerate(choices_of(
            advisor().rule_base, advisor().rule_base.questions[name]), 1)}
        if isinstance(given, str) and numbers and given not in numbers:  # a word that means no more than unknown
            given = UNKNOWN
        typed = [given] if isinstance(given, str) else given
        text = ", ".join(numbers.get(word, word) for word in typed)
        refused = not advisor().rule_base.questions[name].takes_unknown
        self.told[name] = given if advisor().rule_base.facts[name].kind != "several" or given == UNKNOWN else typed
        self._type(text)
        taken = any(paragraph.lead == "= " for paragraph in self.held.shown)
        assert taken != (given == UNKNOWN and refused), f"{name}: {text} was {'taken' if taken else 'refused'}"
        if not taken:
            self._put_back(name, before)

    def _put_back(self, name: str, before: str | list[str] | None) -> None:
        if before is None:
            del self.told[name]
        else:
            self.told[name] = before

    @precondition(at_question)
    @rule(text=st.sampled_from(SLIPS))
    def slip(self, text: str) -> None:
        """Type what is no answer to anything, or a question about the question; nothing may come of it."""
        assert self.question is not None
        if text == "" and self.question in self.told:
            self._type(text)  # keeps the earlier answer
            return
        name = self.question
        self._type(text)
        assert self.question == name
        assert not any(paragraph.lead == "= " for paragraph in self.held.shown), f"{name}: {text!r} was taken"

    @precondition(lambda self: self.at_question() or self.at_review())
    @rule()
    def back(self) -> None:
        """Go back; whatever comes before may be asked again."""
        self.may_ask = set(self.told)
        self._type("back")

    @precondition(at_question)
    @rule()
    def look_through(self) -> None:
        """Look at the answers in the middle; then the question that was left is asked again."""
        left_at = self.question
        self._type("review")
        assert self.at_review()
        self.left_at = left_at

    @precondition(at_review)
    @rule(place=st.integers(1, 60))
    def change(self, place: int) -> None:
        """Turn to an earlier answer."""
        listed = [paragraph for paragraph in self.held.shown if paragraph.lead.strip().isdigit()]
        if not listed:
            return
        self.may_ask = set(self.told)
        self._type(str((place - 1) % len(listed) + 1))
        assert self.at_question() and self.question in self.told

    @precondition(at_review)
    @rule()
    def go_on(self) -> None:
        """Leave the answers as they are: the next question, or the advice."""
        self.may_ask = {self.left_at} if self.left_at else set()
        self._type("")

    @precondition(lambda self: self.prompt in (words.ASK_PROMPT, words.ONWARD_PROMPT, words.WHICH_PROMPT))
    @rule(text=st.sampled_from(("", "", "step 1", "why not marble", "99")))
    def after_the_advice(self, text: str) -> None:
        """Ask about a line, or leave it at that."""
        self._type(text)

    @precondition(lambda self: self.prompt == words.ONWARD_PROMPT)
    @rule()
    def plan_what_follows(self) -> None:
        """Go on into the case that the advice offers; this one stays as it is."""
        assert self.last_advice is not None
        way = self.last_advice.onward[0]
        self.told = {**self.told, **way.answers}
        self._type("1")

    @precondition(lambda self: self.interview is not None and not self.ended())
    @rule(how=st.sampled_from(("quit", KeyboardInterrupt, EOFError)))
    def leave(self, how: Typed) -> None:
        """Leave by word, Ctrl-C or Ctrl-D."""
        COUNTED["left"] += 1
        self._type(how if self.at_question() or self.at_review() or how != "quit" else EOFError)

    @precondition(ended)
    @rule()
    def come_back(self) -> None:
        """Take the case up again from what was saved; where nothing was answered, nothing was."""
        self._open(resume=self.store.newest())

    # -- what must hold

    @invariant()
    def everything_told_is_kept(self) -> None:
        """What was acknowledged stands in the saved file, and nothing else."""
        if self.interview is None:
            return
        name = self.store.newest()
        kept = dict(self.store.load(name).answers) if name else {}
        assert kept == self.told, {key: (kept.get(key), self.told.get(key)) for key in {*kept, *self.told}
                                   if kept.get(key) != self.told.get(key)}

    def _same_from_the_file(self) -> None:
        """The advice that was shown is the advice of the saved file, in whatever order its answers stand."""
        shown, self.last_advice, self.advice = self.advice, self.advice, None
        name = self.store.newest()
        assert shown is not None and name is not None
        file = self.store.load(name)
        orders = [list(file.answers), list(reversed(file.answers)), sorted(file.answers)]
        for order in orders:
            case = advisor().consult({question: file.answers[question] for question in order}, file.title)
            assert case.advice().to_json() == shown.to_json()
        COUNTED["advice"] += 1

    def teardown(self) -> None:
        """End the interview and throw away what it saved."""
        if self.interview is not None:
            self.interview.end()
        COUNTED["steps"] += self.steps
        COUNTED["cases"] += 1
        self.folder.cleanup()
