"""The drawings against the numbers of the advice they are made from, for every scenario and for invented numbers."""

from __future__ import annotations

import re
from functools import cache
from itertools import combinations, pairwise
from math import cos, exp, hypot, sin
from pathlib import Path
from xml.etree import ElementTree as ET

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from advisor import answer_file
from advisor.cli import main
from advisor.consultation.advice import Advice, PlyDrawn
from advisor.consultation.consult import Advisor
from advisor.drawings import Drawing, course, drawings_of, layers, light, section, standing
from advisor.drawings.shapes import Canvas
from advisor.knowledge.drawable import PARTS, SECTIONS
from advisor.knowledge.model import Draw

SVG = "{http://www.w3.org/2000/svg}"
SCENARIOS = sorted((Path(__file__).parents[2] / "scenarios").glob("*.yaml"))
GAS_CONSTANT = 8.314462618e-3  # kJ/mol/K, CODATA 2018 (exact since the SI of 2019)


@cache
def advisor() -> Advisor:
    return Advisor.from_folder()


@cache
def advice_of(path: Path) -> Advice:
    file = answer_file.read(path)
    return advisor().consult(file.answers, file.title, None, file.places).advice()


def drawn(path: Path, start: str) -> list[Drawing]:
    return [one for one in drawings_of(advice_of(path)) if one.id.startswith(start)]


def numbers(element: ET.Element) -> list[tuple[float, float]]:
    pairs = (pair.split(",") for pair in element.attrib["points"].split())
    return [(float(x), float(y)) for x, y in pairs]


def marked(drawing: Drawing, name: str) -> list[ET.Element]:
    return [one for one in ET.fromstring(drawing.svg).iter() if f"data-{name}" in one.attrib]


def readable(one: Drawing) -> None:
    """Self-contained, inside its frame, told in words, and no text on another or on a sign."""
    root = ET.fromstring(one.svg)
    assert root.tag == f"{SVG}svg" and root.attrib["role"] == "img"
    assert root.find(f"{SVG}title") is not None and root.findtext(f"{SVG}desc") == one.description
    assert float(root.attrib["font-size"]) >= 16
    left, top, width, height = map(float, root.attrib["viewBox"].split())
    assert (left, top) == (0, 0) and width <= 328  # the page at 360 px has 328 px inside its margins
    outside = re.sub(r'xmlns(:\w+)?="[^"]*"', "", one.svg)
    assert "http" not in outside and "<image" not in outside and "<script" not in outside
    for shape in root.iter(f"{SVG}polygon"):
        assert all(-0.01 <= x <= width + 0.01 and -0.01 <= y <= height for x, y in numbers(shape)), one.id
    for text in root.iter(f"{SVG}text"):  # a sign of a plain face at 16 takes 8 on the average
        assert text.attrib["text-anchor"] != "start" or float(text.attrib["x"]) + 8 * len(text.text or "") < 328
    boxes = []
    for text in ET.fromstring(one.svg).iter(f"{SVG}text"):
        x, y, wide = float(text.attrib["x"]), float(text.attrib["y"]), 7.5 * len(text.text or "")
        left = {"start": x, "middle": x - wide / 2, "end": x - wide}[text.attrib["text-anchor"]]
        boxes.append((left, left + wide, y - 11, y, text.text))
    for (a, b, c, d, first), (e, f, g, h, second) in combinations(boxes, 2):
        assert b <= e or f <= a or d <= g or h <= c, (one.id, first, second)
    rings = [(float(ring.attrib["cx"]), float(ring.attrib["cy"])) for ring in root.iter(f"{SVG}circle")
             if ring.attrib["r"] == "11"]
    for (x, y), (p, q) in combinations(rings, 2):
        assert hypot(x - p, y - q) >= 21.9, (one.id, "signs on each other")
    for left, right, top, low, said in boxes:
        for x, y in rings:
            apart = hypot(x - min(max(x, left), right), y - min(max(y, top), low))
            assert apart >= 11 or x == pytest.approx((left + right) / 2), (one.id, "a sign on a text", said)
    for x, y in rings:
        assert 11 <= x <= width - 11 and y >= 11, (one.id, "a sign that is cut")


