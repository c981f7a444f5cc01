"""Signs that a terminal or a file cannot hold, spelled in ones that it can: a number must not change its meaning."""

from __future__ import annotations

import codecs
import re
import unicodedata

ERRORS = "advisor-spelled"
_SPELLED = str.maketrans({
    "\N{DEGREE SIGN}": "deg", "\N{MICRO SIGN}": "u", "\N{GREEK SMALL LETTER MU}": "u", "\N{MULTIPLICATION SIGN}": "x",
    "\N{EN DASH}": "-", "\N{EM DASH}": "-", "\N{MINUS SIGN}": "-", "\N{PLUS-MINUS SIGN}": "+/-",
    "\N{ALMOST EQUAL TO}": "~", "\N{GREATER-THAN OR EQUAL TO}": ">=", "\N{LESS-THAN OR EQUAL TO}": "<=",
    "\N{LEFT SINGLE QUOTATION MARK}": "'", "\N{RIGHT SINGLE QUOTATION MARK}": "'",
    "\N{LEFT DOUBLE QUOTATION MARK}": '"', "\N{RIGHT DOUBLE QUOTATION MARK}": '"',
    "\N{MIDDLE DOT}": "*", "\N{DOT OPERATOR}": "*", "\N{FRACTION SLASH}": "/", "\N{LATIN SMALL LETTER SHARP S}": "ss",
})
_RAISED = re.compile("[\N{SUPERSCRIPT ONE}\N{SUPERSCRIPT TWO}\N{SUPERSCRIPT THREE}\N{SUPERSCRIPT ZERO}"
                     "\N{SUPERSCRIPT FOUR}-\N{SUPERSCRIPT MINUS}]+")
_FRACTION = re.compile("[\N{VULGAR FRACTION ONE QUARTER}-\N{VULGAR FRACTION THREE QUARTERS}"
                       "\N{VULGAR FRACTION ONE SEVENTH}-\N{VULGAR FRACTION SEVEN EIGHTHS}]")


def spelled(text: str, encoding: str | None) -> str:
    """`text` in signs that the encoding has; what has no spelling becomes `?`."""
    name = encoding or "utf-8"
    return text.encode(name, ERRORS).decode(name)


def in_ascii(text: str) -> str:
    """`text` in plain letters, digits and signs: `21 degC`, `300 cm^2`, `1 1/2`."""
    raised = _RAISED.sub(lambda run: f"^{unicodedata.normalize('NFKC', run[0])}", text)
    told = _FRACTION.sub(lambda sign: f" {unicodedata.normalize('NFKC', sign[0])}", raised).translate(_SPELLED)
    bare = "".join(sign for sign in unicodedata.normalize("NFKD", told) if not unicodedata.combining(sign))
    return bare.translate(_SPELLED).encode("ascii", "replace").decode("ascii")


def _handler(error: UnicodeError) -> tuple[str, int]:
    if not isinstance(error, UnicodeEncodeError):
        raise error
    return in_ascii(error.object[error.start:error.end]), error.end


codecs.register_error(ERRORS, _handler)
