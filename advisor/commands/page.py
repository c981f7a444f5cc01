"""Where text advice is printed."""

from __future__ import annotations

import sys
from typing import IO

from rich.console import Console


class Page(Console):
    """Standard output without any marking of its own; a reader who stops reading is no fault of the input."""

    def __init__(self, width: int | None = None, file: IO[str] | None = None) -> None:
        """Print on standard output, or as it would be printed there to a file."""
        super().__init__(highlight=False, markup=False, width=width, file=file,
                         force_terminal=sys.stdout.isatty() if file else None)

    def on_broken_pipe(self) -> None:
        """Leave it to the command line, which ends quietly; the console alone would end with status 1.

        Raises:
            BrokenPipeError: always.
        """
        raise BrokenPipeError
