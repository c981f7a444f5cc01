"""The licences of all that the program stands on, from package metadata: `python -m tests.licences` prints the page."""

from __future__ import annotations

import re
from importlib.metadata import PackageNotFoundError, metadata, requires

from packaging.requirements import Requirement

PROGRAM = "glass-fibre-advisor"
PAGE = """\
# Licences

Made by `python -m tests.licences` from what the packages say of themselves; a test compares.

## What is installed with the program

{run_time}

## What the tests and development use besides, and nobody needs who uses the program

{development}

axe-core, which axe-playwright-python carries, says in its own file that it is under MPL-2.0. distributed, for the
extra of that name, says BSD-3-Clause.
"""
_SAME = {"MIT License": "MIT", "The MIT License": "MIT", "BSD License": "BSD", "BSD 3-Clause License": "BSD-3-Clause",
         "Apache Software License": "Apache-2.0", "Apache 2.0": "Apache-2.0", "ISC License": "ISC",
         "Python Software Foundation License": "PSF-2.0", "GNU Lesser General Public License v3": "LGPL-3.0"}
_LONGEST = 60


def run_time() -> dict[str, str]:
    """The licence of each package that is installed with the program, by name."""
    found: dict[str, str] = {}
    waiting = _needed(PROGRAM, "")
    while waiting:
        name = waiting.pop()
        if name not in found:
            found[name] = licence(name)
            waiting |= _needed(name, "")
    return dict(sorted(found.items()))


def development() -> dict[str, str]:
    """The licence of each package that an extra asks for, where it is installed."""
    found = {}
    for name in sorted(_needed(PROGRAM, "test") | _needed(PROGRAM, "dev") | _needed(PROGRAM, "distributed")):
        if name not in run_time():
            try:
                found[name] = licence(name)
            except PackageNotFoundError:
                continue
    return found


def licence(name: str) -> str:
    """What a package says its licence is, in short."""
    said = metadata(name)
    if "License-Expression" in said:
        return said["License-Expression"]
    classified = [line.rsplit(" :: ", 1)[-1] for line in said.get_all("Classifier", [])
                  if line.startswith("License :: OSI Approved :: ")]
    short = said.get_all("License", [""])[0].strip().split("\n")[0]
    spoken = classified[0] if classified else short[:_LONGEST] or "not said"
    return _SAME.get(re.sub(r" \(.*\)$", "", spoken), re.sub(r" \(.*\)$", "", spoken))


def page() -> str:
    """The page as it stands in docs."""
    return PAGE.format(run_time=_table(run_time()), development=_table(development()))


def _table(licences: dict[str, str]) -> str:
    return "\n".join(["| package | licence |", "| --- | --- |",
                      *(f"| {name} | {licence} |" for name, licence in licences.items())])


def _needed(name: str, extra: str) -> set[str]:
    found = set()
    for line in requires(name) or ():
        one = Requirement(line)
        asked = one.marker is None or one.marker.evaluate({"extra": extra})
        if asked and (not extra or (one.marker and "extra" in str(one.marker))):
            found.add(re.sub(r"[-_.]+", "-", one.name).lower())
    return found


if __name__ == "__main__":
    print(page(), end="")
