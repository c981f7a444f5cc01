"""Advice as people read it: on the terminal and as Markdown."""
