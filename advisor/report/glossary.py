"""Which words of the trade a text uses, and what they mean."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping

from advisor.knowledge.model import Term


def terms_in(texts: Iterable[str], terms: Mapping[str, Term]) -> list[Term]:
    """The terms that stand in the texts as whole words, plurals too, and those that explain them; by label.

    Where one term stands inside another (`ply` in `peel ply`), only the longer one is meant. An abbreviation
    in capitals must be written in capitals.
    """
    finder = _Finder(terms)
    found: dict[str, Term] = {}
    waiting = list(finder.in_texts(texts))
    while waiting:
        term = waiting.pop()
        if term.term not in found:
            found[term.term] = term
            waiting += finder.in_texts([term.means])
    return sorted(found.values(), key=lambda term: (term.label.casefold(), term.term))


class _Finder:
    def __init__(self, terms: Mapping[str, Term]) -> None:
        spelled = [(name, term) for term in terms.values() for name in (term.label, *term.also)]
        spelled.sort(key=lambda item: -len(item[0]))
        self._terms = [term for _, term in spelled]
        self._pattern = re.compile("|".join(f"({_as_written(name)})" for name, _ in spelled)) if spelled else None

    def in_texts(self, texts: Iterable[str]) -> Iterator[Term]:
        for text in texts:
            for match in self._pattern.finditer(text) if self._pattern else ():
                yield self._terms[(match.lastindex or 1) - 1]


def _as_written(name: str) -> str:
    parts = (re.escape(part) for part in re.split(r"[\s-]+", name) if part)
    capitals = "" if len(name) > 1 and name.isupper() else "i"
    words = r"[\s-]+".join(parts) + r"(?:e?s)?"
    return rf"(?<!\w)(?{capitals}:{words})(?!\w)"