each = pytest.mark.parametrize("path", SCENARIOS, ids=lambda path: path.stem)


@each
def test_every_drawing_is_whole_readable_and_self_contained(path: Path) -> None:
    found = drawings_of(advice_of(path))
    assert len({one.id for one in found}) == len(found)
    if advice_of(path).status in ("stop", "refer", "incomplete"):
        assert found == ()
    for one in found:
        readable(one)


@each
def test_the_section_has_every_ply_in_order_and_to_scale(path: Path) -> None:
    for one in drawn(path, "section"):
        plies = [ply for ply in advice_of(path).drawn.plies if ply.width_mm]
        shapes = marked(one, "ply")
        assert [int(shape.attrib["data-ply"]) for shape in shapes] == [ply.number for ply in plies]
        taper, opening = one.parts.get("taper_mm"), one.parts.get("opening_mm", 0.0)
        scale, face = one.parts["scale"], one.parts.get("face")
        for shape, ply in zip(shapes, plies, strict=True):
            xs = [x for x, _ in numbers(shape)]
            shortened = max(opening - taper, 0.0) if taper else 0.0
            wide = ((ply.width_mm or 0) - shortened) * scale
            if face is None:
                assert max(xs) - min(xs) == pytest.approx(wide, abs=0.05)
            else:  # a strip in a corner reaches half its width along each part
                assert max(xs) - face == pytest.approx(wide / 2, abs=0.05)
                assert one.parts["base"] - min(y for _, y in numbers(shape)) == pytest.approx(wide / 2, abs=0.05)
        if taper:
            told = advice_of(path).drawn.numbers["taper_length"]
            assert (taper, told.unit) == (pytest.approx(told.likely), "mm")
            old = [numbers(s) for s in marked(one, "part") if s.attrib["data-part"] == "old"][0]
            assert old[1][0] - old[2][0] == pytest.approx(taper * scale, abs=0.05)
            assert one.parts["overhang_mm"] == pytest.approx(
                (max(ply.width_mm or 0 for ply in plies) - opening) / 2 - taper)


# Which numbers of the advice a section is drawn from, by the measure it tells.
_FROM = {"thickness_mm": "panel_thickness", "overlap_mm": "overlap_width", "bed_mm": "bond_line",
         "across_mm": "damage_width", "depth_mm": "damage_depth", "taper_mm": "taper_length",
         "opening_mm": "opening_width", "ramp_mm": "lap_ramp"}


@each
def test_the_section_is_drawn_from_the_numbers_of_the_advice(path: Path) -> None:
    for one in drawn(path, "section"):
        facts = advice_of(path).drawn.numbers
        for measure, fact in _FROM.items():
            if one.parts.get(measure) and fact in facts and not (measure == "thickness_mm" and "bubble" in one.title):
                assert one.parts[measure] == pytest.approx(facts[fact].likely), measure
        scale = one.parts["scale"]
        for units, measure, factor in (("overlap_units", "overlap_mm", 1), ("across_units", "across_mm", 1),
                                       ("width_units", "width_mm", 1), ("bed_units", "bed_mm", one.parts["factor"]),
                                       ("taper_units", "taper_mm", 1), ("ramp_units", "ramp_mm", 1)):
            if units in one.parts:
                assert one.parts[units] == pytest.approx(one.parts[measure] * scale * factor)


@settings(max_examples=60)
@given(st.floats(20, 400), st.floats(20, 400), st.floats(30, 75))
def test_holes_reach_every_place_of_a_bubble(one: float, other: float, pitch: float) -> None:
    long, short = max(one, other), min(one, other)
    holes = light.holes_over(long, short, pitch)
    assert holes[0] == pytest.approx((0.0, -short / 2))  # the lowest hole first
    assert all(hypot(2 * x / long, 2 * y / short) <= 1.001 for x, y in holes)
    for step in range(40):
        turned, out = step * 0.7, (step % 8) / 8
        place = out * long / 2 * sin(turned), out * short / 2 * cos(turned)
        assert min(hypot(place[0] - x, place[1] - y) for x, y in holes) <= pitch


