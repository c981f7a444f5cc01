"""Patches seen from above, and the pieces on the roll they are cut from."""

from __future__ import annotations

from advisor.consultation.advice import RollDrawn
from advisor.drawings.layers import pointed, rows_for
from advisor.drawings.numbers import Job, times
from advisor.drawings.shapes import WIDTH, Canvas, Drawing

_TALLEST, _ROLL_TALL, _PLAN_TALL = 360.0, 100.0, 110.0
_SIGNS = (16.0, WIDTH - 16)
_LEAST = 24.0  # units that a number needs


def plan(job: Job) -> Drawing | None:
    """All patches over each other, seen from above."""
    plies = [ply for ply in job.drawn.plies if ply.width_mm and ply.length_mm]
    if not plies:
        return None
    longest = max(ply.length_mm or 0 for ply in plies)
    widest = max(ply.width_mm or 0 for ply in plies)
    scale = min((WIDTH - 4) / longest, _TALLEST / widest)
    stretch = min(max(1.0, _PLAN_TALL / (widest * scale)), 20)
    factor = 1 if stretch == 1 else round(stretch)
    across = scale * factor
    gap = min(40.0, (_SIGNS[1] - _SIGNS[0]) / max(len(plies) - 1, 1))
    rows = rows_for(len(plies), _SIGNS)
    canvas, middle = Canvas("plan"), 10 + 24 * rows + widest * across / 2
    order = sorted(plies, key=lambda ply: -(ply.length_mm or 0) * (ply.width_mm or 0))
    for ply in order:
        length, width = (ply.length_mm or 0) * scale, (ply.width_mm or 0) * across
        canvas.box(WIDTH / 2 - length / 2, middle - width / 2, length, width, data_ply=float(ply.number),
                   data_length_mm=ply.length_mm or 0.0, data_width_mm=ply.width_mm or 0.0)
    opening = job.mm("opening", "length"), job.mm("opening", "width")
    if opening[0] and opening[1]:
        length, width = opening[0] * scale, opening[1] * across
        canvas.box(WIDTH / 2 - length / 2, middle - width / 2, length, width, "old", data_part="opening")
    for index, ply in enumerate(sorted(plies, key=lambda ply: ply.number)):
        x = WIDTH / 2 + (index - (len(plies) - 1) / 2) * gap
        half = (ply.length_mm or 0) * scale / 2
        edge = min(max(x, WIDTH / 2 - half + 2), WIDTH / 2 + half - 2)
        at = (edge, middle - (ply.width_mm or 0) * across / 2)
        pointed(canvas, (x, 13.0 + 24 * (index % rows)), at, str(ply.number))
    entries = [(str(ply.number), f"{job.said(ply.length_mm or 0)} × {job.said(ply.width_mm or 0)}")
               for ply in plies]
    said = times(factor, "Width")
    hatched = job.key("opening")
    described = "Patches seen from above, in the order of laying: " + "; ".join(
        f"{sign}, {one}" for sign, one in entries) + f". {hatched} {said}"
    return canvas.drawing("Patches from above", described, [*entries, ("", f"{hatched} {said}".strip())], {
        "scale": scale, "factor": factor, "patches_mm": {ply.number: (ply.length_mm, ply.width_mm) for ply in plies}})


def rolls(job: Job) -> list[Drawing]:
    """One drawing for each roll that pieces are cut from."""
    return [_roll(job, roll, number) for number, roll in enumerate(job.drawn.rolls, 1) if roll.pieces]


def _roll(job: Job, roll: RollDrawn, number: int) -> Drawing:
    """The roll hangs at the top; its width lies across the page, its cut end at the bottom of the drawing."""
    scale = (WIDTH - 4) / roll.width_mm
    shortest = min(piece.length_mm for piece in roll.pieces)
    room = max(_ROLL_TALL, min(_TALLEST, 22.0 * len(roll.pieces)))
    wanted = min(max(1.0, _LEAST / (shortest * scale)), max(1.0, room / (roll.length_mm * scale)))
    along = scale * (room / (roll.length_mm * scale) if roll.length_mm * scale > room else round(wanted))
    canvas, top = Canvas(f"roll-{number}"), 8.0
    canvas.box(2, top, roll.width_mm * scale, roll.length_mm * along, "mat", data_part="roll")
    outside: list[str] = []
    used = 0.0
    for piece in roll.pieces:
        x, y = 2 + piece.y_mm * scale, top + piece.x_mm * along
        width, height = piece.width_mm * scale, piece.length_mm * along
        canvas.box(x, y, width, height, data_ply=float(piece.ply), data_x_mm=piece.x_mm, data_y_mm=piece.y_mm,
                   data_length_mm=piece.length_mm, data_width_mm=piece.width_mm)
        sign = f"{piece.ply}" + ("abcdefghijklmnopqrstuvwxyz"[(piece.part - 1) % 26] if piece.parts > 1 else "")
        if width >= 10 * len(sign) + 2 and height >= 18:
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
