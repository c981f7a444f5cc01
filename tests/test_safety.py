"""What must hold for every case, over random answers with a fixed seed.

The invariants are those of the project: nothing on the stop list gets a method; no polyester on what styrene
dissolves nor over cured epoxy; the peroxide dose stays inside its limits; cautions belong to what is used.
"""

from __future__ import annotations

from functools import cache
from random import Random

import pytest

from advisor.consultation.advice import Advice
from advisor.consultation.consult import Advisor, Consultation
from advisor.consultation.texts import NOT_KNOWN
from tests.random_answers import consistent_answers

CASES = 250
STOP_DUTIES = ("seat_belt", "steering_suspension_brake", "crash_structure", "tow_lift", "access_gear", "aircraft",
               "pressure_vessel", "fuel_gas_tank", "drinking_water", "rig_keel_rudder", "building_duty")


OTHER_STOPS = (("item", "boat_bottom"), ("load_class", "safety_critical"), ("site", "live_services"),
               ("site", "asbestos_possible"), ("health", "sensitised"), ("site", "confined_space"))
EACH_STOP = 5


@cache
def consulted() -> list[Consultation]:
    """Random cases, and for every stop a few random cases into which it is put."""
    advisor = Advisor.from_folder()
    random = Random(20)
    stops = [*(("duty", duty) for duty in STOP_DUTIES), *OTHER_STOPS]
    put_in: list[tuple[str, str] | None] = [None] * CASES + stops * EACH_STOP
    found = []
    for stop in put_in:
        raw = consistent_answers(advisor, random, unknown=0.03)
        if stop:
            several = advisor.rule_base.facts[stop[0]].kind == "several"
            raw[stop[0]] = [stop[1]] if several else stop[1]
        case = advisor.consult(raw)
        if not case.contradictions():
            found.append(case)
    return found


@cache
def cases() -> list[tuple[dict[str, object], Advice]]:
    """The answers that matter and the advice of each case."""
    return [(_values(case), case.advice()) for case in consulted()]


def _values(case: object) -> dict[str, object]:
    """The answers that matter for the case; what is not asked must not stop anything either."""
    return {answer.question: answer.value for answer in case.relevant_answers()}  # type: ignore[attr-defined]


def chosen(advice: Advice, decision: str) -> str | None:
    return next((choice.chosen for choice in advice.choices if choice.decision == decision), None)


def fact(advice: Advice, name: str) -> str | None:
    return next((line.value for line in advice.trace if line.fact == name), None)


def test_enough_cases_end_in_advice() -> None:
    statuses = [advice.status for _, advice in cases()]
    assert len(statuses) > CASES
    assert statuses.count("advice") + statuses.count("close_call") > CASES * 0.3


def test_every_case_ends_in_a_method_a_referral_or_a_named_missing_answer() -> None:
    for answers, advice in cases():
        if advice.status in ("advice", "close_call"):
            assert any(choice.chosen for choice in advice.choices), answers
            assert advice.steps and advice.conditions, answers
            assert (advice.method is None) == (answers["goal"] == "went_wrong"), answers
        else:
            assert advice.method is None and (advice.turn_to or advice.missing), answers


@pytest.mark.parametrize("duty", STOP_DUTIES)
def test_the_stop_list_never_gets_a_method(duty: str) -> None:
    hit = [advice for answers, advice in cases() if duty in answers.get("duty", ())]  # type: ignore[operator]
    assert hit
    for advice in hit:
        assert advice.status in ("stop", "refer") and advice.method is None and advice.turn_to
        assert not (advice.steps or advice.quantities or advice.specification or advice.batches or advice.choices)


@pytest.mark.parametrize(("question", "value"), OTHER_STOPS[:-1])
def test_other_stops_never_get_a_method(question: str, value: str) -> None:
    hit = [advice for answers, advice in cases() if value in answers.get(question, ())]  # type: ignore[operator]
    assert hit
    assert all(advice.method is None and not advice.steps for advice in hit)


def test_a_confined_space_without_air_and_watcher_is_a_stop() -> None:
    hit = [advice for answers, advice in cases()
           if "confined_space" in answers.get("site", ()) and answers.get("confined_space_ready") != "yes"]  # type: ignore[operator]
    assert hit
    assert all(advice.method is None for advice in hit)


def test_no_styrene_where_it_dissolves_nor_over_epoxy(advisor: Advisor) -> None:
    for answers, advice in cases():
        chemistry = fact(advice, "resin.chemistry")
        faces = [answers[name] for name in ("face_a", "face_b") if name in answers]
        things = advisor.rule_base.materials["face"]
        for face in faces:
            values = things[str(face)].values if str(face) in things else things["unidentified"].values
            if chemistry in ("polyester", "vinyl ester"):
                assert values.get("styrene_attacks") != "yes", answers
                assert values.get("matrix") != "epoxy", answers


def test_the_peroxide_dose_stays_between_one_and_three_percent() -> None:
    doses = [fact(advice, "catalyst_dose") for _, advice in cases()]
    given = [float(dose.split()[0]) for dose in doses if dose]
    assert given and all(1.0 <= dose <= 3.0 for dose in given)


def test_cautions_belong_to_what_is_used() -> None:
    for _, advice in cases():
        raised = {caution.id for caution in advice.cautions}
        if advice.method in (None, "care"):
            continue
        assert "glass_dust" in raised
        resin, adhesive = chosen(advice, "resin"), chosen(advice, "adhesive")
        if resin or adhesive:
            assert raised & {"solvent_fire", "adhesive_fire"}
            assert raised & {"resin_waste", "rag_fire"}
        if fact(advice, "resin.chemistry") in ("polyester", "vinyl ester"):
            assert {"styrene_vapour", "peroxide"} <= raised
        if fact(advice, "adhesive.gives_off_isocyanate") == "yes":
            assert "isocyanate" in raised
        if "epoxy" in {fact(advice, "resin.chemistry"), fact(advice, "adhesive.chemistry")}:
            assert "epoxy_skin" in raised


def test_no_text_is_left_open_and_no_number_without_unit() -> None:
    for _, advice in cases():
        assert NOT_KNOWN not in advice.to_json()
        for quantity in advice.quantities:
            assert quantity.unit
            if quantity.amount is not None:
                assert quantity.low is not None and quantity.high is not None
                assert 0 < quantity.low <= quantity.amount <= quantity.high


def test_no_fact_is_concluded_with_two_values(advisor: Advisor) -> None:
    for case in consulted():
        seen: dict[str, object] = {}
        for firing in case.concluded().firings:
            for derived in firing.rule.derives:
                if advisor.rule_base.facts[derived.key].kind != "several":
                    assert seen.setdefault(derived.key, derived.value) == derived.value, derived.key


def test_batches_stay_inside_the_working_time_and_the_cup() -> None:
    for _, advice in cases():
        for batch in advice.batches:
            assert 0 < batch.place_within_min < batch.stop_at_min
            assert 0 < batch.mass_kg <= 2.0


def test_a_stop_found_early_needs_no_more_answers(advisor: Advisor) -> None:
    """An interview ends at the first stop; what it would have asked after that must not hide the referral."""
    found = {"duty": "none_of_these", "site": "none_of_these", "health": "none_of_these", "goal": "plan_joint",
             "item": "housing", "load_class": "safety_critical"}
    case = advisor.consult(found)
    assert case.next_question() is None
    assert case.advice().status in ("stop", "refer") and case.advice().turn_to
