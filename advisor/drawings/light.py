"""Sections through work without glass: a bubble that is injected, a hollow that is filled, a seam that is sealed."""

from __future__ import annotations

from math import ceil, cos, hypot, pi, sin

from advisor.drawings.layers import finished, pointed
from advisor.drawings.numbers import Job, factor_for, times
from advisor.drawings.shapes import WIDTH, Canvas, Drawing, Entry, Point

_DEEP = 34.0  # what has no depth of its own on the page
_MOST_HOLES = 400


def holes_over(along_mm: float, across_mm: float, pitch_mm: float) -> list[Point]:
    """Places of holes over an oval bubble and along its rim, mm from its middle, the lowest of the rim first.

    Along the rim they stand no further apart than the pitch; inside they stand in rows.
    """
    a, b = along_mm / 2, across_mm / 2
    round_mm = pi * (3 * (a + b) - ((3 * a + b) * (a + 3 * b)) ** 0.5)
    number = max(ceil(round_mm / pitch_mm), 4)
    fine = [(a * sin(2 * pi * step / 3600), -b * cos(2 * pi * step / 3600)) for step in range(3601)]
    rim: list[Point] = []
    walked, last = 0.0, fine[0]
    whole = sum(hypot(x - p, y - q) for (p, q), (x, y) in zip(fine, fine[1:], strict=False))
    for point in fine[:-1]:
        walked += hypot(point[0] - last[0], point[1] - last[1])
        last = point
        if len(rim) < number and walked >= len(rim) * whole / number - 1e-9:
            rim.append(point)
    inner_a, inner_b = a - pitch_mm / 2, b - pitch_mm / 2
    if inner_a <= 0 or inner_b <= 0:
        return rim
    columns, rows = int(inner_a // pitch_mm), int(inner_b // pitch_mm)
    return rim + [(column * pitch_mm, row * pitch_mm) for row in range(-rows, rows + 1)
                  for column in range(-columns, columns + 1)
                  if hypot(column * pitch_mm / inner_a, row * pitch_mm / inner_b) <= 1]


def bubble(job: Job) -> Drawing:
    """The lifted skin with its holes and the press above it; how high it stands is not to scale."""
    cored, across = job.has("core"), job.mm("bubble", "across") or 0.0
    thick = (job.mm("bubble", "thickness") or 0.0) * (1 if cored else 0.5)
    hole, pitch = job.mm("bubble", "hole") or 0.0, job.mm("bubble", "pitch") or 1.0
    scale = (WIDTH - 4) / (across * 1.4)
    factor = factor_for(scale, thick, 26)
    up, half = scale * factor, across * scale / 2
    canvas, middle, top, lifted = Canvas("section"), WIDTH / 2, 62.0, 16.0
    skin = top + lifted + thick * up  # underside of the skin beside the bubble
    steps = [-1 + step / 12 for step in range(25)]

    def under(share: float) -> Point:
        return middle + share * half, skin - lifted * (1 - share * share)

    deep = _DEEP if cored else thick * up
    canvas.box(2, skin, WIDTH - 4, deep, "core" if cored else "old", data_part="below")
    canvas.shape([under(share) for share in steps], "bed", data_part="void", data_across_mm=across)
    outer = [(2.0, skin - thick * up), *((x, y - thick * up) for x, y in map(under, steps)),
             (WIDTH - 2, skin - thick * up), (WIDTH - 2, skin), *(under(share) for share in reversed(steps)),
             (2.0, skin)]
    canvas.shape(outer, "old", 1.4, data_part="skin")
    rows = max(int((across - pitch) / 2 // pitch), 0)
    inner = [place * pitch * 2 / across for place in range(-rows, rows + 1)] if across > pitch else []
    for share in (-0.97, *inner, 0.97):
        x, y = under(share)
        width = max(hole * scale, 3.0)
        canvas.box(x - width / 2, y - thick * up, width, thick * up, data_part="hole")
    if job.has("press"):
        canvas.box(middle - half - 14, 30, 2 * half + 28, 12, "hard", data_part="press")
        for x in (middle - half / 2, middle + half / 2):
            canvas.line((x, 8), (x, 28), weight=2)
            canvas.path([(x - 5, 21), (x, 28), (x + 5, 21)], weight=2)
        pointed(canvas, (16, 14), (middle - half - 6, 36), "P")
    pointed(canvas, (WIDTH - 14, skin - thick * up - 26), (middle + half * 0.6, under(0.6)[1] + 2), "G")
    if cored:
        canvas.mark((middle, skin + deep / 2), "C")
    canvas.span(middle - half, middle + half, skin + deep + 14, "a")
    entries: list[Entry] = [("P", job.key("press")), ("G", job.key("bubble")), ("C", job.key("core")),
                            ("a", f"Bubble {job.said(across)} across"), ("", job.key("skin")),
                            ("", f"{times(factor, 'Thickness')} How far it stands off is not to scale.")]
    return finished(canvas, "Section through the bubble", entries, {
        "across_mm": across, "thickness_mm": thick, "scale": scale, "factor": factor, "across_units": 2 * half})


def holes(job: Job) -> Drawing | None:
    """The holes seen from above; None where there are more than anybody drills."""
    if not job.has("bubble"):
        return None
    across, along = job.mm("bubble", "across") or 0.0, job.mm("bubble", "along") or 0.0
    hole, pitch = job.mm("bubble", "hole") or 0.0, job.mm("bubble", "pitch") or 1.0
    long, short = max(across, along), min(across, along)
    found = holes_over(long, short, pitch)
    if len(found) > _MOST_HOLES:
        return None
    canvas, scale = Canvas("holes"), (WIDTH - 16) / long
    middle = (WIDTH / 2, 10 + short * scale / 2)
    canvas.shape([(middle[0] + long / 2 * scale * sin(2 * pi * step / 72), middle[1] + short / 2 * scale
                   * cos(2 * pi * step / 72)) for step in range(72)], "bed", data_part="bubble")
    for x, y in found:
        canvas.dot((middle[0] + x * scale, middle[1] - y * scale), max(hole * scale / 2, 3), data_part="hole",
                   data_x_mm=x, data_y_mm=y)
    low = middle[1] + short * scale / 2
    canvas.mark((middle[0], low + 22), "1")
    canvas.span(middle[0] - long / 2 * scale, middle[0] + long / 2 * scale, low + 44, "a")
    said = [("1", job.key("first_hole")), ("a", f"Bubble {job.said(long)} by {job.said(short)}"),
            ("", f"{len(found)} holes of {job.said(hole)}, about {job.said(pitch)} apart. {job.key('holes')}"),
            ("", "Drawn to scale.")]
    title = "Holes from above"
    described = f"{title}. " + " ".join(f"{text.rstrip('.')}." for _, text in said)
    return canvas.drawing(title, described, said, {
        "along_mm": long, "across_mm": short, "pitch_mm": pitch, "holes_mm": found, "scale": scale})


def hollow(job: Job) -> Drawing:
    """A hollow with sloping sides in the surface, filled a little proud; the laminate below is drawn cut off."""
    across, rim = job.mm("hollow", "across") or 0.0, job.mm("hollow", "rim") or 0.0
    depth, thick = job.mm("hollow", "depth"), job.mm("hollow", "thickness") or 0.0
    wide = max(across, 2.0)
    scale = (WIDTH - 4) / ((wide + 2 * rim) * 1.15)
    factor = factor_for(scale, depth, 30) if depth else 1
    deep = depth * scale * factor if depth else 20.0
    canvas, middle, top = Canvas("section"), WIDTH / 2, 62.0
    half = max(wide * scale / 2, 5.0)
    floor = top + deep + 30
    slope = min(half * 0.6, deep)
    canvas.shape([(2, top), (middle - half, top), (middle - half + slope, top + deep),
                  (middle + half - slope, top + deep), (middle + half, top), (WIDTH - 2, top), (WIDTH - 2, floor),
                  (2, floor)], "old", 1.4, data_part="old")
    canvas.shape([(middle - half, top), (middle - half + slope, top + deep), (middle + half - slope, top + deep),
                  (middle + half, top), (middle + half * 0.8, top - 4), (middle - half * 0.8, top - 4)], "bed",
                 data_part="filling", data_across_mm=across)
    canvas.path([(2 + (WIDTH - 4) * step / 24, floor + (3 if step % 2 else -3)) for step in range(25)], weight=1.2)
    pointed(canvas, (middle - 60, 18), (middle, top + min(deep / 2, 10)), "F")
    if job.has("film"):
        canvas.path([(middle + x, top - above) for x, above in (
            (-half - 40, 1), (-half, 2), (0, 7), (half, 2), (half + 40, 1))], weight=2)
        pointed(canvas, (middle + 60, 18), (middle + half + 14, top - 2), "H")
    canvas.mark((22, top + (floor - top) / 2), "L")
    canvas.span(middle - half, middle + half, floor + 12, "a")
    edge = middle + half + rim * scale
    canvas.span(middle + half, edge, floor + 12, "b")
    entries: list[Entry] = [("F", job.key("filling") or "Filling"), ("H", job.key("film")), ("L", job.key("hollow")),
                            ("a", f"Damage {job.said(across)} across"), ("b", f"Sanded rim, {job.said(rim)} all round")]
    entries.append(("", f"{job.said(depth)} deep. {times(factor, 'Depth')}" if depth else
                    "Its depth was not told and is not to scale."))
    entries += [("", note) for note in job.notes]
    return finished(canvas, "Section through the surface", entries, {
        "across_mm": across, "depth_mm": depth, "rim_mm": rim, "thickness_mm": thick, "scale": scale,
        "factor": factor, "depth_units": deep})


def seam(job: Job) -> Drawing:
    """The flange on its bed of sealant, with a screw; what bears it is not to scale."""
    thick, width = job.mm("seam", "thickness") or 0.0, job.mm("seam", "width") or 0.0
    bed = job.mm("seam", "bed") or 0.0
    scale = (WIDTH - 4) / (width * 2.2)
    factor = factor_for(scale, thick + bed, 44)
    up, half, middle = scale * factor, width * scale / 2, WIDTH / 2
    canvas, rail = Canvas("section"), 40.0
    top = rail + 14 + bed * up
    canvas.box(2, top, WIDTH - 4, thick * up, "old", data_part="skin")
    low = top + thick * up
    canvas.box(2, low, WIDTH - 4, _DEEP, "core" if job.has("core") else None, data_part="below")
    canvas.shape([(middle - half - 12, top), (middle - half, rail + 14), (middle + half, rail + 14),
                  (middle + half + 12, top)], "bed", data_part="bed", data_thickness_mm=bed)
    canvas.box(middle - half, rail, 2 * half, 14, "hard", data_part="rail", data_width_mm=width)
    canvas.box(middle - 9, rail - 5, 18, 5, "solid", data_part="screw")
    canvas.box(middle - 3, rail, 6, low + 26 - rail, "solid", data_part="screw")
    pointed(canvas, (middle - 60, 14), (middle - 40, rail + 7), "R")
    pointed(canvas, (middle + 26, 14), (middle + 4, rail - 3), "N")
    pointed(canvas, (WIDTH - 16, 24), (middle + half + 2, top - bed * up / 2), "S")
    canvas.mark((20, low + _DEEP / 2), "C")
    canvas.span(middle - half, middle + half, low + _DEEP + 12, "a")
    return finished(canvas, "Section through the seam", [
        ("R", job.key("rail")), ("N", job.key("screw")), ("S", job.key("bed")),
        ("C", job.key("core") or "What the screw holds in"), ("a", f"Flange {job.said(width)}"),
        ("", f"Slanted lines: {job.key('seam')[:1].lower()}{job.key('seam')[1:]}."),
        ("", f"{times(factor, 'Thickness')} Rail and screw are not to scale.")], {
        "width_mm": width, "bed_mm": bed, "thickness_mm": thick, "scale": scale, "factor": factor,
        "width_units": 2 * half, "bed_units": bed * up})
