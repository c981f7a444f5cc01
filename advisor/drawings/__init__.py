"""Drawings of a job, to scale from the numbers of its advice, as inline SVG."""

from __future__ import annotations

from advisor.consultation.advice import Advice
from advisor.drawings import course, light, pieces, section
from advisor.drawings.numbers import Job
from advisor.drawings.shapes import HALF, Drawing

__all__ = ["HALF", "Drawing", "drawings_of"]


def drawings_of(advice: Advice) -> tuple[Drawing, ...]:
    """The drawings that the advice has numbers for, in the order of use; none where the work is stopped."""
    job = Job(advice)
    found = [section.section(job), light.holes(job), pieces.plan(job), *pieces.rolls(job), *course.every_kind(job)]
    return tuple(one for one in found if one is not None)
