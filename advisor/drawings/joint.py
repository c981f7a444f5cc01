"""Sections through two parts side by side: edge to edge, or one over the other, glued, fastened or under glass."""

from __future__ import annotations

from collections.abc import Sequence

from advisor.consultation.advice import PlyDrawn
from advisor.drawings.layers import STEP, entries_of, finished, pointed, rows_for, signed, stacked
from advisor.drawings.numbers import Job, factor_for, times
from advisor.drawings.shapes import WIDTH, Canvas, Drawing, Entry, Point

TITLE = "Section through the joint"
_ROOM = 96.0
_SIGNS = (WIDTH / 2 - 120, WIDTH / 2 + 120)
_THIN = 9.0  # what has no thickness of its own on the page


def edge_to_edge(job: Job) -> Drawing:
    """Two parts edge to edge, with glass over them or a strip behind."""
    plies = [ply for ply in job.drawn.plies if ply.width_mm]
    thick, gap = job.mm("edge_to_edge", "thickness") or 0.0, job.mm("edge_to_edge", "gap") or 0.0
    strip = job.mm("strip_behind", "across") or 0.0
    widest = max([strip, 12 * thick, *(ply.width_mm or 0 for ply in plies)])
    scale = (WIDTH - 4) / (widest * 1.16)
    glass = sum(ply.thickness_mm for ply in plies)
    both = bool(plies) and job.has("both_sides")
    factor = factor_for(scale, thick + glass * (2 if both else 1), _ROOM)
    up = scale * factor
    top = 28.0 + 24 * rows_for(len(plies), _SIGNS) + glass * up if plies else 12.0
    base = top + thick * up

    def place(point: Point) -> Point:
        return WIDTH / 2 + point[0] * scale, base - point[1] * up

    def mirrored(point: Point) -> Point:
        x, y = place(point)
        return x, base + (top - y)

    canvas = Canvas("section")
    for side in (-1, 1):
        canvas.shape([place(point) for point in ((side * gap / 2, 0), (side * widest * 0.58, 0),
                     (side * widest * 0.58, thick), (side * gap / 2, thick))], "old", 1.4, data_part="old")
    filled = job.has("bed") or job.has("filled_gap")
    if gap and filled:
        canvas.shape([place(point) for point in ((-gap / 2, 0), (gap / 2, 0), (gap / 2, thick), (-gap / 2, thick))],
                     "bed", data_part="bed")
    low, behind = _behind(job, canvas, scale, (top, base))
    outlines = stacked(plies, lambda x: thick, [-STEP, STEP])
    if both:
        for outline, ply in zip(outlines, plies, strict=True):
            canvas.shape([mirrored(point) for point in outline], "woven" if ply.woven else "mat", data_part="mirrored")
        low = base + glass * up
    signed(canvas, plies, outlines, place, 14, _SIGNS)
    canvas.line((WIDTH / 2, top - glass * up - 4), (WIDTH / 2, low + 8), "8 3 2 3", 0.8)
    for x, sign in ((WIDTH / 2 - 110, "A"), (WIDTH / 2 + 110, "B")):
        canvas.mark((x, base - thick * up / 2 if thick * up >= 22 else low + 16), sign)
    notes: list[Entry] = [("", job.key("both_sides") if both else "")]
    if plies:
        first = (plies[0].width_mm or 0) / 2
        canvas.span(place((-first, 0))[0], WIDTH / 2, low + 34, "a")
        notes.append(("a", f"First ply, {job.said(first)} on each side of the middle"))
    filling = job.key("filled_gap") or (job.key("bed") if not strip else "")
    notes.append(("", f"Gap between A and B {job.said(gap)}. {filling}".strip() if gap else ""))
    return finished(canvas, TITLE, [
        *entries_of(job, plies), ("A", job.key("part_a")), ("B", job.key("part_b")), *behind, *notes,
        ("", job.key("edge_to_edge")), ("", times(factor, "Thickness"))], {
        "thickness_mm": thick, "gap_mm": gap, "scale": scale, "factor": factor, "outlines_mm": outlines,
        "plies": [ply.number for ply in plies]})


