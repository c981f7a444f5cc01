"""Files that a stranger might hand over, each made on demand: what is in them, or what stands in their place."""

from __future__ import annotations

import gzip
import json
import os
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

ESC = "\x1b[2J\x1b]0;owned\x07"
BIDI = "\u202egnp.exe\u2066"
HUGE_FILE = 50_000_000
DEEP = 50_000

Maker = Callable[[Path], Path]


@dataclass(frozen=True)
class Hostile:
    """A hostile file: how it is called here, how it is made; `harmless` where it may be taken as well as refused."""

    name: str
    make: Maker
    harmless: bool = False


def content(data: bytes | str, name: str = "evil.yaml") -> Maker:
    """A maker that writes the data under a name."""
    def make(folder: Path) -> Path:
        path = folder / name
        path.write_bytes(data if isinstance(data, bytes) else data.encode("utf-8", "surrogatepass"))
        return path
    return make


def _sparse(folder: Path) -> Path:
    path = folder / "evil.yaml"
    with path.open("wb") as file:
        file.truncate(HUGE_FILE)
    return path


def _enormous(folder: Path) -> Path:
    path = folder / "evil.yaml"
    with path.open("wb") as file:
        file.truncate(1 << 40)
    return path


def _fifo(folder: Path) -> Path:
    path = folder / "evil.yaml"
    os.mkfifo(path)
    return path


def _link_to(target: str) -> Maker:
    def make(folder: Path) -> Path:
        path = folder / "evil.yaml"
        path.symlink_to(target)
        return path
    return make


def _folder(folder: Path) -> Path:
    path = folder / "evil.yaml"
    path.mkdir()
    return path


def _odd_name(name: bytes, text: str) -> Maker:
    def make(folder: Path) -> Path:
        path = Path(os.fsdecode(os.fsencode(folder) + b"/" + name))
        path.write_text(text, encoding="utf-8")
        return path
    return make


