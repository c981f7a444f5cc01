"""`python -m tests.hostile.fuzz TARGET --minutes N`: coverage-guided fuzzing of one reader, from the seeds kept here.

Needs the extra `fuzz` (atheris). What makes a reader fail is written beside the working corpus, and is worth a place
among the seeds, which the tests replay without atheris.
"""

from __future__ import annotations

import argparse
import sys
from pathlib import Path

SEEDS = Path(__file__).parent / "seeds"
LONGEST = 4096


def main() -> None:
    """Fuzz until the time is over or something fails; libFuzzer prints coverage and count, and ends the process."""
    import atheris
    parser = argparse.ArgumentParser(prog="python -m tests.hostile.fuzz")
    parser.add_argument("target")
    parser.add_argument("--minutes", type=float, default=5)
    parser.add_argument("--corpus", type=Path, required=True, help="folder for what is found on the way")
    options = parser.parse_args()
    with atheris.instrument_imports(include=["advisor"]):
        from tests.hostile.targets import TARGETS
    target = TARGETS[options.target]
    target(b"")  # what is read once for all inputs is no part of the time of one
    corpus = options.corpus / options.target
    corpus.mkdir(parents=True, exist_ok=True)
    words = options.corpus / f"{options.target}.dict"
    words.write_text("".join(f'"{_escaped(word)}"\n' for word in _words(options.target)), encoding="ascii")
    atheris.Setup([sys.argv[0], f"-max_total_time={int(options.minutes * 60)}", f"-max_len={LONGEST}", "-timeout=10",
                   "-rss_limit_mb=2000", f"-dict={words}", f"-artifact_prefix={options.corpus}/{options.target}-",
                   "-print_final_stats=1", str(corpus), str(SEEDS / options.target)], target)
    atheris.Fuzz()


def _words(target: str) -> list[str]:
    """Words that a reader looks for, so that they need not be guessed letter by letter."""
    from advisor.knowledge.load import load_rule_base
    from advisor.knowledge.reading import FORMS
    from advisor.units.catalogue import DIMENSIONS
    from advisor.units.words import WORDS
    if target == "units":
        return sorted({*WORDS, *(unit.symbol for dimension in DIMENSIONS for unit in dimension.units)})
    rule_base = load_rule_base(examples=False)
    fields = {name for form in FORMS.values() for name in form.model_fields}
    own = {"rules": {*FORMS, *fields}, "card": {*rule_base.kinds, *(name for kind in rule_base.kinds.values()
                                                                    for name in kind.attributes)}}
    return sorted({"advisor: 1", "answers:", "title:", "story:", "expect:", "advisor_record", "readings", "batches",
                   *own.get(target, set(list(rule_base.questions)[:100]))})


def _escaped(word: str) -> str:
    return "".join(f"\\x{byte:02x}" for byte in word.encode())


if __name__ == "__main__":
    main()
