"""The interview: one question at a time, on any terminal."""
