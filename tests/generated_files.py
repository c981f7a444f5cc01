"""Answer files of generated jobs, to measure batches with: `python -m tests.generated_files FOLDER --count 3000`."""

from __future__ import annotations

import argparse
import os
from collections.abc import Callable
from dataclasses import dataclass
from functools import partial
from pathlib import Path
from random import Random

from advisor import answer_file
from advisor.commands.progress import Bar
from advisor.consultation.consult import Advisor
from advisor.crew import Crew, Lost
from tests.random_answers import consistent_answers


@dataclass(frozen=True)
class Writer:
    """Writes one file for each number; seed and number decide what stands in it."""

    folder: Path
    seed: int

    def build(self) -> Callable[[int], bool]:
        return partial(self.write, Advisor.from_folder())

    def write(self, advisor: Advisor, number: int) -> bool:
        answers = consistent_answers(advisor, Random(f"{self.seed} {number}"), unknown=0.05)
        text = answer_file.written(f"Generated job {number}", answers)
        answer_file.write(self.folder / f"job-{number:05}.yaml", text)
        return True


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("folder", type=Path)
    parser.add_argument("--count", type=int, default=3000)
    parser.add_argument("--seed", type=int, default=1)
    options = parser.parse_args()
    options.folder.mkdir(parents=True, exist_ok=True)
    with Bar(lines=True) as bar, Crew(Writer(options.folder, options.seed).build, os.cpu_count() or 1) as crew:
        for done, (number, written) in enumerate(crew.run(range(options.count)), 1):
            if isinstance(written, Lost):
                raise SystemExit(f"file {number}: {written.why}")
            bar.show("files", done, options.count)


if __name__ == "__main__":
    main()
