"""The rule base tested like a program: coverage, invariants, generated cases, mutation."""
