"""Patches seen from above, and the pieces on the roll they are cut from."""

from __future__ import annotations

from collections.abc import Mapping

from advisor.consultation.advice import PieceDrawn, RollDrawn
from advisor.drawings.layers import pointed, rows_for, signs_of
from advisor.drawings.numbers import Job, times
from advisor.drawings.shapes import HALF, WIDTH, Canvas, Drawing

_TALLEST, _ROLL_TALL, _PLAN_TALL = 360.0, 100.0, 110.0
_EDGE = 16.0  # how near to the edge of the page a number stands
# Forms in which strips lie over where two parts meet.
_MEETING = ("edge_to_edge", "overlap", "lap_edge", "standing", "corner")
_LEAST, _TALL_ENOUGH = 24.0, 18.0  # units that a number needs, with air and without


def plan(job: Job) -> Drawing | None:
    """All patches over each other, seen from above; strips over a joint laid flat, with the line of the joint."""
    plies = [ply for ply in job.drawn.plies if ply.width_mm and ply.length_mm]
    if not plies:
        return None
    strips, sides = any(map(job.has, _MEETING)), 2 if job.has("both_sides") else 1
    sizes = {ply.number: ((ply.length_mm or 0) / sides, ply.width_mm or 0) for ply in plies}
    page = HALF if strips and rows_for(len(plies), (_EDGE, HALF - _EDGE)) == 1 else WIDTH
    longest, widest = (max(size[place] for size in sizes.values()) for place in (0, 1))
    scale = min((page - 4) / longest, _TALLEST / widest)
    factor = round(min(max(1.0, _PLAN_TALL / (widest * scale)), 20))
    rows = rows_for(len(plies), (_EDGE, page - _EDGE))
    canvas, middle = Canvas("plan", page), 10 + 24 * rows + widest * scale * factor / 2

    def laid(size: tuple[float, float], pattern: str | None, **data: str | float) -> None:
        length, width = size[0] * scale, size[1] * scale * factor
        canvas.box(page / 2 - length / 2, middle - width / 2, length, width, pattern, **data)

    for number, size in sorted(sizes.items(), key=lambda one: -one[1][0] * one[1][1]):
        laid(size, None, data_ply=float(number), data_length_mm=size[0], data_width_mm=size[1])
    opening = job.mm("opening", "length"), job.mm("opening", "width")
    if opening[0] and opening[1]:
        laid((opening[0], opening[1]), "old", data_part="opening")
    if strips:
        canvas.line((2, middle), (page - 2, middle), "8 3 2 3", 1.2)
    named = {number: sizes[number] for number in (sorted(sizes)[at] for at in signs_of(len(sizes)))}
    _numbered(canvas, named, (scale, scale * factor), middle, rows)
    same = strips and len({job.said(length) for length, _ in sizes.values()}) == 1
    entries = [(str(number), f"{job.said(width)} wide" if same else f"{job.said(length)} × {job.said(width)}")
               for number, (length, width) in named.items()]
    said = " ".join(filter(None, (
        f"Each {job.said(longest)} long." if same else "", job.key("opening"),
        "Dashes: where the two parts meet." if strips else "",
        "One of the two sides." if sides > 1 else "", times(factor, "Width"))))
    title = "Strips laid flat" if strips else "Patches from above"
    described = f"{title}, in the order of laying: " + "; ".join(
        f"{sign}, {one}" for sign, one in entries) + f". {said}"
    return canvas.drawing(title, described, [*entries, ("", said)], {
        "scale": scale, "factor": factor, "sides": sides, "patches_mm": sizes})


def _numbered(canvas: Canvas, sizes: Mapping[int, tuple[float, float]], scales: tuple[float, float], middle: float,
              rows: int) -> None:
    """Numbers above the patches, each with a line to the edge of its own."""
    gap = min(40.0, (canvas.width - 2 * _EDGE) / max(len(sizes) - 1, 1))
    for index, number in enumerate(sizes):
        x = canvas.width / 2 + (index - (len(sizes) - 1) / 2) * gap
        half, top = sizes[number][0] * scales[0] / 2, middle - sizes[number][1] * scales[1] / 2
        edge = min(max(x, canvas.width / 2 - half + 2), canvas.width / 2 + half - 2)
        pointed(canvas, (x, 13.0 + 24 * (index % rows)), (edge, top), str(number))