def _behind(job: Job, canvas: Canvas, scale: float, ends: tuple[float, float]) -> tuple[float, list[Entry]]:
    """A strip or a backing behind the joint: how far down it reaches, and its place in the key."""
    top, base = ends
    part = next((one for one in ("strip_behind", "backing") if job.has(one)), None)
    if part is None:
        return base, []
    wide = job.mm(part, "across") or 0.0
    wide = wide * scale if wide else WIDTH * 0.3  # what has no width of its own
    bed = 5.0 if part == "strip_behind" and job.has("bed") else 0.0
    if bed:
        canvas.box(WIDTH / 2 - wide / 2, base, wide, bed, "bed", data_part="bed")
    canvas.box(WIDTH / 2 - wide / 2, base + bed, wide, _THIN, "old" if part == "strip_behind" else None, data_part=part)
    said = ". ".join(filter(None, (job.key(part), job.key("bed") if bed else "")))
    entries = [("S", f"{said}. Not to scale in thickness")]
    if job.has("fasteners") and part == "strip_behind":
        shank = max((job.mm("fasteners", "shank") or 0.0) * scale, 4.0)
        for side in (-1, 1):
            canvas.box(WIDTH / 2 + side * wide / 4 - shank / 2, top - 5, shank, base + bed + _THIN + 10 - top, "solid",
                       data_part="fastener")
        pointed(canvas, (WIDTH / 2 - 40, base + 34), (WIDTH / 2 - wide / 4, base + bed + _THIN + 3), "F")
        entries.append(("F", f"{job.key('fasteners')}; one row through each part"))
    pointed(canvas, (WIDTH / 2 + 40, base + 34), (WIDTH / 2 + min(30.0, wide / 2 - 4), base + bed + 5), "S")
    return base + 40, entries


def overlap(job: Job) -> Drawing:
    """Two parts that overlap: the bed between them, fasteners through them, and glass over the step."""
    thick, wide = job.mm("overlap", "thickness") or 0.0, job.mm("overlap", "overlap") or 0.0
    bed = job.mm("bed", "thickness") or 0.0
    plies = [ply for ply in job.drawn.plies if ply.width_mm]
    if plies:
        return _lap_under_glass(job, plies, thick, wide, bed)
    scale = (WIDTH - 4) / (wide * 2.8)
    factor = factor_for(scale, 2 * thick + bed, _ROOM)
    up, head = scale * factor, 44.0 if job.has("fasteners") else 16.0
    base = head + (2 * thick + bed) * up
    left, right = WIDTH / 2 - wide * scale / 2, WIDTH / 2 + wide * scale / 2
    far, canvas = 0.9 * wide * scale, Canvas("section")
    top = _flanges(canvas, (left, right, far, base), (thick * up, bed * up), bed)
    entries: list[Entry] = [("A", job.key("part_a")), ("B", job.key("part_b"))]
    for at, sign in (((left - far + 16, top + thick * up / 2), "A"), ((right + far - 16, base - thick * up / 2), "B")):
        canvas.mark(at, sign)
    low = base
    if job.has("fasteners"):
        low = _fastener(job, canvas, (top, base), scale)
        entries.append(("F", job.key("fasteners") + ". Their height is not to scale"))
        canvas.span(WIDTH / 2, right, low + 44, "b")
    if bed:
        mid = base - (thick + bed / 2) * up
        pointed(canvas, (right + 28, mid - 28), (right - 8, mid), "G")
        entries.append(("G", job.key("bed")))
    canvas.span(left, right, low + 16, "a")
    notes = [("a", f"Overlap {job.said(wide)}")]
    if job.has("fasteners"):
        edge = job.mm("fasteners", "edge") or 0.0
        notes.append(("b", f"Middle of a hole to the edge: {job.said(wide / 2)} in the middle of this overlap; at "
                           f"least {job.said(edge)}"))
    return finished(canvas, TITLE, [*entries, *notes, ("", job.key("overlap")), ("", times(factor, "Thickness"))], {
        "overlap_mm": wide, "bed_mm": bed, "thickness_mm": thick, "scale": scale, "factor": factor,
        "overlap_units": right - left, "fasteners": job.count("fasteners", "count")})


def _flanges(canvas: Canvas, place: tuple[float, float, float, float], heights: tuple[float, float],
             bed_mm: float) -> float:
    """Both flanges with the bed between them; the height of their top."""
    left, right, far, base = place
    thick, bed = heights
    canvas.box(left, base - thick, right - left + far, thick, "old", data_part="lower")
    if bed:
        canvas.box(left, base - thick - bed, right - left, bed, "bed", data_part="bed", data_thickness_mm=bed_mm)
    top = base - 2 * thick - bed
    canvas.box(left - far, top, right - left + far, thick, "old", data_part="upper")
    return top


