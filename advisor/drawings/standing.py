"""The section through a part that stands on another, or a corner: bed, fillets, glass, angle and fasteners."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import cos, pi, sin

from advisor.consultation.advice import PlyDrawn
from advisor.drawings.layers import entries_of, finished, middle_of, pointed, rows_for, shape_of, signs_of, stacked
from advisor.drawings.numbers import FACTORS, Job, times
from advisor.drawings.shapes import WIDTH, Canvas, Drawing, Entry, Point

TITLE = "Section through the joint"
_ROOM, _GLASS, _TALL = 64.0, 36.0, 200.0
_ARC = 12


def rounded(along: float, away: float, radius: float) -> Point:
    """Where a point lies that is so far along a hollow corner from its root, and so far away from its faces.

    Below 0 it lies along the level face, above 0 up the standing one; within the radius on the round of the fillet.
    Returns the distances from the standing and from the level face.
    """
    if abs(along) >= radius or away >= radius:
        reach = max(abs(along), away)
        return (reach, away) if along < 0 else (away, reach)
    turned = 1.5 * pi - (along + radius) / (2 * radius) * pi / 2
    return radius + (radius - away) * cos(turned), radius + (radius - away) * sin(turned)


@dataclass(frozen=True)
class _Frame:
    """The scale, and where the middle of the foot stands on the page; thickness is drawn `factor` times."""

    job: Job
    form: str
    plies: Sequence[PlyDrawn]
    both: bool

    @property
    def thick(self) -> float:
        return self.job.mm(self.form, "thickness") or 0.0

    @property
    def gap(self) -> float:
        return self.job.mm("bed", "thickness") or self.job.mm(self.form, "gap") or 0.0

    @property
    def leg(self) -> float:
        """How far the drawing reaches from the corner, mm."""
        widest = [(ply.width_mm or 0) / 2 for ply in self.plies]
        fillet, angle = self.job.mm("fillet", "leg") or 0.0, self.job.mm("angle", "leg") or 0.0
        return 1.08 * max([*widest, 2.5 * fillet, 1.4 * angle, 4 * self.thick, 3 * self.gap])

    @property
    def left(self) -> float:
        """How far it reaches on the other side of the foot, as a share of the leg."""
        return 1.0 if self.both else 0.35 if self.form == "standing" else 0.0

    @property
    def factor(self) -> int:
        glass = sum(ply.thickness_mm for ply in self.plies)
        return max((one for one in FACTORS if max(glass * self._scale(one) * one / _GLASS,
                                                  max(self.thick, self.gap) * self._scale(one) * one / _ROOM) <= 1),
                   default=1)

    def _scale(self, factor: int) -> float:
        return min((WIDTH - 6) / ((1 + self.left) * self.leg + self.thick * factor), _TALL / self.leg)

    @property
    def scale(self) -> float:
        return self._scale(self.factor)


def draw(job: Job) -> Drawing:
    """A standing part or a corner, with what holds it."""
    form = "standing" if job.has("standing") else "corner"
    plies = [ply for ply in job.drawn.plies if ply.width_mm]
    both = job.has("both_sides") and form == "standing"
    frame = _Frame(job, form, plies, both)
    scale, up = frame.scale, frame.scale * frame.factor
    foot = frame.left * frame.leg * scale + 3  # the left face of the standing part
    face = foot + frame.thick * up
    right = face + frame.leg * scale
    within = (face + _GLASS + 14, min(right, WIDTH) - 14)
    rows = rows_for(len(plies), within)
    base = max(14.0 + 24 * rows + 40, 6 + frame.leg * scale)
    canvas = Canvas("section")
    canvas.box(3, base, right - 3, frame.thick * up, "old", data_part="base")
    canvas.box(foot, base - frame.leg * scale, frame.thick * up, (frame.leg * scale) - frame.gap * up, "old",
               data_part="upright")
    sides = (1, -1) if both else (1,)
    entries: list[Entry] = []
    low = base + frame.thick * up
    if frame.gap:
        canvas.box(foot, base - frame.gap * up, frame.thick * up, frame.gap * up, "bed" if job.has("bed") else None,
                   data_part="bed", data_thickness_mm=frame.gap)
        pointed(canvas, ((foot + face) / 2, low + 16), ((foot + face) / 2, base - frame.gap * up / 2), "G")
        entries.append(("G", job.key("bed") or f"Gap under the foot, {job.said(frame.gap)}"))
    radius = (job.mm("fillet", "leg") or 0.0) * scale

    def place(point: Point, side: int = 1) -> Point:
        away, above = rounded(point[0] * scale, point[1] * up, radius)
        return (face + away if side > 0 else foot - away), base - above

    for side in sides:
        if radius:
            arc = [(-1 + 2 * step / _ARC) * radius / scale for step in range(_ARC + 1)]
            canvas.shape([(face if side > 0 else foot, base), *(place((at, 0.0), side) for at in arc)], "bed",
                         data_part="fillet", data_leg_mm=radius / scale)
    outlines = stacked(plies, lambda x: 0.0, [(-1 + 2 * step / _ARC) * radius / scale for step in range(_ARC + 1)])
    for side in sides:
        for ply, outline in zip(plies, outlines, strict=True):
            points = [place(point, side) for point in outline]
            if side > 0:
                shape_of(canvas, ply, points, data_reach_mm=(ply.width_mm or 0) / 2)
            else:
                canvas.shape(points, "woven" if ply.woven else "mat", data_part="mirrored")
    _signs(canvas, plies, outlines, place, face, within)
    if radius:
        at = place((0.0, 0.0), sides[-1])
        pointed(canvas, (max(at[0] - 46, 14) if both else 14, base - 66), (at[0] + (4 if both else -3), at[1] + 4), "R")
        entries.append(("R", job.key("fillet")))
    if job.has("angle"):
        entries += _angle(job, canvas, (face, base), scale)
    notes = _spans(job, canvas, plies, (face, low), scale)
    standing = form == "standing"
    canvas.mark(((foot + face) / 2, base - frame.leg * scale + 16), "S")
    canvas.mark((18 if standing else right - 14, base + frame.thick * up / 2), "L")
    return finished(canvas, TITLE, [
        *entries_of(job, plies), ("S", job.key("upright") or ("The part that stands" if standing else "One part")),
        ("L", job.key("base") or ("The part it stands on" if standing else "The other part")), *entries, *notes,
        ("", job.key("both_sides") if both else ""), ("", job.key(form)), ("", times(frame.factor, "Thickness"))], {
        "thickness_mm": frame.thick, "gap_mm": frame.gap, "scale": scale, "factor": frame.factor,
        "outlines_mm": outlines, "plies": [ply.number for ply in plies], "face": face, "base": base})


def _signs(canvas: Canvas, plies: Sequence[PlyDrawn], outlines: Sequence[Sequence[Point]], place: object,
           face: float, within: tuple[float, float]) -> None:
    """Numbers in rows above the level leg, each with a line down into its ply."""
    assert callable(place)
    rows, named = rows_for(len(plies), within), signs_of(len(plies))
    gap = (within[1] - within[0]) / max(len(named) - 1, 1)
    for index, (ply, outline) in enumerate((plies[at], outlines[at]) for at in named):
        reach = (ply.width_mm or 0) / 2
        scale = (place((-reach, 0.0))[0] - face) / reach
        sign_x = within[0] + gap * index
        along = -min((sign_x - face) / scale, reach - 3 / scale)
        dot = place((along, middle_of(outline, along)))
        pointed(canvas, (sign_x, 14.0 + 24 * (index % rows)), dot, str(ply.number))


def _spans(job: Job, canvas: Canvas, plies: Sequence[PlyDrawn], at: Point, scale: float) -> list[Entry]:
    """How far the first and the last ply reach from the corner."""
    if not plies:
        return []
    face, low = at
    reach = [(plies[place].width_mm or 0) / 2 for place in (0, -1)]
    for sign, length, y in (("a", reach[0], low + 10), ("b", reach[1], low + 38)):
        canvas.span(face, face + length * scale, y, sign)
    return [("a", f"First ply, {job.said(reach[0])} on each part from the corner"),
            ("b", f"Last ply, {job.said(reach[1])} on each part")]


def _angle(job: Job, canvas: Canvas, corner: Point, scale: float) -> list[Entry]:
    """An angle in the corner, bedded, with a fastener through each leg at its middle."""
    face, base = corner
    leg = (job.mm("angle", "leg") or 0.0) * scale
    canvas.shape([(face + x, base - y) for x, y in ((0, 0), (leg, 0), (leg, 7), (7, 7), (7, leg), (0, leg))], "hard",
                 data_part="angle", data_leg_mm=leg / scale)
    shank = max((job.mm("fasteners", "shank") or 0.0) * scale, 4.0)
    canvas.box(face + leg / 2 - shank / 2, base - 14, shank, 34, "solid", data_part="fastener")
    canvas.box(face - 20, base - leg / 2 - shank / 2, 34, shank, "solid", data_part="fastener")
    pointed(canvas, (face + leg + 24, base - leg), (face + 6, base - leg + 8), "W")
    pointed(canvas, (face + leg + 24, base - leg / 2), (face + leg / 2 + 1, base - 13), "F")
    return [("W", job.key("angle")), ("F", job.key("fasteners"))]
