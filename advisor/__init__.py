"""Bench-side advice for people who bond or laminate glass-fibre parts."""
