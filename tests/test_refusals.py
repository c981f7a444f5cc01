"""Every refusal, asked ten ways round: for each goal put into a whole answer file, and alone with the goal."""

from __future__ import annotations

from pathlib import Path

import pytest

from advisor import answer_file
from advisor.consultation.advice import Advice
from advisor.consultation.answers import Raw
from advisor.consultation.consult import Advisor
from advisor.report.terminal import plain_text

SCENARIOS = Path(__file__).parents[1] / "scenarios"
GOALS = {"plan_joint": "lap-that-fits", "plan_repair": "hole-from-both-sides", "judge_damage": "judge-cloudy-fender",
         "check_plan": "plan-cracked-floor-short-slope", "went_wrong": "wrong-catalyst-forgotten"}
STOPS: dict[str, dict[str, Raw]] = {
    "a seat or belt": {"duty": ["seat_belt"]},
    "steering or brakes": {"duty": ["steering_suspension_brake"]},
    "a crash helmet": {"duty": ["crash_structure"], "item": "other"},
    "a towing point": {"duty": ["tow_lift"]},
    "a ladder": {"duty": ["access_gear"]},
    "an aircraft": {"duty": ["aircraft"]},
    "a pressure vessel": {"duty": ["pressure_vessel"]},
    "a fuel tank": {"duty": ["fuel_gas_tank"]},
    "a drinking-water tank": {"duty": ["drinking_water"]},
    "a keel or rudder": {"duty": ["rig_keel_rudder"]},
    "a fire door": {"duty": ["building_duty"]},
    "two dangers at once": {"duty": ["tow_lift", "crash_structure"], "health": ["pregnant"]},
    "a hull below the waterline": {"item": "boat_bottom", "exposure": ["immersed_salt"]},
    "a part on which people depend": {"load_class": "safety_critical"},
    "a load in a building that was not ticked": {"item": "building_part", "load_class": "structural",
                                                 "duty": ["none_of_these"]},
    "a gas pipe": {"site": ["live_services"]},
    "asbestos": {"site": ["asbestos_possible"]},
    "alone in a hull": {"site": ["confined_space"], "confined_space_ready": "no"},
    "inside a tank with a friend": {"site": ["confined_space"], "confined_space_ready": "yes", "item": "rain_tank"},
    "somebody sensitised": {"health": ["sensitised"]},
}
NO_DUTY: dict[str, Raw] = {"duty": ["none_of_these"], "site": ["none_of_these"], "health": ["none_of_these"]}
VESSELS: dict[str, dict[str, Raw]] = {
    "a pool filter": {"item": "housing", "exposure": ["pool_water"]},
    "a box of acid": {"item": "other", "exposure": ["battery_acid"]},
    "a hot-water tank": {"item": "rain_tank", "exposure": ["heat", "immersed_fresh"], "service_temperature": "85 C"},
    "a heated housing full of water": {"item": "housing", "exposure": ["heat", "immersed_fresh"],
                                       "service_temperature": "70 C"},
}
WORK = ("method", "choices", "steps", "quantities", "batches", "specification", "conditions", "checks", "readings",
        "working_times", "review", "onward", "confirm")


def asked(advisor: Advisor, goal: str, stop: dict[str, Raw]) -> list[Advice]:
    """The advice where everything else is answered, and where nothing else is."""
    whole = answer_file.read(SCENARIOS / f"{GOALS[goal]}.yaml").answers
    assert whole["goal"] == goal
    cases = [advisor.consult({**whole, **stop}), advisor.consult({"goal": goal, **stop})]
    assert not any(case.contradictions() for case in cases)
    return [case.advice() for case in cases]


@pytest.mark.parametrize("goal", GOALS)
@pytest.mark.parametrize("stop", STOPS)
def test_no_method_and_no_amounts_however_it_is_asked(advisor: Advisor, stop: str, goal: str) -> None:
    whole, alone = asked(advisor, goal, STOPS[stop])
    for advice in (whole, alone):
        assert not [name for name in WORK if getattr(advice, name)]
    assert whole.status in ("stop", "refer") and whole.turn_to
    assert alone.status in ("stop", "refer", "incomplete")
    text = plain_text(whole, advisor.rule_base)
    assert not [unit for unit in (" mm", " kg", " mL", " g ", " coats", " % of") if unit in text]


@pytest.mark.parametrize("goal", [goal for goal in GOALS if goal != "went_wrong"])  # which asks for no exposure
def test_a_vessel_that_is_told_only_by_other_answers(advisor: Advisor, goal: str) -> None:
    fuel, _ = asked(advisor, goal, {**NO_DUTY, "item": "rain_tank", "exposure": ["weather", "fuel_oil"]})
    assert fuel.status == "refer" and not [name for name in WORK if getattr(fuel, name)]
    for vessel, answers in VESSELS.items():
        whole, _ = asked(advisor, goal, {**NO_DUTY, **answers})
        warned = "find_out_pressure" in [caution.id for caution in whole.cautions]
        assert warned or whole.status in ("stop", "refer"), vessel
    rain, _ = asked(advisor, goal, {**NO_DUTY, "item": "rain_tank", "exposure": ["weather", "immersed_fresh"]})
    assert "find_out_pressure" not in [caution.id for caution in rain.cautions]


def test_what_is_not_refused_gets_its_work(advisor: Advisor) -> None:
    """So that the test above can fail."""
    for goal in GOALS:
        whole, _ = asked(advisor, goal, {})
        assert [name for name in WORK if getattr(whole, name)], goal
