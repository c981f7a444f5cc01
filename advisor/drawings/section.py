"""Which section is drawn: the first that the rules name."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from advisor.drawings import joint, light, slope, standing
from advisor.drawings.numbers import Job
from advisor.drawings.shapes import Drawing

DRAWN: Mapping[str, Callable[[Job], Drawing | None]] = {
    "slope": slope.draw, "edge_to_edge": joint.edge_to_edge, "overlap": joint.overlap,
    "lap_edge": joint.lap_edge, "standing": standing.draw,
    "corner": standing.draw, "bubble": light.bubble, "hollow": light.hollow, "seam": light.seam}


def section(job: Job) -> Drawing | None:
    """The section of the job; None where the rules name none."""
    part = next((one.part for one in job.drawn.parts if one.part in DRAWN), None)
    return DRAWN[part](job) if part else None
