"""Every field of every kind of card: what depends on it shows the card's number, and nothing else changes."""

from __future__ import annotations

from functools import cache

import pytest

from advisor.knowledge.load import load_rule_base
from advisor.knowledge.product_card import card_kinds, fields_of
from advisor.knowledge.rulebase import RuleBase
from tests.properties.card_values import Job, Side, base_side, compared

JOBS = {
    "adhesive": (
        Job("bracket-long-enough", "adhesive", "methacrylate", card=(
            ("highest_temperature", "18 C"), ("peel_tested_by", "roller"), ("gap_low", "2 mm"))),
        Job("bracket-too-short-for-its-load", "adhesive", "methacrylate"),
        Job("bracket-long-enough", "adhesive", "methacrylate", (
            ("exposure", ("fuel_oil", "immersed_fresh")), ("work_place", "closed_room")), (
            ("wet_service", "yes"), ("fuel_service", "no"), ("gives_off_isocyanate", "yes"))),
        Job("bracket-long-enough", "adhesive", "methacrylate", card=(
            ("gives_off_styrene", "yes"),)),
        Job("small-dry-bubble", "adhesive", "epoxy_injection")),
    "resin": (
        Job("hole-from-both-sides", "resin", "epoxy_slow", card=(("highest_temperature", "18 C"),)),
        Job("first-timer-glue-or-laminate", "resin", "polyester_laminating")),
    "catalyst": (Job("first-timer-glue-or-laminate", "catalyst", "peroxide_liquid"),),
    "filler": (Job("gel-coat-scratch", "filler", "polyester_filler", (("finish", "paint"),), (
        ("lowest_temperature", "30 C"),)),),
    "cleaner": (Job("lap-that-fits", "cleaner", "acetone"),),
    "reinforcement": (
        Job("plan-bulkhead-mat-in-epoxy", "reinforcement", "biaxial_400"),
        Job("cold-damp-evening", "reinforcement", "mat_450_emulsion"),
        Job("plan-bulkhead-mat-in-epoxy", "reinforcement", "biaxial_400", card=(("binder", "emulsion"),))),
}
"""For each kind, jobs in which one of its products is weighed; a field is tried in the first that it reaches."""


@cache
def rules() -> RuleBase:
    return load_rule_base(None, examples=False)


@cache
def side(job: Job) -> Side:
    return base_side(rules(), job)


@pytest.mark.parametrize("kind", JOBS)
def test_a_field_changes_what_rests_on_it_and_nothing_else(kind: str) -> None:
    for field in fields_of(rules().kinds[kind]):
        job = next((job for job in JOBS[kind] if side(job).reached(field)), None)
        found = compared(rules(), side(job or JOBS[kind][0]), field)
        assert not found.faults, (field, found.faults[:3])
        assert job, (field, "is read by nothing")


def test_every_kind_of_card_is_tried() -> None:
    assert set(JOBS) == set(card_kinds(rules()))
