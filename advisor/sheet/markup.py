"""HTML written so that no text can become markup: whatever is not Markup is escaped."""

from __future__ import annotations

import html
import re
import unicodedata
from collections.abc import Iterable

_EMPTY = frozenset({"meta", "input", "br", "hr", "col"})
_UNPRINTABLE = frozenset({"Cc", "Cs", "Cn"})
# Signs that turn the direction of what follows; an answer must not turn the text around it.
_TURNING = dict.fromkeys((0x200E, 0x200F, 0x061C, *range(0x202A, 0x202F), *range(0x2066, 0x206A)))
_SPACE = re.compile(r"\s+")


class Markup(str):
    """Text that is HTML already."""


Child = str | Markup | None | Iterable["Child"]


def clean(text: str) -> str:
    """A text without control signs and without signs that turn the direction of writing."""
    turned = text.translate(_TURNING)
    return "".join(map(_printable, turned))


def _printable(sign: str) -> str:
    return sign if sign in "\n\t" or unicodedata.category(sign) not in _UNPRINTABLE else "\N{REPLACEMENT CHARACTER}"


def escaped(text: str) -> Markup:
    """A text with everything that HTML would obey taken literally, between tags or inside an attribute."""
    return Markup(html.escape(clean(text), quote=True))


def joined(*children: Child) -> Markup:
    """The children one after the other; texts escaped, None left out."""
    return Markup("".join(_written(child) for child in children))


def _written(child: Child) -> str:
    if child is None:
        return ""
    if isinstance(child, Markup):
        return child
    return escaped(child) if isinstance(child, str) else joined(*child)


def tag(name: str, /, *children: Child, **attributes: str | bool | None) -> Markup:
    """An element. `class_` is `class`, `data_key` is `data-key`; True writes the bare name, None and False nothing."""
    opening = f"<{name}{''.join(_attribute(*one) for one in attributes.items())}>"
    return Markup(opening if name in _EMPTY else f"{opening}{joined(*children)}</{name}>")


def _attribute(name: str, value: str | bool | None) -> str:
    if value is None or value is False:
        return ""
    written = name.rstrip("_").replace("_", "-")
    return f" {written}" if value is True else f' {written}="{escaped(_SPACE.sub(" ", value))}"'
