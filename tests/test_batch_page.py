"""The example of docs/batch.md that spreads work gives what the command gives."""

from __future__ import annotations

import importlib.util
import json
import re
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from advisor.cli import main

ROOT = Path(__file__).parents[1]


@pytest.mark.skipif(importlib.util.find_spec("distributed") is None, reason="the extra `distributed` is not installed")
def test_the_example_gives_the_lines_of_the_command(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    found = re.search(r"^```python\n(.*?)^```$", (ROOT / "docs" / "batch.md").read_text(encoding="utf-8"), re.M | re.S)
    assert found
    (tmp_path / "spread.py").write_text(found[1], encoding="utf-8")
    jobs = tmp_path / "jobs"
    jobs.mkdir()
    for path in sorted((ROOT / "scenarios").glob("*.yaml"))[:3]:
        shutil.copy(path, jobs)
    (jobs / "wrong.yaml").write_text("advisor: 1\nanswers: {gaol: plan_joint}\n", encoding="utf-8")
    spread = subprocess.run([sys.executable, str(tmp_path / "spread.py"), str(jobs)], capture_output=True, text=True,
                            check=True, timeout=200)
    assert main(["advise", str(jobs), "--as", "json"]) == 1
    command = capsys.readouterr()
    assert [json.loads(line) for line in spread.stdout.splitlines()] == [
        json.loads(line) for line in command.out.splitlines()]
    assert len(spread.stdout.splitlines()) == 3
    assert f"{jobs / 'wrong.yaml'}:2" in spread.stderr


def test_the_example_is_python() -> None:
    text = (ROOT / "docs" / "batch.md").read_text(encoding="utf-8")
    [example] = re.findall(r"^```python\n(.*?)^```$", text, re.M | re.S)
    compile(example, "docs/batch.md", "exec")
