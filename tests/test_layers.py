"""Imports point one way, and only the modules named here may import the engine, the terminal or the network."""

from __future__ import annotations

import ast
import subprocess
import sys
from pathlib import Path

import advisor

PACKAGE = Path(advisor.__file__).parent
LEVELS = [
    ["errors"],
    ["whole_file", "lock", "places", "signs"],
    ["calculators", "crew"],
    ["units"],
    ["knowledge"],
    ["computing", "engine"],
    ["consultation"],
    ["answer_file"],
    ["record_file"],
    ["store", "batch", "report", "handbook", "interview", "audit"],
    ["drawings"],
    ["sheet"],
    ["commands"],
    ["cli"],
    ["__main__"],
]
RANK = {name: rank for rank, names in enumerate(LEVELS) for name in names}
BESIDE = {("interview", "store")}
ONLY = {"durable": {"engine/infer.py"}, "durable_rules_engine": {"engine/infer.py"},
        "prompt_toolkit": {"interview/prompts.py"}}
NEVER = {"socket", "urllib", "http", "requests", "ftplib", "smtplib", "pickle", "marshal"}


def modules() -> list[Path]:
    return sorted(PACKAGE.rglob("*.py"))


def imported(path: Path) -> set[str]:
    names: set[str] = set()
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            names |= {alias.name for alias in node.names}
        elif isinstance(node, ast.ImportFrom) and node.module:
            names |= {node.module} if node.module != "advisor" else {f"advisor.{a.name}" for a in node.names}
    return names


def part_of(path: Path) -> str:
    relative = path.relative_to(PACKAGE)
    return relative.parts[0].removesuffix(".py")


def test_imports_point_one_way() -> None:
    wrong = []
    for path in modules():
        part = part_of(path)
        if part == "__init__":
            continue
        for name in imported(path):
            target = name.split(".")[1] if name.startswith("advisor.") else ""
            if target in RANK and target != part and (part, target) not in BESIDE and RANK[target] >= RANK[part]:
                wrong.append(f"{path.relative_to(PACKAGE)} imports {name}")
    assert wrong == []


def test_calculators_import_nothing_of_the_project() -> None:
    for path in (PACKAGE / "calculators").rglob("*.py"):
        outside = {n for n in imported(path) if n.startswith("advisor") and not n.startswith("advisor.calculators")}
        assert outside == set(), path


def test_the_engine_and_the_terminal_are_imported_in_one_place() -> None:
    for path in modules():
        shown = path.relative_to(PACKAGE).as_posix()
        for name in imported(path):
            top = name.split(".")[0]
            assert top not in ONLY or shown in ONLY[top], f"{shown} imports {name}"
            assert top not in NEVER, f"{shown} imports {name}"


def test_every_module_stays_small() -> None:
    long = {p.name: n for p in modules() if (n := len(p.read_text(encoding="utf-8").splitlines())) > 400}
    assert long == {}


def test_starting_an_interview_imports_nothing_heavy() -> None:
    code = "import advisor.cli, advisor.consultation.consult, sys; print(*sys.modules)"
    loaded = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, timeout=60,
                            check=True).stdout.split()
    assert not {"numpy", "scipy", "pint", "jinja2", "rich"} & set(loaded)
