"""Job sheets in Debian's Chromium; without one the tests are skipped, but in continuous integration that fails."""

from __future__ import annotations

import os
import shutil
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, ViewportSize, sync_playwright

from advisor import answer_file
from advisor.consultation.advice import Advice
from advisor.consultation.consult import Advisor
from advisor.sheet.page import render

SCENARIOS = sorted((Path(__file__).parents[2] / "scenarios").glob("*.yaml"))
PHONE = ViewportSize(width=360, height=740)
Made = Callable[[str], tuple[Path, Advice]]


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    """Debian's Chromium, which the tests never download; closed after each file, as its event loop runs all the while
    and other tests of the same process want one of their own."""
    found = next(filter(None, map(shutil.which, ("chromium", "chromium-browser"))), None)
    if found is None:
        message = "there is no chromium here; on Debian: apt install chromium fonts-liberation"
        if os.environ.get("CI"):
            pytest.fail(message)
        pytest.skip(message)
    with sync_playwright() as playwright:
        # Without a sandbox only because continuous integration runs as root; the pages are our own.
        launched = playwright.chromium.launch(executable_path=found, args=["--no-sandbox"])
        yield launched
        launched.close()


@pytest.fixture(scope="session")
def made(advisor: Advisor, tmp_path_factory: pytest.TempPathFactory) -> Made:
    """The sheet of a scenario as a file, with its advice; made once."""
    folder = tmp_path_factory.mktemp("sheets")
    known: dict[str, tuple[Path, Advice]] = {}

    def make(name: str) -> tuple[Path, Advice]:
        if name not in known:
            file = answer_file.read(SCENARIOS[0].parent / f"{name}.yaml")
            advice = advisor.consult(file.answers, file.title, "both").advice()
            path = folder / f"{name}.html"
            path.write_text(render(advice, advisor.rule_base, file.answers), encoding="utf-8")
            known[name] = path, advice
        return known[name]
    return make


@pytest.fixture
def phone(browser: Browser) -> Iterator[Page]:
    """A page on a small phone, in a browser profile of its own."""
    context = browser.new_context(viewport=PHONE, accept_downloads=True, locale="en-GB", timezone_id="UTC")
    yield context.new_page()
    context.close()
