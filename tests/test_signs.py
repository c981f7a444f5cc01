"""Signs spelled in plain letters: what a number means does not change."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from advisor.signs import in_ascii, spelled


@pytest.mark.parametrize(("text", "plain"), [
    ("21 \N{DEGREE SIGN}C", "21 degC"), ("300 cm\N{SUPERSCRIPT TWO}", "300 cm^2"),
    ("30 \N{MICRO SIGN}m/m/K", "30 um/m/K"), ("10\N{SUPERSCRIPT MINUS}\N{SUPERSCRIPT SIX}", "10^-6"),
    ("1\N{VULGAR FRACTION ONE HALF} in", "1 1/2 in"), ("3\N{EN DASH}4", "3-4"),
    ("2 \N{MULTIPLICATION SIGN} 3", "2 x 3"),
    ("\N{MINUS SIGN}5", "-5"), ("\N{GREATER-THAN OR EQUAL TO} 5 \N{PLUS-MINUS SIGN} 1", ">= 5 +/- 1"),
    ("Fl\N{LATIN SMALL LETTER U WITH DIAERESIS}gel", "Flugel"), ("\u6f22", "?"), ("plain", "plain"),
])
def test_each_sign_has_its_spelling(text: str, plain: str) -> None:
    assert in_ascii(text) == plain
    assert spelled(text, "ascii") == plain


def test_what_the_terminal_has_stays() -> None:
    assert spelled("3\N{EN DASH}4 \N{DEGREE SIGN}C", "latin-1") == "3-4 \N{DEGREE SIGN}C"
    assert spelled("3\N{EN DASH}4", None) == "3\N{EN DASH}4"


@given(st.text())
def test_any_text_can_be_written(text: str) -> None:
    for encoding in ("ascii", "latin-1", "cp1252", "utf-8", "cp437"):
        spelled(text, encoding).encode(encoding)
    assert in_ascii(text).isascii()
