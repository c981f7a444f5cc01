"""Makes the pictures of docs/pictures: the interview as the terminal shows it, and the sheet in Debian's Chromium.

Run from the repository: `python docs/pictures/make.py`. Needs chromium, and the `test` extra for playwright.
"""

from __future__ import annotations

import re
import shutil
import sys
import tempfile
from pathlib import Path

from playwright.sync_api import Browser, sync_playwright
from rich.console import Console
from rich.text import Text

ROOT = Path(__file__).resolve().parents[2]
sys.path.insert(0, str(ROOT))

from advisor import answer_file  # noqa: E402
from advisor.consultation.consult import Advisor  # noqa: E402
from advisor.interview import session  # noqa: E402
from advisor.interview.scripted import ScriptedAsker  # noqa: E402
from advisor.sheet.page import render  # noqa: E402

HERE = ROOT / "docs" / "pictures"
SHEET = "hole-from-both-sides"
TYPED = ["A cracked fender", "2", "1", "why", "help", "quit"]
COLUMNS, ROWS = 82, 38
# The export asks a server for its font; the pictures are made without a network.
FONT_FACE = re.compile(r"@font-face \{.*?\}", re.DOTALL)
NOON = "2026-05-01T12:00:00Z"


def interview_svg(advisor: Advisor) -> str:
    """The beginning of an interview as rich exports it."""
    asker = ScriptedAsker(TYPED, COLUMNS - 2)
    session.run(advisor, asker=asker, show_advice=lambda advice: None)
    with open("/dev/null", "w", encoding="utf-8") as nowhere:
        console = Console(record=True, width=COLUMNS, file=nowhere, highlight=False)
        for line in asker.lines[:ROWS]:
            console.print(Text(line, style="bold" if line.startswith(("Answer:", "Name:")) else ""))
        return FONT_FACE.sub("", console.export_svg(title="advisor"))


def shoot(browser: Browser, page_file: Path, name: str, *, width: int, height: int, place: str | None = None,
          clocks: bool = False) -> None:
    """One picture of a page; small, because it is in the repository."""
    context = browser.new_context(viewport={"width": width, "height": height}, locale="en-GB", timezone_id="UTC")
    page = context.new_page()
    page.clock.install(time=NOON)
    page.goto(page_file.as_uri())
    if clocks:
        page.locator('[data-clock="batch-1"] button').click()
        page.clock.run_for(150_000)
        page.locator('[data-clock="batch-2"] button').click()
        page.clock.run_for(30_000)
    if place:
        page.locator(place).first.evaluate("(e) => { e.scrollIntoView(); scrollBy(0, -120) }")
    page.screenshot(path=HERE / name)
    context.close()


def main() -> None:
    """All pictures."""
    advisor = Advisor.from_folder()
    file = answer_file.read(ROOT / "scenarios" / f"{SHEET}.yaml")
    advice = advisor.consult(file.answers, file.title, "both").advice()
    with tempfile.TemporaryDirectory() as folder, sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=shutil.which("chromium"), args=["--no-sandbox"])
        page_file = Path(folder) / "sheet.html"
        page_file.write_text(render(advice, advisor.rule_base, file.answers), encoding="utf-8")
        shoot(browser, page_file, "sheet-top.png", width=800, height=760)
        shoot(browser, page_file, "sheet-batches.png", width=390, height=780, place=".batches", clocks=True)
        shoot(browser, page_file, "sheet-steps.png", width=390, height=780, place="#phase-apply .steps")
        shoot(browser, page_file, "sheet-drawings.png", width=800, height=760, place="#making .figures")
        picture = Path(folder) / "interview.html"
        picture.write_text(f"<!DOCTYPE html><style>body{{margin:0}}svg{{width:800px;display:block}}</style>"
                           f"{interview_svg(advisor)}", encoding="utf-8")
        page = browser.new_page(viewport={"width": 800, "height": 900})
        page.goto(picture.as_uri())
        page.locator("svg").first.screenshot(path=HERE / "interview.png")
        context = browser.new_context(viewport={"width": 794, "height": 1123})
        paper = context.new_page()
        paper.goto(page_file.as_uri())
        paper.emulate_media(media="print")
        paper.evaluate("""() => {
            document.documentElement.style.cssText = "padding: 28px; box-sizing: border-box";
            document.querySelector("main").style.cssText = "height: 990px; column-fill: auto; overflow: hidden";
        }""")
        paper.screenshot(path=HERE / "sheet-print.png", clip={"x": 0, "y": 0, "width": 794, "height": 480})
        browser.close()


if __name__ == "__main__":
    main()
