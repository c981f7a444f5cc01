"""Which words of the trade a text uses, and what they mean."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping

from advisor.knowledge.model import Term

Found = tuple[Term, tuple[str, ...]]


def terms_in(texts: Iterable[str], terms: Mapping[str, Term]) -> list[Found]:
    """The terms that stand in the texts as whole words, plurals too, by label, each once.

    With each come the other names of it that were met. Where one name stands inside another (`ply` in
    `peel ply`) only the longer is meant; one written in capitals must be met in capitals.
    """
    named: dict[str, list[Term]] = {}
    for term in terms.values():
        for name in (term.label, *term.also):
            named.setdefault(name, []).append(term)
    names = sorted(named, key=lambda name: -len(name))
    met = _met("\n".join(texts), names)
    found = {term.term: term for name in met for term in named[name]}
    return [(term, tuple(name for name in term.also if name in met))
            for term in sorted(found.values(), key=lambda term: (term.label.casefold(), term.term))]


def _met(text: str, names: list[str]) -> set[str]:
    if not names:
        return set()
    pattern = re.compile(rf"(?<!\w)(?:{'|'.join(f'({_as_written(name)})' for name in names)})(?:e?s)?(?!\w)")
    return {names[(match.lastindex or 1) - 1] for match in pattern.finditer(text)}


def _as_written(name: str) -> str:
    """A pattern for a name: words apart or hyphenated, small or capital unless all in capitals."""
    words = r"[ \-]+".join(re.escape(part) for part in re.split(r"[\s-]+", name) if part)
    capitals = "" if len(name) > 1 and name.isupper() else "i"
    return f"(?{capitals}:{words})"
