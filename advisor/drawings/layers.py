"""Plies on the ground they are laid on, and the signs that name them."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from itertools import groupby
from math import ceil

from advisor.consultation.advice import PlyDrawn
from advisor.drawings.numbers import Job
from advisor.drawings.shapes import Canvas, Drawing, Entry, Point

STEP = 0.01  # mm beside an edge, so that a profile may jump there
_MOST_SIGNS = 20
_MOST_WIDTHS = 6  # beyond it the table of pieces tells them
Profile = Callable[[float], float]


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
                               for inward in (-STEP, 0.0, feather) if half > inward)})
    tops = {x: ground(x) for x in places}
    outlines = []
    for ply, half in zip(plies, halves, strict=True):
        under = [x for x in places if abs(x) <= half]
        below = [(x, tops[x]) for x in under]
        for x in under:
            tops[x] += ply.thickness_mm * (min((half - abs(x)) / feather, 1.0) if feather else 1.0)
        outlines.append(below + [(x, tops[x]) for x in reversed(under)])
    return outlines


def middle_of(outline: Sequence[Point], x: float) -> float:
    """The height in the middle of a ply at a place along it; the outline runs along its underside and back."""
    half = len(outline) // 2
    return (_height(outline[:half], x) + _height(outline[half:][::-1], x)) / 2


def _height(line: Sequence[Point], x: float) -> float:
    for (x1, y1), (x2, y2) in zip(line, line[1:], strict=False):
        if x1 <= x <= x2:
            return y1 if x2 == x1 else y1 + (y2 - y1) * (x - x1) / (x2 - x1)
    return line[0][1]


def shape_of(canvas: Canvas, ply: PlyDrawn, points: Sequence[Point], **data: str | float) -> None:
    """One ply with its kind of glass as a pattern."""
    canvas.shape(points, "woven" if ply.woven else "mat", data_ply=float(ply.number),
                 data_width_mm=ply.width_mm or 0.0, data_thickness_mm=ply.thickness_mm, **data)


def signed(canvas: Canvas, plies: Sequence[PlyDrawn], outlines: Sequence[Sequence[Point]],
           place: Callable[[Point], Point], sign_y: float, within: tuple[float, float]) -> None:
    """The plies, and a row of numbers above them, each with a line to a dot in its ply."""
    for ply, outline in zip(plies, outlines, strict=True):
        shape_of(canvas, ply, [place(point) for point in outline])
    rows, named = rows_for(len(plies), within), signs_of(len(plies))
    gap = min(44.0, (within[1] - within[0]) / max(len(named) - 1, 1))
    first = (within[0] + within[1]) / 2 - gap * (len(named) - 1) / 2
    for index, at in enumerate(named):
        ply, points = plies[at], [place(point) for point in outlines[at]]
        left, right = min(x for x, _ in points), max(x for x, _ in points)
        sign_x, y = first + gap * index, sign_y + 24 * (index % rows)
        x = min(max(sign_x, left + 4), right - 4) if right - left > 8 else (left + right) / 2
        pointed(canvas, (sign_x, y), (x, middle_of(points, x)), str(ply.number))


def signs_of(count: int) -> list[int]:
    """Which of that many plies get a sign: all, or of very many the first, the last and some between."""
    if count <= _MOST_SIGNS:
        return list(range(count))
    return [*range(0, count - 1, ceil(count / _MOST_SIGNS)), count - 1]


def rows_for(count: int, within: tuple[float, float]) -> int:
    """How many rows the signs of that many plies need so that none touches its neighbour."""
    shown = len(signs_of(count))
    return max(1, -int(-(shown - 1) * 24 // (within[1] - within[0]))) if shown > 1 else 1


def pointed(canvas: Canvas, at: Point, dot: Point, sign: str) -> None:
    """A sign with a line to the dot that it names."""
    canvas.line(at, dot, weight=0.8)
    canvas.dot(dot)
    canvas.mark(at, sign)


def entries_of(job: Job, plies: Sequence[PlyDrawn]) -> list[Entry]:
    """The plies in the key; neighbours of one glass share a line."""
    found = []
    for glass, group in groupby(plies, key=lambda ply: ply.glass):
        same = list(group)
        widths = [job.said(ply.width_mm or 0) for ply in same]
        if len(widths) > _MOST_WIDTHS:
            widths = [f"from {widths[0]} to {widths[-1]}"]
        sign = str(same[0].number) if len(same) == 1 else f"{same[0].number}\N{EN DASH}{same[-1].number}"
        found.append((sign, f"{glass}, {', '.join(widths)} wide"))
    return found


def finished(canvas: Canvas, title: str, entries: Sequence[Entry], numbers: dict[str, object]) -> Drawing:
    """The section with its key; told in words it says what the key says."""
    kept = [(sign, said) for sign, said in entries if said]
    described = f"{title}. " + " ".join(
        (f"{sign}: {said}" if sign else said).rstrip(".") + "." for sign, said in kept)
    return canvas.drawing(title, described, kept, numbers)
