"""Which words of the trade a text uses, and what they mean."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from functools import lru_cache
from itertools import groupby

from advisor.knowledge.model import Term

Found = tuple[Term, tuple[str, ...]]

_ENDINGS = ("", "s", "es")


def terms_in(texts: Iterable[str], terms: Mapping[str, Term]) -> list[Found]:
    """The terms that stand in the texts as whole words, plurals too, by label, each once.

    With each come the other names of it that were met. Where one name stands inside another (`ply` in
    `peel ply`) only the longer is meant; one written in capitals must be met in capitals.
    """
    named: dict[str, list[Term]] = {}
    for term in terms.values():
        for name in (term.label, *term.also):
            named.setdefault(name, []).append(term)
    met = _met("\n".join(texts), tuple(named))
    found = {term.term: term for name in met for term in named[name]}
    return [(term, tuple(name for name in term.also if name in met))
            for term in sorted(found.values(), key=lambda term: (term.label.casefold(), term.term))]


def _met(text: str, names: tuple[str, ...]) -> set[str]:
    by_key: dict[str, list[str]] = {}
    for name in names:
        by_key.setdefault(_key(name), []).append(name)
    small = _small(text)
    written = {(_key(match[0]), text[match.start():match.end()]) for match in _pattern(names).finditer(small)}
    return {name for found, as_met in written for ending in _ENDINGS if found.endswith(ending)
            for name in by_key.get(found.removesuffix(ending), ()) if not _in_capitals(name) or name in as_met}


@lru_cache(maxsize=4)
def _pattern(names: tuple[str, ...]) -> re.Pattern[str]:
    """One pattern for all names, the longest first, parted by first letter: the search looks at few at a time."""
    keys = sorted(filter(None, map(_key, names)), key=lambda key: (key[0], -len(key)))
    groups = (f"{re.escape(first)}(?:{'|'.join(_rest(key) for key in group)})"
              for first, group in groupby(keys, key=lambda key: key[0]))
    return re.compile(rf"(?<!\w)(?:{'|'.join(groups) or '(?!)'})(?:e?s)?(?!\w)")


def _rest(key: str) -> str:
    return re.escape(key[1:]).replace(r"\ ", r"[ \-]+")


def _key(name: str) -> str:
    """A name in small letters, its words parted by single blanks: words apart or hyphenated are alike."""
    return " ".join(re.split(r"[\s-]+", _small(name))).strip()


def _in_capitals(name: str) -> bool:
    return len(name) > 1 and name.isupper()


def _small(text: str) -> str:
    """Small letters, place by place, so that what is found in them can be looked up in `text`."""
    small = text.lower()
    return small if len(small) == len(text) else "".join(
        low if len(low := letter.lower()) == 1 else letter for letter in text)
