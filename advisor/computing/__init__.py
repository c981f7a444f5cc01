"""The computations as a person may run them: listed, described, and answered with numbers put in."""
