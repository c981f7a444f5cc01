"""Lines of the advice from conclusions: what holds for both faces alike is said once."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Generic, TypeVar

from advisor.consultation.evaluate import Evaluation
from advisor.consultation.texts import NOT_KNOWN, Texts
from advisor.engine.program import Firing
from advisor.knowledge.model import Form

FormType = TypeVar("FormType", bound=Form)
_ANY_NAME = "\0"
_BESIDE_TEXT = frozenset({"line", "does", "phase", "order", "verdict", "strength"})


@dataclass(frozen=True)
class Line(Generic[FormType]):
    """A conclusion with the firings behind it (the first one speaks), and what its bound names are called."""

    firings: tuple[Firing, ...]
    form: FormType
    names: Mapping[str, str]

    @property
    def firing(self) -> Firing:
        """The firing whose words are used."""
        return self.firings[0]

    def fill(self, texts: Texts, text: str) -> str:
        """A text of the conclusion, filled in."""
        return texts.fill(text, self.firing.rule.binding, self.names)

    def fill_optional(self, texts: Texts, text: str | None) -> str | None:
        """The same for a text that may be absent."""
        return None if text is None else self.fill(texts, text)

    def fill_if_known(self, texts: Texts, text: str | None) -> str | None:
        """The same, and None where a fact that the text names is not known."""
        filled = self.fill_optional(texts, text)
        return None if filled is None or NOT_KNOWN in filled else filled


def lines_of(result: Evaluation, form: type[FormType], texts: Texts) -> Iterator[Line[FormType]]:
    """The conclusions of one form; instances of a rule that say the same of several facts become one line."""
    groups: dict[tuple[int, tuple[str, ...]], list[tuple[Firing, FormType]]] = {}
    for firing, line in result.conclusions(form):
        binding = firing.rule.binding
        said = tuple(texts.fill(text, binding, dict.fromkeys(binding.facts, _ANY_NAME))
                     for text in (*_texts(line), firing.rule.rule.because)) if binding.bound else ()
        groups.setdefault((id(line), said), []).append((firing, line))
    for members in groups.values():
        firings = tuple(firing for firing, _ in members)
        yield Line(firings, members[0][1], _joined_names(firings, texts))


def _texts(line: Form) -> list[str]:
    return [text for name, text in line.words.items() if name not in _BESIDE_TEXT]


def _joined_names(firings: tuple[Firing, ...], texts: Texts) -> dict[str, str]:
    """`Part A and part B` where a name stands for both."""
    names: dict[str, str] = {}
    for name in firings[0].rule.binding.facts:
        labels = list(dict.fromkeys(texts.label(firing.rule.binding.facts[name]) for firing in firings))
        rest = [label[:1].lower() + label[1:] for label in labels[1:]]
        names[name] = " and ".join([labels[0], *rest])
    return names
