"""Cross-sections: each ply where it lies, in order, on the profile that the work leaves."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from advisor.consultation.advice import PlyDrawn
from advisor.drawings.numbers import Job, factor_for, times
from advisor.drawings.shapes import WIDTH, Canvas, Drawing, Point

_ROOM = 96.0
_EDGE = 16.0
_STEP = 0.01  # mm beside an edge, so that a profile may jump there
Profile = Callable[[float], float]


def section(job: Job) -> Drawing | None:
    """The section of the job; None where the advice has no numbers to draw it from."""
    if job.mm("panel_thickness") is None:
        return None
    plies = [ply for ply in job.drawn.plies if ply.width_mm]
    if job.is_("work", "repair"):
        return _repair(job, plies) if plies and job.mm("taper_length") else None
    if plies:
        return _taped(job, plies)
    return _lap(job) if job.mm("overlap_width") else None


def stacked(plies: Sequence[PlyDrawn], ground: Profile, edges: Sequence[float],
            feather: float = 0.0) -> list[list[Point]]:
    """The outline of each ply in mm, each laid on what lies below it.

    Args:
        plies: in the order of laying, each with a width; all centred on 0.
        ground: height in mm of what the first ply lies on, by place in mm.
        edges: places where the ground bends.
        feather: length in mm over which the end of a ply thins out.
    """
    halves = [(ply.width_mm or 0) / 2 for ply in plies]
    places = sorted({*edges, *(side * (half - inward) for half in halves for side in (-1, 1)
                               for inward in (-_STEP, 0.0, feather) if half > inward)})
    tops = {x: ground(x) for x in places}
    outlines = []
    for ply, half in zip(plies, halves, strict=True):
        under = [x for x in places if abs(x) <= half]
        below = [(x, tops[x]) for x in under]
        for x in under:
            tops[x] += ply.thickness_mm * (min((half - abs(x)) / feather, 1.0) if feather else 1.0)
        outlines.append(below + [(x, tops[x]) for x in reversed(under)])
    return outlines


def _ply_entries(job: Job, plies: Sequence[PlyDrawn]) -> list[tuple[str, str]]:
    return [(str(ply.number), f"{ply.glass}, {job.said(ply.width_mm or 0)} wide") for ply in plies]


def _pattern(ply: PlyDrawn) -> str:
    return "woven" if ply.woven else "mat"


def _draw_plies(canvas: Canvas, plies: Sequence[PlyDrawn], outlines: Sequence[Sequence[Point]],
                place: Callable[[Point], Point], sign_y: float, within: tuple[float, float]) -> None:
    """The plies, and a row of numbers above them, each with a line to a dot in its ply."""
    for ply, outline in zip(plies, outlines, strict=True):
        canvas.shape([place(point) for point in outline], _pattern(ply), data_ply=float(ply.number),
                     data_width_mm=ply.width_mm or 0.0, data_thickness_mm=ply.thickness_mm)
    gap = min(44.0, (within[1] - within[0]) / max(len(plies) - 1, 1))
    first = (within[0] + within[1]) / 2 - gap * (len(plies) - 1) / 2
    for index, (ply, outline) in enumerate(zip(plies, outlines, strict=True)):
        points = [place(point) for point in outline]
        left, right = min(x for x, _ in points), max(x for x, _ in points)
        sign_x = first + gap * index
        x = min(max(sign_x, left + 4), right - 4) if right - left > 8 else (left + right) / 2
        half = len(points) // 2
        dot = (x, (_height(points[:half], x) + _height(points[half:][::-1], x)) / 2)
        canvas.line((sign_x, sign_y + 11), dot, weight=0.8)
        canvas.dot(dot)
        canvas.mark((sign_x, sign_y), str(ply.number))


def _height(line: Sequence[Point], x: float) -> float:
    for (x1, y1), (x2, y2) in zip(line, line[1:], strict=False):
        if x1 <= x <= x2:
            return y1 if x2 == x1 else y1 + (y2 - y1) * (x - x1) / (x2 - x1)
    return line[0][1]


def _repair(job: Job, plies: Sequence[PlyDrawn]) -> Drawing:
    thick, taper = job.mm("panel_thickness") or 0.0, job.mm("taper_length") or 0.0
    opening = job.mm("opening_width") or 0.0
    shown = min(opening, taper)
    cut = opening - shown
    widest = max(ply.width_mm or 0 for ply in plies)
    reach = max(widest - opening, 2 * taper) / 2
    half_shown = shown / 2 + reach + 0.16 * reach
    scale = (WIDTH - 4) / (2 * half_shown)
    total = thick + sum(ply.thickness_mm for ply in plies)
    factor = factor_for(scale, total, _ROOM)
    up, base = scale * factor, 52.0 + total * scale * factor

    def place(point: Point) -> Point:
        x, z = point
        beyond = max(abs(x) - cut / 2, 0.0) if cut else abs(x)
        return WIDTH / 2 + (beyond if x >= 0 else -beyond) * scale, base - z * up

    def ground(x: float) -> float:
        return min(max((abs(x) - opening / 2) / taper, 0.0), 1.0) * thick

    canvas = Canvas("section")
    far = half_shown + cut / 2
    for side in (-1, 1):
        canvas.shape([place(point) for point in ((side * far, 0), (side * opening / 2, 0),
                     (side * (opening / 2 + taper), thick), (side * far, thick))], "old", 1.4, data_part="old")
    entries: list[tuple[str, str]] = []
    low = base
    core = job.mm("core_thickness")
    if "core_state" in job.drawn.words:
        deep = min(core * up, 60.0) if core else 34.0
        left, right = place((-far, 0))[0], place((far, 0))[0]
        canvas.box(left, base, right - left, deep, "core", data_part="core")
        canvas.line((left, base + deep), (right, base + deep), weight=3)
        canvas.mark((WIDTH / 2, base + deep / 2), "C")
        entries.append(("C", f"Core, {job.said(core)} thick" if core and deep == core * up
                        else "Core; its thickness is not to scale"))
        low += deep
    elif opening:
        plate = (job.mm("plate_width") or opening + taper) / 2
        left, right = place((-plate, 0))[0], place((plate, 0))[0]
        canvas.box(left, base, right - left, 9, "hard" if job.mm("plate_width") else None, data_part="backing")
        canvas.line((right - 8, base + 5), (right + 4, base + 20), weight=0.8)
        canvas.mark((min(right + 10, WIDTH - 12), base + 26), "B")
        entries.append(("B", f"Backing, {job.said(2 * plate)} wide; its thickness is not to scale"
                        if job.mm("plate_width") else "Backing; its thickness is not to scale"))
        low += 9
    outlines = stacked(plies, ground, [side * edge for side in (-1, 1)
                                       for edge in (opening / 2, opening / 2 + taper, _STEP)],
                       taper / max(len(plies) - 1, 1))
    _draw_plies(canvas, plies, outlines, place, 14, (WIDTH / 2 - 120, WIDTH / 2 + 120))
    if cut:
        for x in (WIDTH / 2 - 3, WIDTH / 2 + 3):
            canvas.line((x, base - total * up - 2), (x, low + 3), "6 3 1 3", 0.8)
    y = low + (36 if opening and "core_state" not in job.drawn.words else 14)
    a, b, c = (place((side, 0))[0] for side in (-opening / 2 - taper, -opening / 2, opening / 2))
    canvas.span(a, b, y, "a")
    if c - b >= 8:
        canvas.span(b, c, y, "b")
    over = (widest - opening) / 2 - taper
    if over * scale >= 6:
        d, e = place((opening / 2 + taper, 0))[0], place((widest / 2, 0))[0]
        canvas.span(d, e, y, "c")
    side_words = job.drawn.labels.get("laid_from")
    notes = [("a", f"Taper {job.said(taper)}"), ("b", f"Opening {job.said(opening)} across")]
    if over * scale >= 6:
        notes.append(("c", f"Last ply passes the taper by {job.said(over)}"))
    notes.append(("", f"Old part {job.said(thick)} thick (slanted lines)."))
    if side_words:
        notes.append(("", f"Above in the drawing: {side_words}."))
    said = times(factor, "Thickness") + " Ends of the plies drawn thinned out." + (
        " Opening drawn shortened." if cut else "")
    canvas.legend([*_ply_entries(job, plies), *entries, *notes, ("", said)])
    described = (f"Section through the repair. The old part is {job.said(thick)} thick, its edge ground to a taper of "
                 f"{job.said(taper)} round an opening of {job.said(opening)}. {_told(job, plies)} {said}")
    return Drawing("section", "Section through the repair", described,
                   canvas.svg("Section through the repair", described),
                   {"taper_mm": taper, "opening_mm": opening, "thickness_mm": thick, "overhang_mm": over,
                    "scale": scale, "factor": factor, "taper_units": b - a, "outlines_mm": outlines,
                    "plies": [ply.number for ply in plies]})


def _told(job: Job, plies: Sequence[PlyDrawn]) -> str:
    return f"{len(plies)} plies in the order of laying: " + "; ".join(
        f"{sign}, {said}" for sign, said in _ply_entries(job, plies)) + "."


def _thickness(job: Job, thick_mm: float) -> str:
    return f"Both parts drawn {job.said(thick_mm)} thick, as told of the panel (slanted lines)."


def _taped(job: Job, plies: Sequence[PlyDrawn]) -> Drawing:
    """Glass over a joint. For a corner or a part that stands on the other it is drawn folded out flat."""
    thick = job.mm("panel_thickness") or 0.0
    gap = job.mm("gap_to_fill") or job.mm("gap_max") or 0.0
    widest = max(ply.width_mm or 0 for ply in plies)
    scale = (WIDTH - 4) / (widest * 1.16)
    total = thick + sum(ply.thickness_mm for ply in plies)
    factor = factor_for(scale, total, _ROOM)
    up, base = scale * factor, 52.0 + total * scale * factor

    def place(point: Point) -> Point:
        return WIDTH / 2 + point[0] * scale, base - point[1] * up

    canvas = Canvas("section")
    folded = job.is_("joint_form", "tee") or job.is_("joint_form", "corner")
    for side in (-1, 1):
        canvas.shape([place(point) for point in ((side * gap / 2, 0), (side * widest * 0.58, 0),
                     (side * widest * 0.58, thick), (side * gap / 2, thick))], "old", 1.4, data_part="old")
        canvas.mark((WIDTH / 2 + side * 120, base + 16), "A" if side < 0 else "B")
    if gap and job.is_("method.uses_adhesive", "yes"):
        canvas.shape([place(point) for point in ((-gap / 2, 0), (gap / 2, 0), (gap / 2, thick), (-gap / 2, thick))],
                     "bed", data_part="bed")
    outlines = stacked(plies, lambda x: thick, [-_STEP, _STEP])
    _draw_plies(canvas, plies, outlines, place, 14, (WIDTH / 2 - 120, WIDTH / 2 + 120))
    left, right = place((-(plies[0].width_mm or 0) / 2, 0))[0], place((0, 0))[0]
    first = (plies[0].width_mm or 0) / 2
    canvas.span(left, right, base + 34, "a")
    canvas.line((WIDTH / 2, base - total * up - 4), (WIDTH / 2, base + 8), "8 3 2 3", 0.8)
    gap_said = f"Gap between A and B {job.said(gap)}" + (
        ", filled with adhesive" if job.is_("method.uses_adhesive", "yes") else "")
    out = "The corner is drawn folded out flat: the middle line is the root of the corner. "
    lapped = "Drawn edge to edge; how far the parts overlap is not shown. " if job.is_("joint_form", "lap") else ""
    said = (out if folded else lapped) + times(factor, "Thickness")
    canvas.legend([*_ply_entries(job, plies), ("A", job.drawn.labels.get("face_a", "One part")),
                   ("B", job.drawn.labels.get("face_b", "The other part")),
                   ("a", f"First ply, {job.said(first)} on each side of the middle"), ("", gap_said + "."),
                   ("", _thickness(job, thick)), ("", said)])
    described = (f"Section through the joint. {_thickness(job, thick)} {gap_said}. {_told(job, plies)} {said}")
    return Drawing("section", "Section through the joint", described,
                   canvas.svg("Section through the joint", described),
                   {"thickness_mm": thick, "gap_mm": gap, "scale": scale, "factor": factor, "outlines_mm": outlines,
                    "plies": [ply.number for ply in plies]})


def _lap(job: Job) -> Drawing:
    """Two parts that overlap, with the bed of adhesive between them and the fasteners through them."""
    thick, overlap = job.mm("panel_thickness") or 0.0, job.mm("overlap_width") or 0.0
    bed = (job.mm("bond_line") or 0.0) if job.is_("method.uses_adhesive", "yes") else 0.0
    beyond = overlap * 0.9
    scale = (WIDTH - 4) / (overlap + 2 * beyond)
    factor = factor_for(scale, 2 * thick + bed, _ROOM)
    up, base = scale * factor, 44.0 + (2 * thick + bed) * scale * factor
    left, right = WIDTH / 2 - overlap * scale / 2, WIDTH / 2 + overlap * scale / 2
    far = beyond * scale
    canvas = Canvas("section")
    canvas.box(left, base - thick * up, overlap * scale + far, thick * up, "old", data_part="lower")
    if bed:
        canvas.box(left, base - (thick + bed) * up, overlap * scale, bed * up, "bed", data_part="bed",
                   data_thickness_mm=bed)
    top = base - (2 * thick + bed) * up
    canvas.box(left - far, top, overlap * scale + far, thick * up, "old", data_part="upper")
    count = job.count("fastener_count") if job.is_("method.uses_fasteners", "yes") else None
    entries = [("A", job.drawn.labels.get("face_a", "One part")),
               ("B", job.drawn.labels.get("face_b", "The other part"))]
    canvas.mark((left - far + 16, top + thick * up / 2), "A")
    canvas.mark((right + far - 16, base - thick * up / 2), "B")
    if count:
        canvas.shape([(WIDTH / 2 - 5, top), (WIDTH / 2 + 5, top), (WIDTH / 2 + 5, base), (WIDTH / 2 - 5, base)], "hard",
                     data_part="fastener")
        for y in (top - 6, base):
            canvas.box(WIDTH / 2 - 15, y, 30, 6, "hard")
        canvas.mark((WIDTH / 2, top - 24), "F")
        entries.append(("F", f"Fasteners, {count} along the joint; size not to scale"))
    if bed:
        mid = base - (thick + bed / 2) * up
        canvas.line((right - 8, mid), (right + 22, mid - 22), weight=0.8)
        canvas.dot((right - 8, mid))
        canvas.mark((right + 28, mid - 28), "G")
        entries.append(("G", f"Bed of adhesive, {job.said(bed)} thick"))
    canvas.span(left, right, base + 16, "a")
    said = times(factor, "Thickness")
    canvas.legend([*entries, ("a", f"Overlap {job.said(overlap)}"),
                   ("", _thickness(job, thick)), ("", said)])
    described = (f"Section through the joint. Two parts overlap by {job.said(overlap)}. {_thickness(job, thick)}"
                 + (f" The bed of adhesive between them is {job.said(bed)} thick." if bed else "")
                 + (f" {count} fasteners stand along the joint." if count else "") + f" {said}")
    return Drawing("section", "Section through the joint", described,
                   canvas.svg("Section through the joint", described),
                   {"overlap_mm": overlap, "bed_mm": bed, "thickness_mm": thick, "scale": scale, "factor": factor,
                    "overlap_units": right - left, "fasteners": count or 0})
