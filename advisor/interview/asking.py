"""After the advice: any line can be asked about, and why something else was not chosen."""

from __future__ import annotations

import os
import re
from collections.abc import Sequence
from difflib import get_close_matches
from functools import cached_property
from typing import TypeVar

from advisor.consultation.advice import Advice
from advisor.consultation.consult import Consultation
from advisor.consultation.explain import Explainer, Reason
from advisor.consultation.spoken import Said
from advisor.consultation.vary import Varied, vary
from advisor.consultation.vary_words import told
from advisor.consultation.why_not import NotChosen, instead, names_not_chosen, not_chosen, why_not
from advisor.interview import present, what_if, words
from advisor.interview.asker import BLANK, Asker, Line, Paragraph
from advisor.interview.reading import LONGEST_LINE, tidy

MOST_LISTED = 9
Thing = TypeVar("Thing")
_STEP = re.compile(r"(?:why (?:not )?)?step\s+(?:number\s+)?(\d{1,5})")


class Asking:
    """Answers questions about one advice until nothing more is asked."""

    def __init__(self, asker: Asker, consultation: Consultation, advice: Advice) -> None:
        self._asker, self._consultation, self._advice = asker, consultation, advice
        self._told: Sequence[Reason] = ()
        self._depth = 0
        self._next = ""

    @cached_property
    def _explainer(self) -> Explainer:
        return Explainer(self._consultation, self._advice)

    @cached_property
    def _varied(self) -> list[Varied]:
        self._say(words.TRYING)
        return vary(self._consultation, processes=os.cpu_count() or 1)

    def hold(self) -> None:
        """Answer until Enter, or until the person leaves; the advice stands either way."""
        self._asker.show(BLANK)
        self._say(words.ASK_ABOUT)
        try:
            while typed := tidy(self._asker.read(Line(words.ASK_PROMPT))):
                while typed:
                    typed = self._answer(typed)
        except (KeyboardInterrupt, EOFError):
            return

    def _answer(self, typed: str) -> str:
        """Answer one question; what was typed instead of the number of a line is the next."""
        folded = typed.casefold().rstrip("?").strip()
        self._next = ""
        if len(typed) > LONGEST_LINE:
            self._say(words.ASK_TOO_LONG)
        elif folded == words.MORE:
            self._show(self._depth + 1)
        elif folded == words.ASK_VERDICT:
            self._tell([one for one in self._explainer.lines if one.part == "verdict"][0])
        elif step := _STEP.fullmatch(folded):
            self._step(step[1])
        elif folded.startswith(words.WHY_NOT):
            self._why_not(folded.removeprefix(words.WHY_NOT).strip())
        elif folded in words.WHAT_DECIDES:
            for depth, line in told(self._varied, self._consultation.rule_base, MOST_LISTED):
                self._asker.show(Paragraph(line, indent=2 * depth))
        elif folded.startswith(words.WHAT_IF):
            self._what_if(typed[len(words.WHAT_IF):].strip(" ?"))
        elif len(folded) < 2:
            self._say(words.ASK_AGAIN)
        else:
            self._line(folded, self._explainer.lines_with(folded.removeprefix("why ")))
        return self._next

    def _step(self, number: str) -> None:
        steps = [one for one in self._explainer.lines if one.part == "step"]
        found = [one for one in steps if one.text.startswith(f"{int(number)}. ")]
        if found:
            self._tell(found[0])
        else:
            self._say(words.no_such_step(number, len(steps)))

    def _line(self, typed: str, found: Sequence[Said]) -> None:
        if not found:
            texts = {said.text.casefold(): said.text for said in self._explainer.lines}
            near = get_close_matches(typed, texts, 2, 0.4)
            self._say(words.no_such_line(typed.strip(), [texts[one] for one in near]), words.ASK_AGAIN)
            return
        said = self._picked([f"{one.part.capitalize()}: {one.text}" for one in found], found)
        if said is not None:
            self._tell(said)

    def _tell(self, said: Said) -> None:
        self._asker.show(Paragraph(said.text, strong=True))
        self._told = self._explainer.explain(said)
        self._show(0)

    def _why_not(self, name: str) -> None:
        rule_base = self._consultation.rule_base
        choices = self._explainer.result.choices
        asides = list(instead(choices, name, rule_base)) if name else []
        found = not_chosen(choices.values(), name, rule_base) if name else []
        self._say(*asides)
        if not found:
            if not asides:
                self._say(words.not_named(name, names_not_chosen(choices.values())))
            return
        one: NotChosen | None = self._picked([other.named for other in found], found)
        if one is not None:
            self._told = ()
            for reason in why_not(self._explainer, one, self._varied):
                self._asker.show(Paragraph(reason.with_source(rule_base), indent=2 * reason.depth))

    def _what_if(self, typed: str) -> None:
        found, rest = what_if.named(self._consultation, typed)
        facts = self._consultation.rule_base.facts
        if not found:
            self._say(words.no_such_answer(typed, [
                facts[name].label for name in self._explainer.result.asked]))
            return
        question = self._picked([facts[one.question].label for one in found], found)
        if question is not None:
            what_if.tell(self._asker, self._consultation, question, rest)

    def _picked(self, labels: Sequence[str], things: Sequence[Thing]) -> Thing | None:
        """The one meant, asked for where there are several; another question in place of a number is kept."""
        if len(things) == 1:
            return things[0]
        self._say(words.ASK_WHICH)
        for paragraph in present.listed(labels[:MOST_LISTED]):
            self._asker.show(paragraph)
        if len(labels) > MOST_LISTED:
            self._say(words.more_lines(len(labels) - MOST_LISTED))
        most = min(len(things), MOST_LISTED)
        while typed := tidy(self._asker.read(Line(words.WHICH_PROMPT))):
            if not (typed.isascii() and typed.isdigit()):
                self._next = typed
                return None
            if len(typed) < LONGEST_LINE and 1 <= int(typed) <= most:
                return things[int(typed) - 1]
            self._say(words.which_again(most))
        return None

    def _show(self, depth: int) -> None:
        """The explanation so deep, and how much more lies behind it."""
        self._depth = depth
        if depth > max((reason.depth for reason in self._told), default=0):
            self._say(words.NOTHING_DEEPER)
            return
        for reason in self._told:
            if reason.depth <= depth:
                also = "Besides: " if reason.also else ""
                told = also + reason.with_source(self._consultation.rule_base)
                self._asker.show(Paragraph(told, indent=2 + 2 * reason.depth))
        more = sum(reason.depth > depth for reason in self._told)
        if more:
            self._say(words.deeper(more))

    def _say(self, *texts: str) -> None:
        for text in texts:
            self._asker.show(Paragraph(text))
