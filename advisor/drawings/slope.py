"""The section through a repair: old part, slope, core or backing, and each ply where it lies."""

from __future__ import annotations

from collections.abc import Sequence

from advisor.consultation.advice import PlyDrawn
from advisor.drawings.layers import STEP, entries_of, finished, pointed, rows_for, signed, stacked
from advisor.drawings.numbers import Job, factor_for, times
from advisor.drawings.shapes import WIDTH, Canvas, Drawing, Entry, Point

_ROOM = 96.0
_SIGNS = (WIDTH / 2 - 120, WIDTH / 2 + 120)
TITLE = "Section through the repair"


class _Profile:
    """Places of the section on the page; the middle of a wide opening is left out."""

    def __init__(self, job: Job, plies: Sequence[PlyDrawn]) -> None:
        self.thick, self.taper = job.mm("slope", "thickness") or 0.0, job.mm("slope", "taper") or 0.0
        self.opening = job.mm("slope", "opening") or 0.0
        self.widest = max(ply.width_mm or 0 for ply in plies)
        margin = job.mm("coat", "margin") or 0.0
        shown = min(self.opening, self.taper)
        self.cut = self.opening - shown
        plate = job.mm("backing", "across") or 0.0
        reach = max(self.widest - self.opening + 2 * margin, 2 * self.taper, plate - self.opening) / 2
        half = shown / 2 + 1.16 * reach
        self.scale = (WIDTH - 4) / (2 * half)
        self.far = half + self.cut / 2
        self.total = self.thick + sum(ply.thickness_mm for ply in plies)
        self.factor = factor_for(self.scale, self.total, _ROOM)
        self.up = self.scale * self.factor
        self.base = 28.0 + 24 * rows_for(len(plies), _SIGNS) + self.total * self.up

    def place(self, point: Point) -> Point:
        x, z = point
        beyond = max(abs(x) - self.cut / 2, 0.0) if self.cut else abs(x)
        return WIDTH / 2 + (beyond if x >= 0 else -beyond) * self.scale, self.base - z * self.up

    def ground(self, x: float) -> float:
        return min(max((abs(x) - self.opening / 2) / self.taper, 0.0), 1.0) * self.thick

    def across(self, half: float) -> Point:
        """Left and right on the page of what reaches that far on both sides."""
        return self.place((-half, 0))[0], self.place((half, 0))[0]


def draw(job: Job) -> Drawing | None:
    """The section; None without plies of a known width."""
    plies = [ply for ply in job.drawn.plies if ply.width_mm]
    if not plies:
        return None
    at, canvas = _Profile(job, plies), Canvas("section")
    edges = (-1,) if job.has("free_edge") else (-1, 1)
    for side in edges:
        canvas.shape([at.place(point) for point in (
            (side * at.far, 0), (side * at.opening / 2, 0), (side * (at.opening / 2 + at.taper), at.thick),
            (side * at.far, at.thick))], "old", 1.4, data_part="old")
    entries, low = _below(job, canvas, at)
    if job.has("coat"):
        entries += _coat(job, canvas, at, edges)
    outlines = stacked(plies, at.ground if len(edges) == 2 else lambda x: at.ground(min(x, 0.0)), [
        side * edge for side in (-1, 1) for edge in (at.opening / 2, at.opening / 2 + at.taper, STEP)],
        at.taper / max(len(plies) - 1, 1))
    signed(canvas, plies, outlines, at.place, 14, _SIGNS)
    if at.cut:
        for x in (WIDTH / 2 - 3, WIDTH / 2 + 3):
            canvas.line((x, at.base - at.total * at.up - 2), (x, low + 3), "6 3 1 3", 0.8)
    notes, taper_units, over = _spans(job, canvas, at, low)
    said = " ".join(filter(None, (times(at.factor, "Thickness"), "Ends of the plies drawn thinned out.",
                                  "Opening drawn shortened." if at.cut else "")))
    return finished(canvas, TITLE, [
        *entries_of(job, plies), *entries, *notes, ("", f"Slanted lines: {_small(job.key('slope'))}."),
        ("", job.key("side")), ("", said)], {
        "taper_mm": at.taper, "opening_mm": at.opening, "thickness_mm": at.thick, "overhang_mm": over,
        "scale": at.scale, "factor": at.factor, "taper_units": taper_units, "outlines_mm": outlines,
        "plies": [ply.number for ply in plies]})


def _small(text: str) -> str:
    return text[:1].lower() + text[1:]


def _below(job: Job, canvas: Canvas, at: _Profile) -> tuple[list[Entry], float]:
    """Core, mould or backing; and how far down the drawing reaches with it."""
    left, right = at.across(at.far)
    if job.has("core"):
        canvas.box(left, at.base, right - left, 34, "core", data_part="core")
        canvas.line((left, at.base + 34), (right, at.base + 34), weight=3)
        canvas.mark((WIDTH / 2, at.base + 17), "C")
        return [("C", job.key("core"))], at.base + 34
    for part in ("free_edge", "backing"):
        if not job.has(part) or not (at.opening or part == "backing"):
            continue
        half = (job.mm(part, "across") or at.opening + at.taper) / 2
        left, right = at.across(half) if part == "backing" else (left, right)
        canvas.box(left, at.base, right - left, 9, "hard" if job.mm(part, "across") else None, data_part=part)
        pointed(canvas, (min(right + 10, WIDTH - 12), at.base + 26), (right - 8, at.base + 5), "B")
        return [("B", job.key(part))], at.base + 36
    return [], at.base


def _coat(job: Job, canvas: Canvas, at: _Profile, edges: Sequence[int]) -> list[Entry]:
    ends = at.widest / 2 + (job.mm("coat", "margin") or 0.0)
    for side in edges:
        x, y = at.place((side * ends, at.thick))
        far = at.place((side * at.far, at.thick))[0]
        canvas.box(min(x, far), y - 5, abs(far - x), 5, "solid", data_part="coat", data_from_mm=ends)
    x, y = at.place((-at.far, at.thick))
    pointed(canvas, (x + 12, y - 22), (x + 4, y - 3), "K")
    return [("K", job.key("coat"))]


def _spans(job: Job, canvas: Canvas, at: _Profile, low: float) -> tuple[list[Entry], float, float]:
    """Taper, opening and what the last ply passes the taper by, with the length of the taper on the page."""
    y = low + 14
    a, b, c = (at.place((side, 0))[0] for side in (-at.opening / 2 - at.taper, -at.opening / 2, at.opening / 2))
    notes = [("a", f"Taper {job.said(at.taper)}")]
    canvas.span(a, b, y, "a")
    if c - b >= 8:
        canvas.span(b, c, y, "b")
    if at.opening:
        notes.append(("b" if c - b >= 8 else "", f"Opening {job.said(at.opening)} across"))
    over = (at.widest - at.opening) / 2 - at.taper
    if over * at.scale >= 6:
        side = -1 if job.has("free_edge") else 1
        d, e = sorted(at.place((side * x, 0))[0] for x in (at.opening / 2 + at.taper, at.widest / 2))
        canvas.span(d, e, y, "c")
        notes.append(("c", f"Last ply passes the taper by {job.said(over)}"))
    return notes, b - a, over