@given(st.floats(-60, 60), st.floats(0, 40), st.floats(1, 30))
def test_glass_in_a_corner_stays_outside_the_parts(along: float, away: float, radius: float) -> None:
    from_standing, from_level = standing.rounded(along, away, radius)
    assert min(from_standing, from_level) >= -1e-9
    if away < radius < abs(along):
        assert (from_level if along < 0 else from_standing) == pytest.approx(away)
    if away < radius and abs(along) <= radius:  # on a round about the middle of the fillet
        assert hypot(radius - from_standing, radius - from_level) == pytest.approx(radius - away)


@each
def test_pieces_neither_overlap_nor_leave_the_roll(path: Path) -> None:
    for one in drawn(path, "roll"):
        length, width = one.parts["roll_mm"]
        shapes = [numbers(shape) for shape in marked(one, "x-mm")]
        roll = next(numbers(s) for s in marked(one, "part") if s.attrib["data-part"] == "roll")
        for _, x, y, long, wide in one.parts["pieces_mm"]:
            assert x >= 0 and y >= 0 and x + long <= length + 0.01 and y + wide <= width + 0.01
        for shape in shapes:
            assert shape[0][0] >= roll[0][0] - 0.01 and shape[2][0] <= roll[2][0] + 0.01
            assert shape[0][1] >= roll[0][1] - 0.01 and shape[2][1] <= roll[2][1] + 0.01
        for a, b in combinations(shapes, 2):
            assert (a[2][0] <= b[0][0] + 0.02 or b[2][0] <= a[0][0] + 0.02
                    or a[2][1] <= b[0][1] + 0.02 or b[2][1] <= a[0][1] + 0.02)
        assert 0 <= one.parts["waste"] < 1


@each
def test_the_patches_from_above_have_their_sizes(path: Path) -> None:
    for one in drawn(path, "plan"):
        sizes = {ply.number: (ply.length_mm or 0, ply.width_mm or 0) for ply in advice_of(path).drawn.plies}
        for shape in marked(one, "length-mm"):
            corner, _, far, _ = numbers(shape)
            length, width = sizes[int(shape.attrib["data-ply"])]
            sides = 2 if any(part.part == "both_sides" for part in advice_of(path).drawn.parts) else 1
            assert far[0] - corner[0] == pytest.approx(length / sides * one.parts["scale"], abs=0.03)
            assert far[1] - corner[1] == pytest.approx(width * one.parts["scale"] * one.parts["factor"], abs=0.03)


@each
def test_the_time_line_has_the_times_of_the_batches(path: Path) -> None:
    for one in drawn(path, "time-line"):
        batches = advice_of(path).batches
        if batches:
            shapes = marked(one, "batch")
            assert [int(shape.attrib["data-batch"]) for shape in shapes] == [batch.number for batch in batches]
            first = min(x for x, _ in numbers(shapes[0]))
            for shape, batch in zip(shapes, batches, strict=True):
                xs = [x for x, _ in numbers(shape)]
                assert min(xs) - first == pytest.approx(batch.start_min * one.parts["scale"], abs=0.03)
                assert max(xs) - min(xs) == pytest.approx(batch.place_within_min * one.parts["scale"], abs=0.03)
        held = [step.number for step in advice_of(path).steps if step.wait or step.hold_point]
        assert one.parts["steps"] == held


@each
def test_the_curve_is_the_formula(path: Path) -> None:
    """Against the Arrhenius equation written here once more."""
    for one in drawn(path, "working-time"):
        line = advice_of(path).working_times[0]
        for temperature, minutes in one.parts["points"]:
            turned = 1 / (temperature + 273.15) - 1 / (line.temperature_C + 273.15)
            expected = line.time_min.likely * exp(line.activation_energy_kJ_mol / GAS_CONSTANT * turned)
            assert minutes == pytest.approx(expected, rel=1e-6)


