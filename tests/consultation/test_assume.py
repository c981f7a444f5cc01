"""What is taken for an answer nobody knows: by case, and without asking."""

from __future__ import annotations

from advisor.consultation.consult import Advisor

CRACK = {"goal": "plan_repair", "item": "vehicle_wall", "duty": "none_of_these", "site": "none_of_these",
         "health": "none_of_these", "damage_kind": "crack_through", "damage_length": "100 mm", "load_class": "panel",
         "exposure": "weather", "air_temperature": "20 C", "panel_thickness": "unknown"}
JUDGED = {**{name: value for name, value in CRACK.items() if name != "damage_kind"},
          "goal": "judge_damage", "seen": "opening", "face_a": "polyester_hand_laid"}


def _taken(advisor: Advisor, answers: dict[str, str], name: str) -> str:
    return next(line.value for line in advisor.consult(answers).advice().assumed if line.question == name)


def test_an_unknown_thickness_depends_on_the_face(advisor: Advisor) -> None:
    assert _taken(advisor, {**CRACK, "face_a": "polyester_hand_laid"}, "panel_thickness") == "4 mm"
    assert _taken(advisor, {**CRACK, "face_a": "thin_skin_sandwich"}, "panel_thickness") == "1.5 mm"


def test_an_unasked_question_is_taken_as_unknown_but_an_answer_given_counts(advisor: Advisor) -> None:
    case = advisor.consult(JUDGED)
    assert "work_place" not in case.so_far().untold and "work_place" in case.so_far().assumed
    assert _taken(advisor, JUDGED, "work_place") == "closed room or cellar"
    told = advisor.consult({**JUDGED, "work_place": "outdoors"})
    assert "work_place" not in told.so_far().assumed
    assert told.unused_answers() == []
    asked = advisor.consult({**CRACK, "face_a": "polyester_hand_laid"}).so_far()
    assert "work_place" in asked.untold
