"""The interview is killed at random moments and taken up again; every answer whose echo was seen must be there.

`python -m tests.faults.kill --times 300 --seed 1` runs the command itself on a pseudo-terminal, with the rules that
come with the program, and prints how many kills were survived. Answers are given and changed at random; the kill comes
at a random moment after one was sent, half of them while the folder changes. A kill is survived when the file holds
each echoed answer as it was echoed, the answer under way in its old or its new form or not at all, and nothing else.
"""

from __future__ import annotations

import argparse
import os
import random
import re
import sys
import tempfile
import time
from dataclasses import dataclass, field
from pathlib import Path

import pexpect

from advisor.consultation.answers import read_answer
from advisor.errors import AdvisorError
from advisor.interview import words
from advisor.interview.readback import shown
from advisor.knowledge.load import load_rule_base
from advisor.knowledge.rulebase import RuleBase
from advisor.store import Store

ROOT = Path(__file__).resolve().parents[2]
WAIT_S = 40
LONGEST_BEFORE_KILL_S, LONGEST_SAVE_S = 0.25, 0.02
# Shares: answers changed by `back`, starts with keys, kills while it starts, kills while it saves.
CHANGES, KEYS, EARLY, WHILE_SAVING = 0.15, 0.25, 0.1, 0.5
WIDTH = 600  # nothing is wrapped
_ESCAPE = re.compile(r"\x1b(?:\[[0-9;?]*[ -/]*[@-~]|[()][A-Z0-9]|[=>78])")
_PROMPTS = (words.ANSWER_PROMPT, words.TITLE_PROMPT, words.REVIEW_PROMPT, words.TAKE_UP_PROMPT, words.ASK_PROMPT)
_CHOICE = re.compile(r"^ +(\d+)  \S", re.MULTILINE)
_EXAMPLE = re.compile(r"^For instance (.+?)(?: or .+)?\.(?: |$)", re.MULTILINE)
_ECHO = re.compile(r"^  = (.+?) *$", re.MULTILINE)


@dataclass
class Job:
    """One consultation: what was echoed for each question, and the answer under way when the process was killed."""

    title: str
    name: str
    echoed: dict[str, str] = field(default_factory=dict)
    under_way: str | None = None


class Screen:
    """The command on a pseudo-terminal, read as lines without escapes."""

    def __init__(self, arguments: list[str], home: Path, keys: bool) -> None:
        environment = {**os.environ, "PYTHONPATH": str(ROOT), "ADVISOR_HOME": str(home), "TERM": "xterm"}
        for name in ("ADVISOR_PLAIN", "ACCESSIBLE", "COLUMNS", "LINES"):
            environment.pop(name, None)
        self.child = pexpect.spawn(sys.executable, ["-m", "advisor", "ask", *([] if keys else ["--plain"]), *arguments],
                                   env=environment, encoding="utf-8", timeout=WAIT_S, dimensions=(50, WIDTH))
        self.child.delaybeforesend = None
        self.ending = "\r" if keys else "\n"

    def until_prompt(self) -> str:
        """The text up to the next prompt."""
        raw, text, end = "", "", time.monotonic() + WAIT_S
        while not ("\n" in text and text.rstrip(" ").endswith(tuple(prompt.rstrip() for prompt in _PROMPTS))):
            if time.monotonic() > end:
                raise TimeoutError(f"no prompt came after:\n{text}")
            try:
                raw += self.child.read_nonblocking(65536, timeout=0.2)
                text = plain(raw)
            except pexpect.TIMEOUT:
                continue
            except pexpect.EOF as error:
                raise RuntimeError(f"the command ended by itself:\n{text}") from error
        return text

    def send(self, typed: str) -> None:
        """Type a line."""
        self.child.send(typed + self.ending)

    def kill(self) -> str:
        """Kill the process; what it had written and nobody had read yet."""
        self.child.kill(9)
        raw = ""
        while True:
            try:
                raw += self.child.read_nonblocking(65536, timeout=5)
            except (pexpect.EOF, pexpect.TIMEOUT):
                break
        self.child.close(force=True)
        return plain(raw)


def plain(text: str) -> str:
    """Text without escapes and blank lines, with plain ends of lines."""
    return re.sub(r"[\r\n]+", "\n", _ESCAPE.sub("", text))