@pytest.mark.parametrize("name", ["lap-that-fits", "hole-from-both-sides", "us-units-wide-gap"])
def test_the_curve_is_what_the_command_computes(name: str, capsys: pytest.CaptureFixture[str]) -> None:
    path = SCENARIOS[0].parent / f"{name}.yaml"
    one, = drawn(path, "working-time")
    line = advice_of(path).working_times[0]
    for temperature, minutes in one.parts["points"][::8]:
        assert main(["compute", "working_time_min", f"reference_time_min={line.time_min.likely!r}",
                     f"reference_temperature_C={line.temperature_C!r}", f"temperature_C={temperature!r}",
                     f"activation_energy_kJ_mol={line.activation_energy_kJ_mol!r}"]) == 0
        printed = re.search(r"([\d.]+) min", capsys.readouterr().out)
        assert printed and float(printed[1]) == pytest.approx(minutes, rel=6e-3)  # three digits are printed


@given(st.lists(st.floats(10, 1500), min_size=1, max_size=8), st.floats(10, 5000), st.floats(10, 20000))
def test_packs_change_where_their_content_ends(packs: list[float], volume: float, length: float) -> None:
    places = course.changes(tuple(packs), volume, length)
    assert all(0 < place < length for place in places) and places == sorted(places)
    for place, pack in zip((b - a for a, b in pairwise([0.0, *places])), packs, strict=False):
        assert place * volume / length == pytest.approx(pack, rel=1e-6, abs=1e-6)


@given(st.lists(st.tuples(st.floats(0.1, 3), st.floats(20, 900)), min_size=1, max_size=12), st.floats(0, 12))
def test_plies_lie_on_each_other(sizes: list[tuple[float, float]], feather: float) -> None:
    plies = [PlyDrawn(number=n, glass="cloth", woven=True, thickness_mm=thick, width_mm=wide, length_mm=wide)
             for n, (thick, wide) in enumerate(sizes, 1)]
    outlines = layers.stacked(plies, lambda x: 0.0, [-0.01, 0.01], min(feather, 9))
    for ply, outline in zip(plies, outlines, strict=True):
        assert max(x for x, _ in outline) == pytest.approx((ply.width_mm or 0) / 2)
        tall: dict[float, list[float]] = {x: [] for x, _ in outline}
        for x, z in outline:
            tall[x].append(z)
        assert max(max(z) - min(z) for z in tall.values()) == pytest.approx(ply.thickness_mm)
    middle = [[z for x, z in outline if x == 0.01] for outline in outlines]
    for below, above in pairwise(middle):
        assert max(below) == pytest.approx(min(above))


@given(st.text(max_size=200))
def test_no_text_becomes_markup(text: str) -> None:
    hostile = text + "<script>alert(1)</script>\"'&\u202e]]>"
    canvas = Canvas("one")
    canvas.text((0, 20), hostile)
    canvas.box(0, 0, 1, 1, "mat", data_x=hostile)
    root = ET.fromstring(canvas.svg(hostile, hostile))
    assert {one.tag.removeprefix(SVG) for one in root.iter()} == {
        "svg", "title", "desc", "defs", "pattern", "path", "polygon", "text"}
    assert "\u202e" not in "".join(root.itertext())


# Ways of the scenarios whose work has a section; the rest is care, or causes of what went wrong.
_WITH_SECTION = {"bond", "laminate", "bond_and_laminate", "bond_and_fasten", "fasten", "rebuild_laminate",
                 "backed_patch", "open_and_rebuild", "inject", "surface_repair", "reseal"}


def test_all_work_has_a_section() -> None:
    kinds = {advice_of(path).method for path in SCENARIOS if drawn(path, "section")}
    assert kinds == _WITH_SECTION
    measured = [path for path in SCENARIOS if path.stem != "nothing-known"]  # what nobody measured cannot be drawn
    assert all(drawn(path, "section") for path in measured if advice_of(path).method in _WITH_SECTION)


# One scenario for each section, drawn with other numbers than its own.
_ONE_OF_EACH = ("hole-from-both-sides", "closed-fairing-from-the-front", "cold-damp-evening",
                "first-timer-glue-or-laminate", "lap-that-fits", "light-pull-in-a-hot-place", "hatch-frame-close-call",
                "bulkhead-in-a-cabin",
                "plan-bulkhead-mat-in-epoxy", "small-dry-bubble", "gel-coat-scratch", "judge-leak-at-a-roof-rail")


