"""The one object that every front end uses: answers in; questions, facts and advice out."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from functools import cached_property
from importlib import import_module
from pathlib import Path
from typing import TYPE_CHECKING

from advisor import calculators
from advisor.consultation import agenda
from advisor.consultation.advice import Advice, Pivot
from advisor.consultation.agenda import Contradiction
from advisor.consultation.answers import Answer, Raw, read_answer, read_answers
from advisor.consultation.choices import Weighed
from advisor.consultation.evaluate import Evaluation, Evaluator
from advisor.consultation.facts import Value
from advisor.consultation.texts import System, Texts
from advisor.engine.compile import compile_rules
from advisor.engine.program import Chainer, Programs
from advisor.errors import InputError
from advisor.knowledge.load import load_rule_base
from advisor.knowledge.model import Question, Rule, SendBack
from advisor.knowledge.rulebase import RuleBase

if TYPE_CHECKING:
    from advisor.engine.infer import DurableChainer
    from advisor.knowledge.product_card import ProductCard

UNTITLED = "Untitled job"
LONGEST_TITLE = 120


class Advisor:
    """A rule base made ready to consult; build it once and use it for many consultations."""

    def __init__(self, rule_base: RuleBase, chainer: Chainer | None = None,
                 cards: Sequence[ProductCard] = ()) -> None:
        at_hand: tuple[Weighed, ...] = ()
        if cards:
            from advisor.consultation import products
            from advisor.knowledge.product_card import with_cards
            rule_base = with_cards(rule_base, cards)
            at_hand = tuple(products.at_hand(rule_base, cards))
        self.rule_base, self.cards = rule_base, tuple(cards)
        programs = compile_rules(rule_base)
        self._durable: DurableChainer | None = None
        if chainer is None:
            from advisor.engine.infer import DurableChainer
            chainer = self._durable = DurableChainer(programs)
        self.evaluator = Evaluator(rule_base, programs, chainer, at_hand)

    @cached_property
    def outline(self) -> tuple[RuleBase, Programs]:
        """The rules and computations on which depends what a case comes to: its end, the choices, margins, today."""
        from advisor.consultation.outline import outlined
        return outlined(self.rule_base, self.evaluator.programs)

    @classmethod
    def from_folder(cls, folder: Path | str | None = None, cards: Iterable[Path | str] = ()) -> Advisor:
        """Load a rules folder (the one that comes with the program when none is named) and product cards.

        Raises:
            KnowledgeError: listing everything wrong in the folder.
            InputError: what is wrong with a card.
        """
        rule_base = load_rule_base(folder, examples=False)
        paths = list(cards)
        if not paths:
            return cls(rule_base)
        from advisor.knowledge.product_card import read_card
        return cls(rule_base, cards=[read_card(path, rule_base) for path in paths])

    def prepare(self) -> Iterator[None]:
        """Load and build, bit by bit, what the first answers and the first advice would otherwise wait for."""
        for name in calculators.MODULES:
            yield
            import_module(f"{calculators.__name__}.{name}")
        if self._durable is not None:
            yield from self._durable.prepare()
        for name in ("assemble", "tried"):
            yield
            import_module(f"advisor.consultation.{name}")

    def consult(self, answers: Mapping[str, Raw] | None = None, title: str = UNTITLED,
                units: System | None = None, places: Mapping[str, str] | None = None) -> Consultation:
        """Begin a consultation, with answers as typed where there are any.

        Raises:
            InputError: naming every answer that cannot be used.
        """
        consultation = Consultation(self, title, units)
        consultation.answers.update(read_answers(self.rule_base, answers or {}, places))
        return consultation


class Consultation:
    """One person's case. Every change of an answer means a fresh evaluation."""

    def __init__(self, advisor: Advisor, title: str = UNTITLED, units: System | None = None) -> None:
        self.advisor = advisor
        self.rule_base = advisor.rule_base
        self.evaluator = advisor.evaluator
        self.title = title
        self.units = units
        self.answers: dict[str, Answer] = {}
        self._seen: tuple[dict[str, Answer], Evaluation] | None = None

    @cached_property
    def outliner(self) -> Evaluator:
        """Evaluates only what the case comes to, in about half the time."""
        return self.evaluator.outlined(*self.advisor.outline)

    # -- answering

    def answer(self, question: str, given: Raw) -> Answer:
        """Take an answer as typed.

        Raises:
            InputError: with what would be right; the earlier answer stays.
        """
        answer = read_answer(self.rule_base, question, given)
        self.answers[question] = answer
        return answer

    def forget(self, question: str) -> None:
        """Take an answer back."""
        self.answers.pop(question, None)

    @property
    def system(self) -> System:
        """The units for texts: as asked for, else the system most answers were typed in."""
        if self.units:
            return self.units
        counts = Counter(answer.system for answer in self.answers.values())
        return "us" if counts["us"] > counts["metric"] else "metric"

    # -- asking

    def so_far(self) -> Evaluation:
        """The evaluation of the answers given so far."""
        if self._seen is None or self._seen[0] != self.answers:
            result = self.evaluator.evaluate(self.answers, final=False, system=self.system)
            self._seen = dict(self.answers), result
        return self._seen[1]

    def next_question(self) -> Question | None:
        """The next question that matters; None when all are answered or the case has ended in a stop."""
        if self.so_far().ended_by is not None:
            return None
        waiting = agenda.open_questions(self.rule_base, self.so_far())
        return waiting[0] if waiting else None

    def about_how_many_more(self) -> int:
        """An estimate of the questions still to come."""
        return agenda.about_how_many(self.rule_base, self.so_far())

    def relevant_answers(self) -> list[Answer]:
        """The answers that matter for the case, in the order of asking."""
        asked = self.so_far().asked
        return [self.answers[q.question] for q in self.rule_base.questions_in_order
                if q.question in asked and q.question in self.answers]

    def unused_answers(self) -> list[str]:
        """The questions that were answered but do not matter for the case; the answers are not used."""
        asked = self.so_far().asked
        return [name for name in self.answers if name not in asked]

    def waiting_rules(self, question: str) -> list[Rule]:
        """The rules that read the answer to a question."""
        return agenda.rules_waiting_for(self.rule_base, question)

    def contradictions(self) -> list[Contradiction]:
        """Answers that cannot all be right."""
        return self._contradictions(self.so_far())

    def _contradictions(self, result: Evaluation) -> list[Contradiction]:
        texts = self.texts_of(result)
        found = {firing.rule.rule.rule: Contradiction(
            firing.rule.rule.rule, texts.fill(firing.rule.rule.says, firing.rule.binding),
            texts.fill(firing.rule.rule.because, firing.rule.binding), line.questions)
            for firing, line in result.contradictions()}
        return list(found.values())

    # -- advising

    def advice(self) -> Advice:
        """The advice for the answers given; a question not answered counts as `I don't know`.

        Raises:
            InputError: when answers contradict each other.
        """
        from advisor.consultation.assemble import Assembler  # an interview starts sooner without what only advice needs
        result = self.concluded()
        self._refuse_contradictions(result)
        pivots = tuple(self._pivot(name, result) for name in result.assumed
                       if (told := self.rule_base.questions[name].dont_know) and told.try_every == "yes")
        return Assembler(self.rule_base, result, self.answers, self.title, self.system,
                         self.advisor.cards).advice(pivots)

    def concluded(self) -> Evaluation:
        """The evaluation that the advice rests on."""
        return self.evaluator.conclude(self.answers, self.system)

    def _refuse_contradictions(self, result: Evaluation) -> None:
        found = self._contradictions(result)
        if found:
            first, *rest = found
            more = "".join(f"\n{', '.join(c.questions)}: {c.says}" for c in rest)
            raise InputError(f"these answers contradict each other: {first.says.rstrip('.')}",
                             ", ".join(first.questions), first.because + more)

    def texts_of(self, result: Evaluation) -> Texts:
        """Texts filled from one evaluation of this case, in its units."""
        return Texts(self.rule_base, result.facts, self.system)

    def _pivot(self, name: str, result: Evaluation) -> Pivot:
        """What each possible answer to a question nobody could answer would have led to."""
        from advisor.consultation.tried import numbers_to_try
        question, texts = self.rule_base.questions[name], self.texts_of(result)
        numeric = self.rule_base.facts[name].kind in ("quantity", "count")
        values: list[Value] = list(numbers_to_try(self.evaluator, name) if numeric
                                   else self.rule_base.values_of(self.rule_base.facts[name]))
        outcomes = {texts.value(name, value): self._outcome(name, value, result, texts) for value in values}
        told = question.dont_know
        return Pivot(question=name, ask=question.ask, matters=len(set(outcomes.values())) > 1, outcomes=outcomes,
                     find_out=(told.home_test if told else None) or question.find_out)

    def _outcome(self, name: str, value: Value, result: Evaluation, texts: Texts) -> str:
        from advisor.consultation.tried import led_to, where_it_leads
        if value == result.facts.value(name) and not result.conclusions(SendBack):
            led = led_to(self.rule_base, result, self.system)  # what was assumed is evaluated already
        else:
            answers = {**self.answers, name: Answer(name, str(value), value)}
            led = where_it_leads(self.outliner, answers, self.system)
        if led.ended:
            return {"send_back": "contradicts another answer"}.get(led.ended, "stop and refer")
        return ", ".join(texts.value(decision, chosen) for decision, chosen in led.chosen
                         if self.rule_base.decisions[decision].weight)
