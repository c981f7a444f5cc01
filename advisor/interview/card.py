"""A short interview that fills a product card from the maker's sheet."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

from advisor.errors import InputError
from advisor.interview import card_words, words
from advisor.interview.asker import BLANK, Asker, Line, Paragraph
from advisor.interview.card_draft import YES_NO, CardDraft, echo, joined, parts_of, product_name, taken_as
from advisor.interview.present import fault, listed
from advisor.interview.reading import LONGEST_LINE, Choice, chosen, command, tidy
from advisor.knowledge import model as m
from advisor.knowledge.numbers import Number
from advisor.knowledge.product_card import (
    MOST_HAZARDS,
    card_kinds,
    fields_of,
    queries_of,
    read_hazard,
    read_value,
    refuse_crossed,
)
from advisor.knowledge.rulebase import Material, RuleBase
from advisor.units import format_range
from advisor.units.spelling import find_unit

PRODUCT, KIND, FAMILY, HAZARDS = "product", "kind", "family", "hazards"
_HINTED = 2


class Back(Exception):  # noqa: N818
    """The person wants the question before."""


class Leave(Exception):  # noqa: N818
    """The person wants to stop."""


class CardInterview:
    """Asks for a card, question by question; `draft` holds what was typed."""

    def __init__(self, rule_base: RuleBase, asker: Asker) -> None:
        self._rule_base, self._asker = rule_base, asker
        self.draft = CardDraft()
        self._hints = _HINTED

    def hold(self) -> CardDraft | None:
        """Ask for everything; None when the person leaves before the card is finished."""
        self._say(Paragraph(card_words.WELCOME))
        place = 0
        try:
            while True:
                steps = self._steps()
                try:
                    if place == len(steps):
                        if self._finished():
                            return self.draft
                        place -= 1
                    else:
                        self._ask(place, steps)
                        place += 1
                except Back:
                    if place == 0:
                        self._say(Paragraph(card_words.FIRST, indent=2))
                    place = max(place - 1, 0)
        except (Leave, KeyboardInterrupt, EOFError):
            self._say(BLANK, Paragraph(card_words.LEFT))
            return None

    # -- what is asked

    @property
    def _kind(self) -> m.Kind | None:
        return self._rule_base.kinds.get(self.draft.named.get(KIND, ""))

    @property
    def _family(self) -> Material | None:
        things = self._rule_base.materials.get(self.draft.named.get(KIND, ""), {})
        return things.get(self.draft.named.get(FAMILY, ""))

    def _steps(self) -> list[str]:
        """The questions in order; those for numbers are known once the kind is."""
        fields = [name for name, form in fields_of(self._kind).items() if form.where_on_sheet] if self._kind else []
        return [PRODUCT, KIND, FAMILY, *fields, HAZARDS]

    def _ask(self, place: int, steps: Sequence[str]) -> None:
        self._say(BLANK, Paragraph(card_words.progress(place + 1, len(steps) if self._kind else 0)))
        name = steps[place]
        if name == PRODUCT:
            self._named(name, card_words.PRODUCT, card_words.PRODUCT_HINT, product_name)
        elif name == KIND:
            kinds = {id_: self._rule_base.kinds[id_].label for id_ in card_kinds(self._rule_base)}
            self._one_of(name, card_words.KIND, "", kinds)
        elif name == FAMILY:
            things = self._rule_base.materials[self.draft.named[KIND]]
            hint = self._kind.family_on_sheet if self._kind else None
            self._one_of(name, card_words.FAMILY, f"{hint or ''} {card_words.FAMILY_REST}".strip(),
                         {id_: thing.thing.label for id_, thing in things.items()})
        elif name == HAZARDS:
            self._hazards()
        else:
            self._value(name)

    def _one_of(self, name: str, ask: str, hint: str, labels: dict[str, str]) -> None:
        choices = [Choice(id_, label) for id_, label in labels.items()]
        before = self.draft.named.get(name)
        self._named(name, ask, hint, lambda text: str(chosen(text, choices, False)), choices)
        if name == KIND and before not in (None, self.draft.named[KIND]):
            self.draft.named.pop(FAMILY, None)
            self.draft.values.clear()

    def _named(self, name: str, ask: str, hint: str, read: Callable[[str], str],
               choices: Sequence[Choice] = ()) -> None:
        """One of the three words that name the product; it cannot be left out."""
        self._say(Paragraph(ask, strong=True), *listed([choice.label for choice in choices]))
        earlier = self.draft.named.get(name)
        if earlier:
            label = next((choice.label for choice in choices if choice.id == earlier), earlier)
            self._say(Paragraph(words.earlier(label)))
        elif hint:
            self._say(Paragraph(hint))

        def take(text: str) -> None:
            if not text and not earlier or command(text, choices) == words.UNKNOWN:
                raise InputError(card_words.NEEDED, help=card_words.NEEDED_HELP)
            if text:
                self.draft.named[name] = read(text)

        self._until_taken(Line(words.ANSWER_PROMPT, [choice.label for choice in choices]), take, hint, choices)

    def _value(self, name: str) -> None:
        """One number or word of the sheet; it may be left out."""
        assert self._kind is not None
        form = self._kind.attributes[name]
        labels = form.values if form.kind == "choice" else YES_NO if form.kind == "yes_no" else {}
        choices = [Choice(id_, label) for id_, label in labels.items()]
        self._say(Paragraph(form.label, strong=True), Paragraph(form.where_on_sheet or ""),
                  *listed([choice.label for choice in choices]))
        earlier = self.draft.values.get(name)
        if earlier is not None:
            self._say(Paragraph(card_words.kept(joined(earlier))))
        elif form.kind == "quantities" or not choices and self._hints > 0:
            self._hints -= 1
            self._say(Paragraph(self._how(form)))

        def take(text: str) -> None:
            if text and command(text, choices) != words.UNKNOWN:
                self._take(name, form, str(chosen(text, choices, False)) if choices else text)
            elif text or earlier is None:
                self.draft.values.pop(name, None)
                self._say(Paragraph(card_words.LEFT_OUT, indent=2))

        line = Line(words.ANSWER_PROMPT, [choice.label for choice in choices],
                    taken_as=lambda text: "" if choices else taken_as(name, text, form))
        self._until_taken(line, take, self._help(name, form), choices)

    def _take(self, name: str, form: m.Attribute, text: str) -> None:
        given: str | list[str] = parts_of(text) if form.kind == "quantities" else text
        value = read_value(name, given, form, None)
        if self._kind:
            known = {other: read_value(other, typed, self._kind.attributes[other], None)
                     for other, typed in self.draft.values.items() if other in self._kind.attributes}
            refuse_crossed(name, {**known, name: value}, self._kind, None)
        self.draft.values[name] = given
        self._say(Paragraph(echo(given, value, form), indent=2))
        if self._family and self._kind:
            self._say(*(Paragraph(query, indent=2, strong=True)
                        for query in queries_of({name: value}, self._family, self._kind)))

    def _hazards(self) -> None:
        """The maker's warnings one at a time until Enter; those of an earlier round stay."""
        where = self._kind.hazards_on_sheet if self._kind else None
        hint = f"{where or ''} {card_words.HAZARD_END}".strip()
        self._say(Paragraph(card_words.HAZARD, strong=True), Paragraph(hint))
        more = True

        def take(text: str) -> None:
            nonlocal more
            more = bool(text) and command(text) != words.UNKNOWN and len(self.draft.hazards) < MOST_HAZARDS
            if more and (line := read_hazard(text, None)) not in self.draft.hazards:
                self.draft.hazards.append(line)

        while more:
            self._until_taken(Line(words.ANSWER_PROMPT), take, hint)

    # -- the talk

    def _until_taken(self, line: Line, take: Callable[[str], None], help_text: str,
                     choices: Sequence[Choice] = ()) -> None:
        """Read lines until one is taken as the answer.

        Raises:
            Back, Leave: when the person turns elsewhere.
        """
        while True:
            text = tidy(self._asker.read(line))
            match command(text, choices):
                case words.BACK:
                    raise Back
                case words.QUIT:
                    raise Leave
                case words.HELP | words.WHY:
                    self._say(Paragraph(help_text or card_words.NEEDED_HELP, indent=2))
                    continue
            try:
                if len(text) > LONGEST_LINE:
                    raise InputError(words.TOO_LONG, help=card_words.SHORTER)
                take(text)
                return
            except InputError as error:
                self._say(*fault(error, choices))

    def _finished(self) -> bool:
        """Show the card and hear whether it is to be saved; False to go back."""
        if not self.draft.values:
            self._say(BLANK, Paragraph(card_words.NO_VALUES, strong=True))
        else:
            self._say(BLANK, Paragraph(card_words.shown(list(self.draft.values)), strong=True), *self._reviewed(),
                      Paragraph(card_words.SAVE))
        while True:
            text = tidy(self._asker.read(Line(card_words.SAVE_PROMPT, words=("back", "quit"))))
            if command(text) == words.QUIT:
                raise Leave
            if command(text) == words.BACK:
                return False
            if not text and self.draft.values:
                return True
            self._say(Paragraph(card_words.SAVE_AGAIN if self.draft.values else card_words.NO_VALUES, indent=2))

    def _reviewed(self) -> Iterator[Paragraph]:
        assert self._kind is not None
        for name, given in self.draft.values.items():
            form = self._kind.attributes[name]
            shown = form.values.get(str(given)) or joined(given)
            yield Paragraph(f"{form.label}: {shown}", indent=2)

    def _how(self, form: m.Attribute) -> str:
        example = find_unit(form.unit or "fraction")[0].examples[0] if form.unit not in (None, "fraction") else "100"
        return card_words.how_to_measure(example, form.kind == "quantities")

    def _help(self, name: str, form: m.Attribute) -> str:
        usual = self._family.values.get(name) if self._family else None
        told = [form.where_on_sheet or ""]
        if isinstance(usual, Number):
            told.append(card_words.usual(format_range(usual.low, usual.value, usual.high, usual.unit)))
        return " ".join([*told, "" if form.kind in ("choice", "yes_no") else self._how(form)]).strip()

    def _say(self, *paragraphs: Paragraph) -> None:
        for paragraph in paragraphs:
            self._asker.show(paragraph)