def _fastener(job: Job, canvas: Canvas, ends: tuple[float, float], scale: float) -> float:
    """One fastener in the middle, as wide as it is; how far down it reaches."""
    top, base = ends
    shank, head = ((job.mm("fasteners", name) or 0.0) * scale for name in ("shank", "head"))
    canvas.box(WIDTH / 2 - shank / 2, top, shank, base - top, "hard", data_part="fastener")
    for y in (top - 6, base):
        canvas.box(WIDTH / 2 - head / 2, y, head, 6, "hard")
    canvas.mark((WIDTH / 2, top - 22), "F")
    return base + 6


def lap_edge(job: Job) -> Drawing:
    """Glass over the edge of the upper of two parts, which lie over each other nobody knows how far."""
    plies = [ply for ply in job.drawn.plies if ply.width_mm]
    return _lap_under_glass(job, plies, job.mm("lap_edge", "thickness") or 0.0, 0.0, job.mm("lap_edge", "gap") or 0.0)


def _lap_under_glass(job: Job, plies: Sequence[PlyDrawn], thick: float, wide: float, bed: float) -> Drawing:
    """Strips over the step at the edge of the upper part; their middle lies in the middle of the ramp below it."""
    widest, step = max((ply.width_mm or 0 for ply in plies), default=12 * thick), thick + bed
    slope = job.mm("ramp", "length") or 0.0
    reach = max(widest * 0.58, (wide + slope) * 1.15)
    scale = (WIDTH - 4) / (2 * reach)
    slope = max(slope, step, 4 / scale)
    glass = sum(ply.thickness_mm for ply in plies)
    factor = factor_for(scale, 2 * thick + bed + glass, _ROOM)
    up = scale * factor
    base = 28.0 + 24 * rows_for(len(plies), _SIGNS) + (glass + 2 * thick + bed) * up
    edge, foot, first = -slope / 2, slope / 2, max((ply.width_mm or 0 for ply in plies[:1]), default=0.0) / 2

    def place(point: Point) -> Point:
        return WIDTH / 2 + point[0] * scale, base - point[1] * up

    def ground(x: float) -> float:
        return thick + step * min(max((foot - x) / slope, 0.0), 1.0)

    canvas, far = Canvas("section"), reach * scale
    left, right = place((edge - wide if wide else -reach, 0))[0], place((edge, 0))[0]
    canvas.box(left, base - thick * up, WIDTH / 2 + far - left, thick * up, "old", data_part="lower")
    if bed:
        canvas.box(left, base - step * up, right - left, bed * up, "bed", data_part="bed", data_thickness_mm=bed)
    canvas.box(WIDTH / 2 - far, base - (step + thick) * up, right - WIDTH / 2 + far, thick * up, "old",
               data_part="upper")
    canvas.shape([place(point) for point in ((edge, thick), (foot, thick), (edge, thick + step))], "bed",
                 data_part="ramp")
    outlines = stacked(plies, ground, [-STEP, edge, foot])
    signed(canvas, plies, outlines, place, 14, _SIGNS)
    canvas.mark((22, base - (step + thick / 2) * up), "A")
    canvas.mark((WIDTH - 22, base - thick * up / 2), "B")
    signs, told = iter("abc"), []
    for shown, ends, down, said in (
            (wide, (left, right), 16, f"Overlap {job.said(wide)}" + (f". {job.key('bed')}" if bed else "")),
            (plies, (WIDTH / 2, place((first, 0))[0]), 16,
             f"First ply, {job.said(first)} on each side of the middle of the ramp"),
            (job.has("ramp"), (right, place((foot, 0))[0]), 44, job.key("ramp"))):
        if shown:
            told.append((next(signs), said))
            canvas.span(*ends, base + down, told[-1][0])
    gap = "" if wide else ". ".join(filter(None, (f"Gap {job.said(bed)}" if bed else "", job.key("filled_gap"))))
    return finished(canvas, TITLE, [
        *entries_of(job, plies), ("A", job.key("part_a")), ("B", job.key("part_b")), *told, ("", gap),
        ("", job.key("overlap" if wide else "lap_edge")), *(("", note) for note in job.notes),
        ("", times(factor, "Thickness"))], {
        "overlap_mm": wide, "bed_mm": bed, "thickness_mm": thick, "scale": scale, "factor": factor,
        "overlap_units": right - left if wide else 0.0, "ramp_mm": slope, "ramp_units": slope * scale,
        "outlines_mm": outlines, "plies": [ply.number for ply in plies]})
