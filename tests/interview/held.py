"""A small invented rule base, so that these tests do not move with the real one."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from pathlib import Path

from advisor.answer_file import AnswerFile
from advisor.consultation.advice import Advice
from advisor.consultation.consult import Advisor
from advisor.interview.scripted import ScriptedAsker
from advisor.interview.session import Outcome, run
from advisor.store import Store

# Everything here is invented for the tests and is no advice.
RULES = """
- source: common-practice
  title: Invented for tests
  kind: common-practice
- stage: screen
  label: First
  topics: [job]
- stage: choose
  label: Then
  topics: [choice]
- phase: work
  label: Work
- kind: way
  label: Way
  attributes: {}
- way: glue
  label: Glue it
  means: With glue.
  sources: [common-practice]
- way: nail
  label: Nail it
  means: With nails.
  sources: [common-practice]
- decision: method
  label: Method
  of: way
  stage: choose
  heads: yes
  if_none: {refer: a joiner}
- fact: goal
  label: Goal
  kind: choice
  values: {join: Join two boards, mend: Mend a broken board, ask_first: Something nobody may do alone}
- fact: wood
  label: Wood
  kind: choice
  values: {pine: Pine or another soft wood, oak: Oak or another hard wood, plywood: Plywood with a very long name that
    cannot stand on one line of a narrow terminal and therefore has to be wrapped, board: Chip board}
- fact: gap
  label: Gap
  kind: quantity
  unit: mm
  plausible: [0, 200]
- fact: length
  label: Length
  kind: quantity
  unit: mm
  plausible: [1, 10000]
- fact: warmth
  label: Warmth
  kind: quantity
  unit: C
  plausible: [-20, 60]
- fact: places
  label: Places
  kind: several
  values: {inside: "Dry, indoors", rain: Sun and rain, sea: Sea water, none_of_these: None of these}
- fact: clamps
  label: Clamps at hand
  kind: yes_no
"""
QUESTIONS = """
- question: goal
  ask: What do you want to do?
  why: Joining and mending differ.
  find_out: Look at the boards.
  essential: yes
- question: wood
  ask: Which wood is it?
  why: Hard wood holds nails, soft wood takes glue.
  find_out: Press a nail of your thumb into it.
  dont_know: {assume: pine, because: Soft wood is the careful guess., try_every: yes}
- question: gap
  ask: How wide is the gap?
  why: Glue fills little.
  find_out: Slide card into it.
  when: {goal: join}
  dont_know: {assume: 10 mm, because: An unmeasured gap is taken as wide.}
- question: length
  ask: How long is the board?
  why: A gap is not longer than the board.
  find_out: Use a tape.
  essential: yes
- question: warmth
  ask: How warm is the place?
  why: Glue needs warmth.
  find_out: Hang up a thermometer.
  when: {goal: join}
  dont_know: {home_test: Hang up a thermometer for an hour.}
- question: places
  ask: What will it be exposed to?
  why: Water swells wood.
  find_out: Think of the whole year.
  dont_know: {assume: rain}
- question: clamps
  ask: Have you clamps?
  why: Glue needs pressing.
  find_out: Look in the drawer.
  when: {goal: join}
  dont_know: {assume: no}
"""
LIMITS = """
- limit: gap_most
  label: Widest gap
  value: 5 mm
  sources: [common-practice]
- limit: cold
  label: Cold
  value: 10 C
  sources: [common-practice]
"""
JOB = """
- rule: job.not-alone
  says: This is not done alone.
  when: {goal: ask_first}
  then: [{stop: {turn_to: a joiner}}]
  because: Somebody would get hurt.
  sources: [common-practice]
- rule: job.gap-longer-than-board
  says: The gap is longer than the board.
  when: {gap: {above: length}}
  then: [{send_back: [gap, length]}]
  because: A gap of {gap} does not fit on {length}.
  sources: [common-practice]
"""
CHOICE = """
- rule: choice.wide-gap
  says: The {gap} is too wide for glue.
  when: {gap: {above: limit/gap_most}}
  then: [{oppose: {method: glue, strength: strong}}]
  because: Glue fills no gap of {gap}.
  sources: [common-practice]
- rule: choice.soft-wood
  says: Soft wood takes glue.
  when: {wood: {one_of: [pine, plywood, board]}}
  then: [{favour: {method: glue, strength: clear}}]
  because: It drinks glue.
  sources: [common-practice]
- rule: choice.hard-wood
  says: Hard wood holds nails.
  when: {wood: oak}
  then: [{favour: {method: nail, strength: clear}}]
  because: It grips.
  sources: [common-practice]
- rule: choice.cold
  says: Cold glue does not set.
  when: {warmth: {below: limit/cold}}
  then: [{oppose: {method: glue, strength: slight}}]
  because: It stays soft.
  sources: [common-practice]
- rule: choice.wet
  says: Water loosens glue.
  when: {places: {one_of: [rain, sea]}}
  then: [{oppose: {method: glue, strength: slight}}]
  because: It swells.
  sources: [common-practice]
- rule: choice.no-clamps
  says: Nothing presses the joint.
  when: {clamps: no}
  then: [{oppose: {method: glue, strength: slight}}]
  because: It opens.
  sources: [common-practice]
"""


def write_rules(folder: Path) -> Path:
    """The small rule base as a folder."""
    texts = {"all.yaml": RULES, "limits.yaml": LIMITS, "topics/job/questions.yaml": QUESTIONS,
             "topics/job/rules.yaml": JOB, "topics/choice/rules.yaml": CHOICE}
    for name, text in texts.items():
        path = folder / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8")
    return folder


@dataclass
class Interviews:
    """Holds scripted interviews on the small rule base."""

    advisor: Advisor
    store: Store
    shown: list[Advice] = field(default_factory=list)
    text: str = ""

    def hold(self, typed: Iterable[str], *, resume: str | None = None, goal: str | None = None,
             answers: AnswerFile | None = None, title: str | None = "Test job", width: int = 79) -> Outcome:
        """Hold one interview; `text` is then all that was shown."""
        asker = ScriptedAsker(typed, width)
        try:
            return run(self.advisor, asker=asker, show_advice=self.shown.append, store=self.store, resume=resume,
                       goal=goal, answers=answers, title=title)
        finally:
            self.text = asker.text

    def saved(self, name: str | None) -> dict[str, str | list[str]]:
        """The answers saved under a name."""
        assert name is not None
        return self.store.load(name).answers