@pytest.mark.parametrize("name", _ONE_OF_EACH)
@settings(max_examples=12, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(st.floats(0.3, 4), st.floats(0.3, 4), st.integers(1, 16))
def test_a_section_stays_readable_with_other_numbers(name: str, one: float, other: float, count: int) -> None:
    advice = advice_of(SCENARIOS[0].parent / f"{name}.yaml")
    parts = tuple(part.model_copy(update={"measures": {
        role: length.model_copy(update={"likely": length.likely * (one if place % 2 else other)})
        if length.unit == "mm" else length for place, (role, length) in enumerate(sorted(part.measures.items()))}})
        for part in advice.drawn.parts)
    plies = advice.drawn.plies
    if plies:
        first = plies[0].width_mm or 100.0
        plies = tuple(plies[0].model_copy(update={"number": number, "width_mm": (first + 25 * number) * one})
                      for number in range(1, count + 1))
    changed = advice.model_copy(update={"drawn": advice.drawn.model_copy(update={"parts": parts, "plies": plies})})
    readable(next(drawing for drawing in drawings_of(changed) if drawing.id == "section"))


def test_every_part_that_rules_name_is_drawn() -> None:
    assert set(section.DRAWN) == set(SECTIONS)
    named = {line.part for rule in advisor().rule_base.rules.values() for line in rule.then if isinstance(line, Draw)}
    assert named == set(PARTS)


def test_drawings_name_no_fact() -> None:
    """What a drawing is made of is said in rules/; no id of the vocabulary stands in the code that draws."""
    facts = set(advisor().rule_base.facts)
    written = {text for module in (Path(section.__file__).parent).glob("*.py")
               for text in re.findall(r"""["']([a-z][a-z_.]+)["']""", module.read_text(encoding="utf-8"))}
    assert written & facts == set()


def test_a_part_without_a_core_is_drawn_without() -> None:
    path = next(path for path in SCENARIOS if path.stem == "judge-old-patch-lifts")
    one, = drawn(path, "section")
    assert advice_of(path).drawn.words["core_state"] == "no_core"
    assert "core" not in {shape.attrib["data-part"] for shape in marked(one, "part")}


# Joints that no scenario has: invented answers over those of a scenario.
_OTHERWISE = {
    "corner under glass": ("lap-that-fits", {"joint_form": "corner", "load_class": "structural",
                                             "access": "both_sides"}),
    "corner, glued": ("lap-that-fits", {"joint_form": "corner", "load_class": "cosmetic", "access": "both_sides"}),
    "tee, glued": ("lap-that-fits", {"joint_form": "tee", "load_class": "cosmetic", "access": "both_sides"}),
    "edges under glass": ("lap-that-fits", {"joint_form": "butt", "load_class": "structural", "gap_max": "4 mm",
                                            "access": "both_sides"}),
    "tee, fastened": ("hot-engine-cover", {"joint_form": "tee", "access": "both_sides"}),
    "edges, fastened": ("hot-engine-cover", {"joint_form": "butt", "access": "both_sides"})}


@pytest.mark.parametrize("name", _OTHERWISE)
def test_joints_that_no_scenario_has(name: str) -> None:
    base, changed = _OTHERWISE[name]
    answers = dict(answer_file.read(SCENARIOS[0].parent / f"{base}.yaml").answers)
    answers.pop("overlap_width", None)
    advice = advisor().consult({**answers, **changed}, name, None).advice()
    one = next(one for one in drawings_of(advice) if one.id == "section")
    readable(one)
    parts = {shape.attrib["data-part"] for shape in marked(one, "part")}
    wanted = {"corner": "upright", "tee": "upright", "edges": "old"}[re.split("[ ,]", name)[0]]
    assert wanted in parts
    assert ("fastener" in parts) == (advice.method == "fasten")
    assert not advice.drawn.plies or marked(one, "ply")
