"""What the script of the page works with: clocks, working times and what a record carries."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from advisor.consultation.advice import Advice, WorkingTimeLine
from advisor.sheet import words
from advisor.sheet.parts import Mixing, Reading, Record, Sheet, Step, ToConfirm, WorkingTime

COMPUTATION = "working_time_min"
RECORD_FORMAT = 1
_REACH_K = 15
# The range that the computation holds for, and nobody works beyond it.
_COLDEST_C, _WARMEST_C = -10.0, 60.0

Typed = Mapping[str, str | Sequence[str]]


def job_key(advice: Advice) -> str:
    """The same for the same advice, so that what was ticked belongs to one job only."""
    return hashlib.sha256(advice.to_json().encode()).hexdigest()[:16]


def data_of(sheet: Sheet, advice: Advice, typed: Typed) -> dict[str, Any]:
    """Everything the script needs, as plain JSON values."""
    return {
        "key": job_key(advice), "record": RECORD_FORMAT, "title": advice.title, "rules": advice.rule_base.hash,
        "answers": {name: given if isinstance(given, str) else list(given) for name, given in typed.items()},
        "recall": dict(advice.recall), "clocks": dict(_clocks(sheet)),
        "times": {block.id: _parameters(block.line) for part in sheet.parts for block in part.blocks
                  if isinstance(block, WorkingTime)},
        "readings": {block.id: {"name": block.name, "unit": block.unit or "", "question": block.answers or ""}
                     for block in _readings(sheet)},
        "confirm": {block.id: block.text for part in sheet.parts for block in part.blocks
                    if isinstance(block, ToConfirm)},
        "words": {name.lower(): getattr(words, name) for name in
                  ("START", "STOP", "START_BATCH", "NOW", "CLEAR_SURE", "LASTS_ABOUT", "AT_PLANNED", "KEPT", "NOT_KEPT",
                   "CLOCKS")},
    }


def _readings(sheet: Sheet) -> Iterator[Reading]:
    for part in sheet.parts:
        for block in part.blocks:
            if isinstance(block, Reading):
                yield block
            elif isinstance(block, Record):
                yield from block.readings


def embedded(data: dict[str, Any]) -> str:
    """The JSON as it may stand inside a script element: nothing in it can end that element."""
    text = json.dumps(data, ensure_ascii=True, separators=(",", ":"), sort_keys=True)
    return text.replace("<", "\\u003c").replace(">", "\\u003e").replace("&", "\\u0026")


def slider_ends(line: WorkingTimeLine) -> tuple[float, float]:
    """Coldest and warmest temperature of the slider, °C."""
    planned = round(line.temperature_C)
    return max(planned - _REACH_K, _COLDEST_C), min(planned + _REACH_K, _WARMEST_C)


def _parameters(line: WorkingTimeLine) -> dict[str, Any]:
    """The arguments of the computation; the reference is the time at the planned temperature."""
    return {"low": line.time_min.low, "likely": line.time_min.likely, "high": line.time_min.high,
            "reference_temperature_C": line.temperature_C, "activation_energy_kJ_mol": line.activation_energy_kJ_mol,
            "colder": line.colder, "warmer": line.warmer}


def _clocks(sheet: Sheet) -> list[tuple[str, dict[str, Any]]]:
    """Each clock: its name, its marks in minutes, and the working time it follows."""
    found: list[tuple[str, dict[str, Any]]] = []
    blocks = [block for part in sheet.parts for block in part.blocks]
    first_time = next((block.id for block in blocks if isinstance(block, WorkingTime)), None)
    for part in sheet.parts:
        for block in part.blocks:
            if isinstance(block, Mixing):
                found += [(f"batch-{batch.number}", {
                    "name": f"{words.BATCH_HEADINGS[0]} {batch.number}", "follows": first_time,
                    "marks": [[words.IN_PLACE, batch.place_within_min], [words.STOP_AT, batch.stop_at_min]]})
                    for batch in block.batches]
            elif isinstance(block, WorkingTime) and block.clock:
                found.append((f"clock-{block.id}", {
                    "name": block.line.about, "follows": block.id,
                    "marks": [[words.LASTS, block.line.time_min.low]]}))
            elif isinstance(block, Step) and (block.wait or block.hold):
                marks = [[words.WAITED, block.wait.likely]] if block.wait else []
                found.append((f"clock-{block.id}", {"name": f"{words.STEP} {block.number}", "follows": None,
                                                    "marks": marks}))
    return found