def rolls(job: Job) -> list[Drawing]:
    """One drawing for each roll that pieces are cut from."""
    return [_roll(job, roll, number) for number, roll in enumerate(job.drawn.rolls, 1) if roll.pieces]


def _sign(piece: PieceDrawn) -> str:
    return f"{piece.ply}" + ("abcdefghijklmnopqrstuvwxyz"[(piece.part - 1) % 26] if piece.parts > 1 else "")


def _needed(piece: PieceDrawn) -> float:
    """How wide a piece must be drawn for its sign, in units."""
    return 10.0 * len(_sign(piece)) + 2


def _roll(job: Job, roll: RollDrawn, number: int) -> Drawing:
    """The roll hangs at the top; its width lies across the page, its cut end at the bottom of the drawing."""
    half = (HALF - 4) / roll.width_mm
    narrow = all(piece.width_mm * half >= _needed(piece) for piece in roll.pieces)
    small = roll.length_mm * half <= _ROLL_TALL and min(piece.length_mm for piece in roll.pieces) * half < _TALL_ENOUGH
    page = HALF if narrow and not small else WIDTH
    scale = (page - 4) / roll.width_mm
    shortest = min(piece.length_mm for piece in roll.pieces)
    room = max(_ROLL_TALL, min(_TALLEST, 22.0 * len(roll.pieces)))
    wanted = min(max(1.0, _LEAST / (shortest * scale)), max(1.0, room / (roll.length_mm * scale)))
    along = scale * (room / (roll.length_mm * scale) if roll.length_mm * scale > room else round(wanted))
    canvas, top = Canvas(f"roll-{number}", page), 8.0
    canvas.box(2, top, roll.width_mm * scale, roll.length_mm * along, "mat", data_part="roll")
    outside: list[str] = []
    used = 0.0
    for piece in roll.pieces:
        x, y = 2 + piece.y_mm * scale, top + piece.x_mm * along
        width, height = piece.width_mm * scale, piece.length_mm * along
        canvas.box(x, y, width, height, data_ply=float(piece.ply), data_x_mm=piece.x_mm, data_y_mm=piece.y_mm,
                   data_length_mm=piece.length_mm, data_width_mm=piece.width_mm)
        sign = _sign(piece)
        if width >= _needed(piece) and height >= _TALL_ENOUGH:
            canvas.text((x + width / 2, y + height / 2 + 5.5), sign, "middle", data_part="label")
        else:
            outside.append(sign)
        used += piece.length_mm * piece.width_mm
    waste = 1 - used / (roll.width_mm * roll.length_mm)
    ratio = along / scale
    drawn = "Drawn to scale." if abs(ratio - 1) < 0.01 else f"Length drawn {ratio:.2g} times."
    facts = [("", roll.glass), ("", f"Roll {job.said(roll.width_mm)} wide (across), cut {job.said(roll.length_mm)} off "
                                    "(down)."),
             ("", f"Waste {waste:.0%} (strokes). {drawn}")]
    if outside:
        facts.append(("", "Too small for their numbers here, from the top: " + ", ".join(outside) + "."))
    described = (f"{roll.glass}: pieces on a roll {job.said(roll.width_mm)} wide, {job.said(roll.length_mm)} long. "
                 + "; ".join(f"ply {piece.ply}: {job.said(piece.length_mm)} along and {job.said(piece.width_mm)} across"
                             for piece in roll.pieces) + f". Waste {waste:.0%}. {drawn}")
    return canvas.drawing("Pieces on the roll", described, facts, {
        "roll_mm": (roll.length_mm, roll.width_mm), "waste": waste, "pieces_mm": [
            (piece.ply, piece.x_mm, piece.y_mm, piece.length_mm, piece.width_mm) for piece in roll.pieces]})
