"""A power cut at every moment of a save: the old answers or the new can be read, and the new ones once it returned."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from advisor import whole_file
from tests.faults.power import NEW, OLD, found_after_cuts, wrong_in


@pytest.mark.parametrize("links", [True, False])
@pytest.mark.parametrize("before", [0, 1, 2, 3])
def test_old_or_new_answers_whenever_the_power_goes(tmp_path: Path, before: int, links: bool) -> None:
    found = found_after_cuts(tmp_path, before=before, links=links)
    assert len(found) > 15
    assert wrong_in(found, before) == []
    assert {str(answers) for _, answers in found} == {str(OLD if before else None), str(NEW)}


def test_these_cuts_find_a_save_that_settles_nothing(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The same cuts on a save that forgets to settle the file: torn answers must come to light."""
    def careless(descriptor: int, content: bytes) -> None:
        os.write(descriptor, content)
        os.close(descriptor)
    monkeypatch.setattr(whole_file, "_fill", careless)
    assert wrong_in(found_after_cuts(tmp_path, before=1), 1)
