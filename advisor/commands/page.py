"""Where text advice is printed."""

from __future__ import annotations

import sys
from typing import IO

from rich.console import Console


class Page(Console):
    """Standard output without any marking of its own; a reader who stops reading is no fault of the input."""

    def __init__(self, width: int | None = None, file: IO[str] | None = None, plain: bool = False) -> None:
        """Print on standard output, or as it would be printed there to a file; `plain` without any escapes."""
        terminal = False if plain else sys.stdout.isatty() if file else None
        super().__init__(highlight=False, markup=False, width=width, file=file, force_terminal=terminal)

    def on_broken_pipe(self) -> None:
        """Leave it to the command line, which ends quietly; the console alone would end with status 1.

        Raises:
            BrokenPipeError: always.
        """
        raise BrokenPipeError
