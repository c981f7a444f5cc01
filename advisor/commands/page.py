"""Where text advice is printed."""

from __future__ import annotations

from rich.console import Console


class Page(Console):
    """Standard output without any marking of its own; a reader who stops reading is no fault of the input."""

    def __init__(self) -> None:
        super().__init__(highlight=False, markup=False)

    def on_broken_pipe(self) -> None:
        """Leave it to the command line, which ends quietly; the console alone would end with status 1.

        Raises:
            BrokenPipeError: always.
        """
        raise BrokenPipeError
