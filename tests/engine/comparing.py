"""A chainer that runs every stage on the engine and on the oracle, and takes no difference between them."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

from advisor.engine.program import Chainer, Firing, Posted


class DisagreementError(AssertionError):
    """The engine and the oracle fired differently on the same facts."""


class ComparingChainer:
    """Runs both on the same facts; what the engine fires goes on, so that an evaluation costs its calculations once."""

    def __init__(self, engine: Chainer, oracle: Chainer) -> None:
        self._engine, self._oracle = engine, oracle
        self.stages = self.firings = 0

    def outlined(self) -> Chainer:
        """This chainer; it leaves nothing out."""
        return self

    def run(self, stage: str, facts: Sequence[Posted]) -> list[Firing]:
        """Every firing of a stage.

        Raises:
            DisagreementError: with the firings that only one of the two found, and the facts.
        """
        fired = self._engine.run(stage, facts)
        engine, oracle = _counted(fired), _counted(self._oracle.run(stage, facts))
        if engine != oracle:
            raise DisagreementError(f"stage {stage}: only the engine fired {dict(engine - oracle)}, only the oracle "
                               f"{dict(oracle - engine)}, on {[fact.id for fact in facts]}")
        self.stages += 1
        self.firings += len(fired)
        return fired


def _counted(firings: Sequence[Firing]) -> Counter[tuple[str, tuple[str, ...]]]:
    return Counter((firing.rule.name, firing.support) for firing in firings)
