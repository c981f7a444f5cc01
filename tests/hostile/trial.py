"""Every hostile file handed to the real commands, each in a process of its own with bounds on time and memory.

The rules are read once, then a process is forked for each trial, so that thousands can be run.
"""

from __future__ import annotations

import functools
import gc
import importlib
import os
import resource
import shutil
import signal
import sys
import tempfile
import traceback
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from tests.hostile import files
from tests.hostile.files import Hostile
from tests.small_rules import write_rules

SECONDS = 20
MEGABYTES = 600
_GOOD = "advisor: 1\ntitle: Invented\nanswers:\n  goal: plan_joint\n"

Command = Callable[[Path], list[str]]


@dataclass(frozen=True)
class Kind:
    """What files are taken for: where they are put, the commands that read them; `also` is left out of a sample."""

    files: list[Hostile]
    commands: dict[str, Command]
    below: str = ""
    also: list[Hostile] = field(default_factory=list)


@dataclass(frozen=True)
class Result:
    """What came of one trial; `status` is negative where a signal ended it; time is that of the processor."""

    kind: str
    command: str
    name: str
    harmless: bool
    status: int
    seconds: float
    megabytes: float
    output: str
    errors: str


def _answers(folder: Path) -> str:
    path = folder / "good.yaml"
    path.write_text(_GOOD, encoding="utf-8")
    return str(path)


KINDS = {
    "answers": Kind([*files.PLACES, *files.YAML, *files.ANSWERS], {
        "advise": lambda path: ["advise", str(path)],
        "advise as json": lambda path: ["advise", str(path), "--as", "json"],
        "ask --from": lambda path: ["ask", "--plain", "--from", str(path)],
    }),
    "other readers of answers": Kind([*files.PLACES, *files.ANSWERS], {
        "sheet": lambda path: ["sheet", str(path)],
        "vary": lambda path: ["vary", str(path)],
        "compare": lambda path: ["compare", str(path), str(path)],
    }),
    "saved": Kind([*files.PLACES, *files.ANSWERS], {
        "saved": lambda path: ["saved"],
        "saved show": lambda path: ["saved", "show", path.stem],
        "ask --resume": lambda path: ["ask", "--plain", "--resume", path.stem],
    }, below="consultations", also=files.YAML),
    "card": Kind([*files.PLACES, *files.CARDS], {
        "advise --product": lambda path: ["advise", _answers(path.parent.parent), "--product", str(path)],
    }, below="cards", also=files.YAML),
    "record": Kind([*files.PLACES, *files.RECORDS], {
        "ask --record": lambda path: ["ask", "--plain", "--record", str(path)],
    }),
    "rules": Kind([*files.PLACES, *files.RULES], {
        "rule --check": lambda path: ["rule", "--check", "--rules", str(_rules_above(path))],
        "rule": lambda path: ["rule", "--rules", str(_rules_above(path)), "evil"],
    }, below="rules", also=files.YAML),
}


def _rules_above(path: Path) -> Path:
    return next(folder for folder in (path, *path.parents) if folder.name == "rules")


def trials(kinds: Iterable[str] = (), names: str = "", *, sample: bool = False) -> Iterator[Result]:
    """Run every trial of these kinds whose name holds `names`, or a sample: the first command of each
    kind, without what other kinds try as well. Yields what came of each.
    """
    _prepare()
    for kind, given in KINDS.items():
        if kinds and kind not in kinds:
            continue
        for hostile in given.files if sample else [*given.files, *given.also]:
            if names in hostile.name:
                yield from _tried(kind, given, hostile, 1 if sample else len(given.commands))


def _tried(kind: str, given: Kind, hostile: Hostile, count: int) -> Iterator[Result]:
    home = Path(tempfile.mkdtemp(prefix="hostile-"))
    try:
        if kind == "rules":
            write_rules(home)
        folder = home / given.below
        folder.mkdir(exist_ok=True)
        path = hostile.make(folder)
        for command, arguments in list(given.commands.items())[:count]:
            yield _run(kind, command, hostile, arguments(path), home)
    finally:
        shutil.rmtree(home)


def _prepare() -> None:
    """Read the rules once, and let interviews think that there is a terminal."""
    from advisor.interview.plain import PlainAsker
    consult: Any = importlib.import_module("advisor.consultation.consult")
    ask: Any = importlib.import_module("advisor.commands.ask")
    read = consult.load_rule_base
    known = functools.cache(lambda: read(None, examples=False))
    known()
    consult.load_rule_base = lambda folder=None, *, examples=True: (
        known() if folder is None else read(folder, examples=examples))
    ask.open_asker = lambda plain=False: PlainAsker(open(os.devnull, encoding="utf-8"), sys.stdout)  # noqa: SIM115
    import advisor.commands.advise  # noqa: F401
    import advisor.engine.infer
    import advisor.interview.session
    import advisor.report.terminal  # noqa: F401
    gc.collect()
    gc.freeze()  # or each process would copy all of it only to look through it


def _run(kind: str, command: str, hostile: Hostile, arguments: list[str], home: Path) -> Result:
    before = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    with tempfile.TemporaryFile() as output, tempfile.TemporaryFile() as errors:
        sys.stdout.flush()
        sys.stderr.flush()
        child = os.fork()
        if child == 0:
            _in_child(arguments, home, output.fileno(), errors.fileno())
        _, how, used = os.wait4(child, 0)
        status = os.waitstatus_to_exitcode(how)
        output.seek(0)
        errors.seek(0)
        return Result(kind, command, hostile.name, hostile.harmless, status, used.ru_utime + used.ru_stime,
                      max(0, used.ru_maxrss - before) / 1024, output.read().decode("utf-8", "replace"),
                      errors.read().decode("utf-8", "replace"))


def _in_child(arguments: list[str], home: Path, output: int, errors: int) -> None:
    """Become the program: bounded, with its output in files, and never back to the caller."""
    status = 99
    try:
        os.dup2(output, 1)
        os.dup2(errors, 2)
        os.environ["ADVISOR_HOME"] = str(home)
        pages = int(Path("/proc/self/statm").read_text(encoding="ascii").split()[0])
        most = pages * os.sysconf("SC_PAGESIZE") + MEGABYTES * 1024 * 1024
        resource.setrlimit(resource.RLIMIT_AS, (most, most))
        resource.setrlimit(resource.RLIMIT_CPU, (SECONDS, SECONDS))
        signal.alarm(SECONDS)
        from advisor.cli import main
        status = main(arguments)
        sys.stdout.flush()
        sys.stderr.flush()
    except BaseException:
        os.write(2, traceback.format_exc().encode("utf-8", "replace"))
    finally:
        os._exit(status)