class Killer:
    """Kills interviews of one rules folder and looks at what is left."""

    def __init__(self, home: Path, seed: int, rules: Path | None = None) -> None:
        self.home, self.random, self.rules = home, random.Random(seed), rules
        self.rule_base: RuleBase = load_rule_base(rules, examples=False)
        self.store = Store(home / "consultations")
        self.asks = {name: _pattern(question.ask) for name, question in self.rule_base.questions.items()}
        self.kills = self.answers = self.jobs = self.starts_killed = self.saved_in_time = 0
        self.job = self._new_job()

    def once(self) -> list[str]:
        """Start or take up an interview, kill it, and say what was lost."""
        resumed = self.job.name in self.store.names()
        arguments = ["--resume", self.job.name] if resumed else []
        screen = Screen([*(["--rules", str(self.rules)] if self.rules else []), *arguments], self.home,
                        self.random.random() < KEYS)
        self.kills += 1
        if self.random.random() < EARLY:
            time.sleep(self.random.uniform(0, 3))
            screen.kill()
            self.starts_killed += 1
            return self._lost()
        text = screen.until_prompt()
        if not resumed:
            screen.send(self.job.title)
            text = screen.until_prompt()
        text = self._answer_some(screen, text, self.random.randint(0, 4))
        lost: list[str] = []
        if text.rstrip(" ").endswith(words.ANSWER_PROMPT.rstrip()):
            self._kill_while_answering(screen, text)
            lost = self._lost()
        else:
            screen.kill()
            lost = self._lost()
            self.job = self._new_job()
        return lost

    def _answer_some(self, screen: Screen, text: str, count: int) -> str:
        while count and text.rstrip(" ").endswith(words.ANSWER_PROMPT.rstrip()):
            count -= 1
            if self.job.echoed and self.random.random() < CHANGES:
                screen.send("back")
                text = screen.until_prompt()
            name = self._asked(text)
            screen.send(self._answer(name, text))
            text = screen.until_prompt()
            self._note(name, text)
        return text

    def _kill_while_answering(self, screen: Screen, text: str) -> None:
        name = self._asked(text)
        self.job.under_way = name
        screen.send(self._answer(name, text))
        if self.random.random() < WHILE_SAVING:
            self._wait_for_a_save()
        else:
            time.sleep(self.random.uniform(0, LONGEST_BEFORE_KILL_S))
        self._note(name, screen.kill())

    def _wait_for_a_save(self) -> None:
        """Until something in the folder changes, and a moment more."""
        def state() -> int:
            return self.store.folder.stat().st_mtime_ns if self.store.folder.is_dir() else 0
        before, end = state(), time.monotonic() + LONGEST_BEFORE_KILL_S
        while state() == before and time.monotonic() < end:
            pass
        time.sleep(self.random.uniform(0, LONGEST_SAVE_S))

    def _note(self, name: str, text: str) -> None:
        """An echo makes the answer one that must not be lost."""
        if echo := _ECHO.search(text):
            self.job.echoed[name] = echo[1]
            self.answers += 1
            if self.job.under_way == name:
                self.job.under_way = None

    def _answer(self, name: str, text: str) -> str:
        card = text[text.rindex("Question "):]
        if choices := _CHOICE.findall(card):
            return str(self.random.choice(choices))
        if self.rule_base.questions[name].takes_unknown and self.random.random() < 0.3:
            return words.UNKNOWN
        example = _EXAMPLE.search(card)
        return example[1] if example else str(self.random.randint(1, 9))

    def _asked(self, text: str) -> str:
        card = text[text.rindex("Question "):].split("\n")
        found = next((name for name, pattern in self.asks.items() if pattern.fullmatch(card[1].strip())), None)
        if found is None:
            raise LookupError(f"no question is on the screen:\n{text!r}")
        return found

    def _lost(self) -> list[str]:
        """What is not as it must be in the file."""
        under_way, self.job.under_way = self.job.under_way, None
        if self.job.name not in self.store.names():
            return [f"{self.job.name}: no file"] if self.job.echoed else []
        try:
            kept = self.store.load(self.job.name)
        except AdvisorError as error:
            return [str(error)]
        found = {name: shown(self.rule_base, read_answer(self.rule_base, name, given))
                 for name, given in kept.answers.items()}
        wrong = [f"{self.job.name}: {name} was echoed as {echo!r} and is kept as {found.get(name)!r}"
                 for name, echo in self.job.echoed.items() if found.get(name) != echo and name != under_way]
        if under_way in self.job.echoed and under_way not in found:
            wrong.append(f"{self.job.name}: {under_way} is gone")
        wrong += [f"{self.job.name}: {name} was never echoed" for name in found
                  if name not in self.job.echoed and name != under_way]
        if under_way in found:
            self.saved_in_time += found[under_way] != self.job.echoed.get(under_way)
            self.job.echoed[under_way] = found[under_way]
        return wrong

    def _new_job(self) -> Job:
        self.jobs += 1
        return Job(f"Killed {self.jobs}", f"killed-{self.jobs}")


def _pattern(ask: str) -> re.Pattern[str]:
    """A question as asked; values of facts may stand in it."""
    return re.compile("".join(".+" if part.startswith("{") else re.escape(part)
                              for part in re.split(r"(\{[^{}]*\})", " ".join(ask.split()))))


def main() -> int:
    """Kill as often as asked for; status 1 where anything was lost."""
    parser = argparse.ArgumentParser(prog="python -m tests.faults.kill")
    parser.add_argument("--times", type=int, default=300)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--rules", type=Path, help="a rules folder (default: the one that comes with the program)")
    options = parser.parse_args()
    losses = 0
    with tempfile.TemporaryDirectory() as home:
        killer = Killer(Path(home), options.seed, options.rules)
        for number in range(1, options.times + 1):
            if lost := killer.once():
                losses += 1
                print(f"kill {number}:", *lost, sep="\n  ", flush=True)
        print(f"{killer.kills} kills, {killer.kills - losses} survived; {killer.answers} answers echoed in "
              f"{killer.jobs} jobs, {killer.starts_killed} killed while starting, "
              f"{killer.saved_in_time} saved but not yet echoed")
    return 1 if losses else 0


if __name__ == "__main__":
    sys.exit(main())
