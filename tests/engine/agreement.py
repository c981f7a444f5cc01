"""Engine against oracle on generated cases of the real rules: `python -m tests.engine.agreement --cases 20000`."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Callable
from dataclasses import dataclass
from random import Random

from advisor import answer_file
from advisor.commands.progress import Bar
from advisor.consultation.consult import Advisor
from advisor.consultation.evaluate import Evaluator
from advisor.crew import Crew, Lost
from advisor.engine.infer import DurableChainer
from tests.engine.comparing import ComparingChainer, DisagreementError
from tests.engine.plain_chainer import PlainChainer
from tests.random_answers import consistent_answers, random_answers


@dataclass(frozen=True)
class Compared:
    """What one case came to: stages run by both, firings, and the disagreement with its answers, if there is one."""

    stages: int
    firings: int
    disagreement: str = ""


class Bench:
    """Tries cases; seed and number decide all of a case.

    Every second is one without contradictions, which goes on to the last stages; every fifth is also evaluated as the
    interview does before all is answered.
    """

    def __init__(self, seed: int) -> None:
        self._seed = seed
        self._advisor = Advisor.from_folder()
        programs = self._advisor.evaluator.programs
        self._chainer = ComparingChainer(DurableChainer(programs, remember=0), PlainChainer(programs))
        self._evaluator = Evaluator(self._advisor.rule_base, programs, self._chainer)

    def compare(self, number: int) -> Compared:
        """One case."""
        random = Random(f"{self._seed} {number}")
        typed = (consistent_answers if number % 2 else random_answers)(self._advisor, random)
        answers = self._advisor.consult(typed).answers
        self._chainer.stages = self._chainer.firings = 0
        said = ""
        try:
            for final in (True, False) if number % 5 == 0 else (True,):
                self._evaluator.evaluate(answers, final=final)
        except DisagreementError as found:
            said = f"{found}\n{answer_file.written(f'case {number} of seed {self._seed}', typed)}"
        return Compared(self._chainer.stages, self._chainer.firings, said)


@dataclass(frozen=True)
class Plan:
    """What is tried, as it travels to another process."""

    seed: int

    def build(self) -> Callable[[int], Compared]:
        return Bench(self.seed).compare


def main() -> int:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--cases", type=int, default=20_000)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--processes", type=int, default=2)
    options = parser.parse_args()
    stages = firings = 0
    with Bar(lines=True) as bar, Crew(Plan(options.seed).build, options.processes) as crew:
        for done, (number, found) in enumerate(crew.run(range(options.cases)), 1):
            if isinstance(found, Lost) or found.disagreement:
                print(f"case {number}: {found.why if isinstance(found, Lost) else found.disagreement}")
                return 1
            stages, firings = stages + found.stages, firings + found.firings
            bar.show("cases", done, options.cases)
    print(f"{options.cases} cases of seed {options.seed}: engine and oracle agree in {stages} stages and on "
          f"{firings} firings")
    return 0


if __name__ == "__main__":
    sys.exit(main())