# What may stand where a file was expected.
PLACES = [
    Hostile("50 MB of zeros", _sparse),
    Hostile("a terabyte with holes", _enormous),
    Hostile("50 MB of text", content(b"a: b\n" * (HUGE_FILE // 5))),
    Hostile("a pipe that nobody writes to", _fifo),
    Hostile("a link to /dev/zero", _link_to("/dev/zero")),
    Hostile("a link to /dev/random", _link_to("/dev/random")),
    Hostile("a link to the terminal", _link_to("/dev/tty")),
    Hostile("a link to memory", _link_to("/proc/self/mem")),
    Hostile("a link to itself", _link_to("evil.yaml")),
    Hostile("a link to nothing", _link_to("nowhere")),
    Hostile("a folder", _folder),
    Hostile("a link to a folder", _link_to(".")),
]

# What may stand in a file that is read as YAML, whatever it should have been.
_BOMB = "\n".join(["a0: &a0 [x, x]", *(f"a{i}: &a{i} [*a{i - 1}, *a{i - 1}]" for i in range(1, 60))])
YAML = [
    Hostile("nothing", content(b""), harmless=True),
    Hostile("white space", content(" \n\n  \n"), harmless=True),
    Hostile("a zero byte", content(b"advisor: 1\x00\n")),
    Hostile("zeros", content(b"\0" * 1000)),
    Hostile("binary", content(bytes(range(256)) * 40)),
    Hostile("gzip", content(gzip.compress(b"advisor: 1\n"))),
    Hostile("UTF-16", content("advisor: 1\nanswers: {}\n".encode("utf-16"))),
    Hostile("UTF-16 without mark", content("advisor: 1\nanswers: {}\n".encode("utf-16-le"))),
    Hostile("UTF-32", content("advisor: 1\nanswers: {}\n".encode("utf-32"))),
    Hostile("Latin-1", content("advisor: 1\ntitle: caf\xe9\nanswers: {}\n".encode("latin-1"))),
    Hostile("overlong UTF-8", content(b"advisor: 1\ntitle: \xc0\xaf\nanswers: {}\n")),
    Hostile("a surrogate in UTF-8", content(b"advisor: 1\ntitle: \xed\xa0\x80\nanswers: {}\n")),
    Hostile("two marks of byte order", content(b"\xef\xbb\xbf\xef\xbb\xbfadvisor: 1\n")),
    Hostile("a tab for indentation", content("advisor: 1\nanswers:\n\tgoal: x\n")),
    Hostile("an alias bomb", content(_BOMB)),
    Hostile("an alias to itself", content("a: &a [*a]\n")),
    Hostile("merge keys", content("a: &a {x: y}\nb: {<<: *a}\n")),
    Hostile("a tag that would run code", content("a: !!python/object/apply:os.system ['true']\n")),
    Hostile("a tag of its own", content("%TAG ! tag:evil,2000:\n---\na: !x y\n")),
    Hostile("escapes in a tag", content("a: !<%1b%5b2J> y\n")),
    Hostile("escapes in an anchor", content(f"a: &{ESC} y\n")),
    Hostile("an unknown directive", content("%EVIL x\n---\na: b\n")),
    Hostile("YAML of a later version", content("%YAML 9.9\n---\na: b\n")),
    Hostile("two documents", content("advisor: 1\n---\nadvisor: 1\n")),
    Hostile("a hundred thousand documents", content("---\n" * 100_000)),
    Hostile("deep brackets", content("[" * DEEP)),
    Hostile("deep brackets on lines", content("[\n" * DEEP)),
    Hostile("deep braces", content("{a: " * DEEP)),
    Hostile("deep dashes", content("- " * DEEP)),
    Hostile("deep question marks", content("? " * DEEP)),
    Hostile("deep indentation", content("".join(f"{' ' * depth}a:\n" for depth in range(1500)))),
    Hostile("a key that is a list", content("? [a, b]\n: c\n")),
    Hostile("a key of half a megabyte", content("a" * 490_000 + ": b\n")),
    Hostile("a text of half a megabyte", content("a: " + "b" * 490_000 + "\n")),
    Hostile("a text of half a megabyte, folded", content("a: >\n" + "  b\n" * 110_000)),
    Hostile("a hundred thousand times the same key", content("a: b\n" * 99_000)),
    Hostile("forty thousand keys", content("".join(f"k{i}: b\n" for i in range(40_000)))),
    Hostile("seventy thousand entries", content("- a: b\n" * 70_000)),
    Hostile("many empty entries", content("-\n" * 240_000)),
    Hostile("many commas", content("[" + "a," * 240_000 + "]")),
    Hostile("an open quote over half a megabyte", content('a: "' + "b\n" * 240_000)),
    Hostile("half a megabyte of comments", content("#\n" * 240_000), harmless=True),
    Hostile("carriage returns only", content("advisor: 1\rtitle: x\r\x1b[2J"), harmless=True),
    Hostile("raw escapes in a key", content(f"{ESC}: b\n")),
    Hostile("quoted escapes in a key", content(r'"\e[2J\a": b' + "\n")),
    Hostile("quoted escapes in a text", content(r'a: "\e[2J\a\x9b31m"' + "\n")),
    Hostile("turned writing in a key", content(f"{BIDI}: b\n")),
    Hostile("turned writing in a text", content(f"a: {BIDI}\n")),
]


def answers(body: str) -> str:
    """An answer file with these lines as its answers."""
    return "advisor: 1\ntitle: Invented\nanswers:\n" + body


def _one(value: str) -> Maker:
    return content(answers(f"  goal: plan_joint\n  gap_max: {value}\n"))


ANSWERS = [
    *(Hostile(f"title with {name}", content(f'advisor: 1\ntitle: "{text}"\nanswers: {{}}\n')) for name, text in (
        ("escapes", r"a\e[2J"), ("a bell", r"a\a"), ("C1 escapes", r"a\x9b2J"), ("turned writing", r"a\u202eb"),
        ("a zero width sign", r"a\u200bb"), ("a line separator", r"a\u2028\u202db"), ("a rubout", r"a\x7fb"),
        ("a zero byte", r"a\0b"), ("half a surrogate", r"a\ud800b"), ("100,000 letters", "x" * 100_000))),
    Hostile("story with escapes", content('advisor: 1\nstory: "\\e[2J"\nanswers: {}\n')),
    Hostile("number: infinity", _one("1e400 mm")),
    Hostile("number: 10,000 digits", _one("9" * 10_000 + " mm")),
    Hostile("number: 50 digits", _one("9" * 50 + " mm")),
    Hostile("number: 10,000 digits of exponent", _one("1e" + "9" * 10_000)),
    Hostile("number: fraction of nothing", _one("1/0 in")),
    Hostile("number: not a number", _one("nan mm")),
    Hostile("number: inf", _one("inf")),
    Hostile("number: hexadecimal", _one("0x10 mm")),
    Hostile("number: digits of another script", _one("\u0661\u0664 mm")),
    Hostile("number: superscripts", _one("\u00b2 mm")),
    Hostile("number: control signs as white space", _one(r'"14\x1c\x1d\x85mm"'), harmless=True),
    Hostile("number: carriage returns", _one(r'"14\r\r\v\fmm"'), harmless=True),
    Hostile("number: escapes", _one(r'"14 mm\e[2J"')),
    Hostile("number: turned writing", _one(r'"14 \u202emm"')),
    Hostile("unknown question with escapes", content(answers('  "\\e[2J\\u202e": x\n'))),
    Hostile("unknown word with escapes", content(answers('  goal: "\\e[2J\\u202e"\n'))),
    Hostile("list of words with escapes", content(answers('  exposure: ["\\e[2J", "\\x9b"]\n'))),
    Hostile("forty thousand answers", content(answers("".join(f"  q{i}: x\n" for i in range(40_000))))),
    Hostile("a thousand answers with misspelt names",
            content(answers("".join(f"  gap_maxx{i}: 1 mm\n" for i in range(1000))))),
    Hostile("one answer of forty thousand words",
            content(answers(f"  exposure: [{'weather, ' * 40_000}heat]\n"))),
    Hostile("one answer of a long word", content(answers(f"  goal: {'x' * 400_000}\n"))),
    Hostile("an answer named like an attribute", content(answers("  __class__: x\n  __init__: y\n"))),
    Hostile("version of 10,000 digits", content(f"advisor: {'1' * 10_000}\nanswers: {{}}\n")),
    Hostile("a path for a title", content(answers("  goal: plan_joint\n").replace("Invented", "../../etc/passwd")),
            harmless=True),
    Hostile("escapes in its own name", _odd_name(b"a\x1b[2J\xe2\x80\xae.yaml", "advisor: 2\nanswers: {}\n")),
    Hostile("a name that is not UTF-8", _odd_name(b"a\xff\x9b.yaml", "advisor: 2\nanswers: {}\n")),
    Hostile("a name with line breaks", _odd_name(b"a\nadvisor: fine\r.yaml", "advisor: 2\nanswers: {}\n")),
]

_CARD = "advisor: 1\nproduct: {}\nkind: adhesive\nfamily: methacrylate\nvalues:\n  gap_high: {}\n"


def _card(product: str = "Tube", value: str = "5 mm", extra: str = "") -> Maker:
    return content(_CARD.format(product, value) + extra)


CARDS = [
    Hostile("product with escapes", _card(r'"a\e[2J"')),
    Hostile("product with C1 escapes", _card(r'"a\x9b2J"')),
    Hostile("product with turned writing", _card(f'"{BIDI}"')),
    Hostile("product of 100,000 letters", _card("x" * 100_000)),
    Hostile("product that looks like markup", _card('"[red]<script>alert(1)</script>[/red]"'), harmless=True),
    Hostile("product that looks like a placeholder", _card('"{gap_max}{0.__class__}%s"'), harmless=True),
    Hostile("value: infinity", _card(value="1e400 mm")),
    Hostile("value: 10,000 digits", _card(value="9" * 10_000)),
    Hostile("value with escapes", _card(value=r'"5 mm\e[2J"')),
    Hostile("value: a block", _card(value="{low: {low: 5 mm}}")),
    Hostile("value: a list of lists", _card(extra="  work_times: [[[18 min]]]\n")),
    Hostile("value: 40,000 of them", _card(extra=f"  work_times: [{'18 min, ' * 40_000}18 min]\n")),
    Hostile("kind with escapes", content('advisor: 1\nproduct: T\nkind: "\\e[2J"\nfamily: x\nvalues: {a: b}\n')),
    Hostile("family with escapes",
            content('advisor: 1\nproduct: T\nkind: adhesive\nfamily: "\\e[2J"\nvalues: {a: b}\n')),
    Hostile("values with escapes", content(_CARD.format("T", "5 mm") + '  "\\e[2J": x\n')),
    Hostile("a list for a word", content("advisor: 1\nproduct: T\nkind: [a]\nfamily: {b: c}\nvalues: {a: b}\n")),
]


def _record(**changes: object) -> Maker:
    whole = {"advisor_record": 1, "title": "Invented", "answers": {"goal": "plan_joint"}, **changes}
    return content(json.dumps(whole), "evil.json")


def _raw(text: str | bytes) -> Maker:
    return content(text, "evil.json")


_HEAD = '{"advisor_record": '
_READING = {"name": ESC, "value": ESC, "at": BIDI}
RECORDS = [
    Hostile("deep lists", _raw("[" * DEEP + "]" * DEEP)),
    Hostile("deep lists, open", _raw("[" * DEEP)),
    Hostile("deep blocks", _raw('{"a":' * DEEP)),
    *(Hostile(f"version {depth} lists deep", _raw(_HEAD + "[" * depth + "]" * depth + "}"))
      for depth in (100, 900, 950, 970, 985, 995)),
    Hostile("version of 10,000 digits", _raw(_HEAD + "1" * 10_000 + "}")),
    Hostile("version of 4,000 digits", _raw(_HEAD + "1" * 4_000 + "}")),
    Hostile("version infinity", _raw(_HEAD + "1e400}")),
    Hostile("version not a number", _raw(_HEAD + "NaN}")),
    Hostile("version 1.0", _raw(_HEAD + "1.0}")),
    Hostile("version with escapes", _record(advisor_record=ESC)),
    Hostile("step of 10,000 digits", _raw(_HEAD + '1, "steps": [{"step": ' + "9" * 10_000 + "}]}")),
    Hostile("step of 4,000 digits", _raw(_HEAD + '1, "steps": [{"step": ' + "9" * 4_000 + "}]}")),
    Hostile("number of 900,000 digits", _raw("9" * 900_000)),
    Hostile("the same name twice", _raw(_HEAD + '2, "advisor_record": 1, "title": "a"}')),
    Hostile("half a surrogate in the title", _raw(_HEAD + '1, "title": "a\\ud800b"}')),
    Hostile("escapes in the title", _record(title=f"a{ESC}{BIDI}"), harmless=True),
    Hostile("escapes in a reading", _record(readings=[_READING]), harmless=True),
    Hostile("escapes in a note", _record(notes=ESC + BIDI, steps=[{"step": 1, "note": ESC}]), harmless=True),
    Hostile("escapes in an answer", _record(answers={"goal": ESC})),
    Hostile("escapes in the name of an answer", _record(answers={ESC: "x"})),
    Hostile("escapes in an unknown field", _record(**{ESC: 1})),
    Hostile("a reading of a question that is none", _record(readings=[{**_READING, "question": "nowhere"}])),
    Hostile("sixty thousand answers", _record(answers={f"q{i}": "x" for i in range(60_000)})),
    Hostile("a thousand answers of misspelt names", _record(answers={f"gap_maxx{i}": "1 mm" for i in range(1000)})),
    Hostile("thirty thousand readings", _record(readings=[{"name": "", "value": ""}] * 30_000)),
    Hostile("sixty thousand unknown fields", _record(**{f"f{i}": 1 for i in range(60_000)})),
    Hostile("UTF-16", _raw('{"advisor_record": 1}'.encode("utf-16"))),
    Hostile("a mark of byte order", _raw(b'\xef\xbb\xbf{"advisor_record": 1}'), harmless=True),
    Hostile("a zero byte", _raw(b'{"advisor_record": 1}\0')),
    Hostile("binary", _raw(bytes(range(256)) * 40)),
    Hostile("nothing", _raw(b"")),
    Hostile("a list", _raw("[1]")),
    Hostile("null", _raw("null")),
]

_ENTRY = '- source: evil\n  title: "{}"\n  kind: handbook\n'


def _beside(make: Maker, name: str) -> Maker:
    """The same in a folder below the rules."""
    def made(folder: Path) -> Path:
        below = folder / name
        below.mkdir()
        return make(below)
    return made


def _many_files(folder: Path) -> Path:
    for number in range(5000):
        (folder / f"evil{number}.yaml").write_text("- x\n", encoding="utf-8")
    return folder


def _loop(folder: Path) -> Path:
    (folder / "evil").symlink_to(folder, target_is_directory=True)
    return folder


RULES = [
    Hostile("a folder that is a link to its own folder", _loop, harmless=True),
    Hostile("five thousand bad files", _many_files),
    Hostile("a pipe further down", _beside(_fifo, "further")),
    *(Hostile(f"a title with {name}", content(_ENTRY.format(text))) for name, text in (
        ("escapes", r"a\e[2J"), ("C1 escapes", r"a\x9b2J"), ("turned writing", r"a\u202eb"), ("a bell", r"a\a"),
        ("a zero byte", r"a\0b"), ("a carriage return", r"a\rb"))),
    Hostile("an id with escapes", content('- source: "\\e[2J"\n  title: a\n  kind: handbook\n')),
    Hostile("a kind of entry with escapes", content('- "\\e[2J": a\n')),
    Hostile("a field with escapes", content('- source: a\n  "\\e[2J": a\n')),
    Hostile("a number of 10,000 digits",
            content(f"- limit: evil\n  label: Evil\n  value: {'9' * 10_000} mm\n  sources: [common-practice]\n")),
    Hostile("a number that is infinite",
            content("- limit: evil\n  label: Evil\n  value: 1e400 mm\n  sources: [common-practice]\n")),
    Hostile("a name that is code", content("- calculation: evil.run\n  gives: gap\n  from: [gap]\n  using: os.system\n"
                                           "  because: x\n  sources: [common-practice]\n")),
    Hostile("a placeholder that reaches into objects",
            content('- caution: evil\n  severity: danger\n  text: "{gap.__class__.__init__.__globals__}"\n'
                    "  because: x\n  sources: [common-practice]\n")),
    Hostile("a name with escapes", _odd_name(b"a\x1b[2J.yaml", "- x\n")),
    Hostile("a name that is not UTF-8", _odd_name(b"a\xff\x9b.yaml", "- x\n")),
]
