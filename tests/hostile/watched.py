"""Run by a test in a process of its own: the commands on honest and hostile files, while Python reports what they do.

What Python itself runs to import modules is let pass; text that anything else would run as code is not.
"""

from __future__ import annotations

import contextlib
import io
import json
import socket
import sys
import tempfile
from collections.abc import Sequence
from pathlib import Path

from advisor.cli import main
from advisor.consultation.consult import Advisor
from advisor.interview.scripted import ScriptedAsker
from advisor.interview.session import run
from advisor.store import Store
from tests.hostile import files

FORBIDDEN = ("socket.", "subprocess.", "os.system", "os.exec", "os.posix_spawn", "os.spawn", "os.startfile", "pty.",
             "ctypes.", "pickle.", "ftplib.", "urllib.", "smtplib.", "http.", "webbrowser.", "code.")
# They compile what modules say, not files: fields of data classes, annotations as types, signatures.
_OF_PYTHON = {"dataclasses.py", "typing.py", "collections", "enum.py", "ast.py", "_bootstrap_external>", "_bootstrap>"}
SCENARIOS = Path(__file__).parents[2] / "scenarios"
CASES = ("first-timer-glue-or-laminate.yaml", "abs-trim.yaml", "alone-in-a-tank.yaml")


def commands(folder: Path) -> list[list[str]]:
    """The commands tried, on files of the project and on hostile ones."""
    card = str(SCENARIOS / "cards" / "tube-from-the-shelf.yaml")
    cases = [str(SCENARIOS / name) for name in CASES]
    evil = [str(hostile.make(_own(folder, number))) for number, hostile in enumerate(
        [hostile for hostile in files.YAML if "code" in hostile.name or "escapes" in hostile.name])]
    return [
        ["advise", *cases, "--product", card], ["advise", cases[0], "--as", "json"],
        ["advise", cases[0], "--as", "markdown", "--details"], ["advise", cases[0], "--explain", "gap", "--full"],
        ["sheet", cases[0]], ["sheet", cases[1], "--as", "markdown"],
        ["compare", cases[0], cases[1]], ["vary", cases[0], "--question", "gap_max"], ["compute"],
        ["compute", "ply_thickness"], ["schema", "answers"], ["saved"],
        ["advise", *evil], *(["advise", cases[0], "--product", path] for path in evil[:1]),
    ]


def _own(folder: Path, number: int) -> Path:
    own = folder / str(number)
    own.mkdir(exist_ok=True)
    return own


def everything(folder: Path, advisor: Advisor) -> None:
    """Run every command and two interviews, one of answers that are none."""
    for arguments in commands(folder):
        main(arguments)
    for typed in (["1", "", "unknown", "1", "2", "back", "why", "quit"], ["__import__('os').system('true')"] * 5):
        run(advisor, asker=ScriptedAsker(typed), show_advice=lambda advice: None, store=Store(folder / "saved"))


def _runs_text(event: str, details: tuple[object, ...]) -> bool:
    """Whether text becomes code that does not stand in a module's file, nor is Python's own doing."""
    if event not in ("compile", "exec"):
        return False
    name = str(details[1]) if event == "compile" else getattr(details[0], "co_filename", "")
    if name.startswith("<frozen") or (name.endswith(".py") and Path(name).is_file()):
        return False
    caller = Path(sys._getframe(2).f_code.co_filename)
    return not {caller.name, caller.name.split()[-1], caller.parent.name} & _OF_PYTHON


def _between_processes(event: str, details: tuple[object, ...]) -> bool:
    """What the standard library needs so that processes of one program can talk: unnamed pairs, results, shared words.

    `vary` and `audit` work in several processes; the socket of a pair has no name that anybody could connect to.
    """
    if event == "socket.__new__":
        return details[1] == socket.AF_UNIX
    caller = Path(sys._getframe(2).f_code.co_filename).parent.name
    return event.startswith(("pickle.", "ctypes.")) or (event in ("compile", "exec") and caller == "multiprocessing")


def watched(work: Sequence[str]) -> list[str]:
    """What happened that must not, while the work was done."""
    seen: list[str] = []

    def note(event: str, details: tuple[object, ...]) -> None:
        if (event.startswith(FORBIDDEN) or _runs_text(event, details)) \
                and ("commands" in work or not _between_processes(event, details)):
            seen.append(f"{event} {str(details)[:200]}")

    with tempfile.TemporaryDirectory() as name, contextlib.redirect_stdout(io.StringIO()), \
            contextlib.redirect_stderr(io.StringIO()):
        folder = Path(name)
        sys.addaudithook(note)
        if "commands" in work:
            everything(folder, Advisor.from_folder())
        if "audit" in work:
            main(["audit", "--cases", "2", "--processes", "1", "--scenarios", str(folder)])
        if "vary" in work:
            main(["vary", str(SCENARIOS / CASES[0])])
        if "evil" in work:  # what must be seen if the watch is any good
            eval("1 + 1")
            socket.socket(socket.AF_INET).close()
    return seen


if __name__ == "__main__":
    print(json.dumps(watched(sys.argv[1:])))
