"""Messages on standard error."""

from __future__ import annotations

import sys

from advisor.errors import clean_text

LONGEST_LINE = 4000


def complain(message: object) -> None:
    """Print a message; names of files and whatever else came from outside cannot steer the terminal."""
    lines = (clean_text(line, LONGEST_LINE) for line in str(message).split("\n"))
    print("advisor: " + "\n".join(lines), file=sys.stderr)
