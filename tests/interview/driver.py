"""Run by the terminal tests in a process of its own: an interview on the rules folder named first."""

from __future__ import annotations

import sys
from pathlib import Path

from advisor.consultation.advice import Advice
from advisor.consultation.consult import Advisor
from advisor.errors import AdvisorError
from advisor.interview.session import run
from advisor.interview.terminal import open_asker
from advisor.store import Store


def show(advice: Advice) -> None:
    print(f"METHOD {advice.method}")


if __name__ == "__main__":
    try:
        asker = open_asker(plain="--plain" in sys.argv)
        advisor = Advisor.from_folder(sys.argv[1])
        outcome = run(advisor, asker=asker, show_advice=show, store=Store(Path(sys.argv[2])))
    except AdvisorError as error:
        sys.exit(f"{error} [{error.exit_status}]")
    print(f"ENDED {outcome.ended}")
