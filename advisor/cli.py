"""The command line: parse, call one command, turn errors into messages and exit statuses.

Exit statuses: 0 advice given, 1 something is wrong with the input, 2 wrong usage, 3 the advice is to stop or refer,
130 left before there was any advice.
"""

from __future__ import annotations

import argparse
import contextlib
import gc
import importlib
import os
import sys
from collections.abc import Sequence
from typing import NoReturn

from advisor import signs
from advisor.commands.complain import complain
from advisor.errors import AdvisorError, UsageError, clean_text, near, quoted

COMMANDS = ("ask", "advise", "sheet", "rule", "source", "saved", "card", "schema", "compute", "vary", "compare",
            "audit")
BAD_INPUT = 1
INTERRUPTED = 130
SELDOM = 50_000
"""New objects until Python looks for garbage: most of what is made at the start stays, and looking takes long."""
_OF_THE_PROGRAM = ("-h", "--help")
_LONGEST_MESSAGE = 400
MOST_CASES = 1_000_000
MOST_PROCESSES = 256


class _Parser(argparse.ArgumentParser):
    def error(self, message: str) -> NoReturn:
        raise UsageError(clean_text(message, _LONGEST_MESSAGE), help=f"see `{self.prog} --help`")


def build_parser() -> argparse.ArgumentParser:
    """The parser of every command and option."""
    parser = _Parser(prog="advisor", allow_abbrev=False, description=(
        "Advice at the bench for joining and mending glass-fibre parts: method, preparation, amounts, batches, "
        "today's conditions, safety. Without a command an interview starts."))
    commands = parser.add_subparsers(dest="command", metavar="COMMAND", parser_class=_Parser)
    shared = _Parser(add_help=False)
    shared.add_argument("--rules", metavar="FOLDER", help="use another rules folder")
    _ask(commands, shared)
    _advise(commands, shared)
    _sheet(commands, shared)
    _look_up(commands, shared)
    _compute(commands, shared)
    _vary(commands, shared)
    _saved(commands)
    _card(commands, shared)
    _audit(commands, shared)
    schema = commands.add_parser("schema", parents=[shared], help="print a JSON Schema", allow_abbrev=False)
    schema.add_argument("what", choices=("answers", "advice", "product", "record"))
    return parser


def _cards(command: _Parser) -> None:
    command.add_argument("--product", action="append", default=[], metavar="CARD", dest="products",
                         help="a product card: the maker's numbers in place of the generic ones (may be repeated)")


def _ask(commands: argparse._SubParsersAction[_Parser], shared: _Parser) -> None:
    ask = commands.add_parser("ask", parents=[shared], help="start an interview", allow_abbrev=False)
    ask.add_argument("--goal", metavar="GOAL", help="what you come for, to skip the first question")
    ask.add_argument("--from", dest="from_file", metavar="FILE", help="begin with the answers in a file")
    ask.add_argument("--record", metavar="FILE",
                     help="begin with what the record of a job knows, as its job sheet saved it")
    ask.add_argument("--resume", metavar="NAME", help="go on with a saved consultation")
    ask.add_argument("--units", choices=("metric", "us"), help="units of the advice (default: as you type)")
    _cards(ask)
    ask.add_argument("--plain", action="store_true", help="plain lines only, for screen readers and simple terminals")


def _advise(commands: argparse._SubParsersAction[_Parser], shared: _Parser) -> None:
    advise = commands.add_parser("advise", parents=[shared], help="advice for answer files", allow_abbrev=False)
    advise.add_argument("files", nargs="+", metavar="FILE|FOLDER", help="answer files, or folders of them")
    advise.add_argument("--as", dest="form", choices=("text", "json", "markdown"), default="text")
    advise.add_argument("--units", choices=("metric", "us"), help="units of the advice (default: as in the file)")
    advise.add_argument("--out", metavar="FILE", help="write to a file instead of standard output")
    advise.add_argument("--jobs", type=_processes, metavar="N",
                        help="processes that work (default: one for each processor, where there are many files)")
    _cards(advise)
    advise.add_argument("--explain", metavar="WORDS", help="how the lines of the advice with these words were reached")
    advise.add_argument("--depth", type=_depth, default=0, metavar="N",
                        help="with --explain: so many conclusions deep (default: 0, the line's own reason)")
    advise.add_argument("--full", action="store_true", help="with --explain: all the way down to the answers")
    advise.add_argument("--why-not", metavar="NAME", dest="why_not",
                        help="what spoke for and against a method or material not chosen, and what would let it win")
    advise.add_argument("--details", action="store_true", help="show the whole balance, formulas and reasoning")


def _sheet(commands: argparse._SubParsersAction[_Parser], shared: _Parser) -> None:
    sheet = commands.add_parser("sheet", parents=[shared], help="the job sheet for the bench, as one page",
                                allow_abbrev=False)
    sheet.add_argument("file", metavar="FILE", help="an answer file")
    sheet.add_argument("-o", "--out", metavar="SHEET", help="the file to write (default: standard output)")
    sheet.add_argument("--force", action="store_true", help="replace a file that is there already")
    sheet.add_argument("--as", dest="form", choices=("html", "markdown"), default="html")
    sheet.add_argument("--units", choices=("metric", "us", "both"), default="both", help="units (default: both)")
    _cards(sheet)


def _look_up(commands: argparse._SubParsersAction[_Parser], shared: _Parser) -> None:
    rule = commands.add_parser("rule", parents=[shared], allow_abbrev=False,
                               help="search rules, materials, questions and cautions, print the handbook, or check")
    rule.add_argument("words", nargs="*", metavar="ID|WORD", help="an id, or words that stand in the entry")
    rule.add_argument("--as", dest="form", choices=("text", "json", "markdown"), default="text",
                      help="markdown without words: the whole handbook")
    rule.add_argument("--check", action="store_true", help="list every mistake in the rules folder")
    source = commands.add_parser("source", parents=[shared], help="search the sources, with what rests on each",
                                 allow_abbrev=False)
    source.add_argument("words", nargs="*", metavar="ID|WORD", help="an id, or words that stand in the source")
    source.add_argument("--as", dest="form", choices=("text", "json", "markdown"), default="text")


def _vary(commands: argparse._SubParsersAction[_Parser], shared: _Parser) -> None:
    vary = commands.add_parser("vary", parents=[shared], allow_abbrev=False,
                               help="which answers decide, and what other answers would change")
    vary.add_argument("file", metavar="FILE")
    vary.add_argument("--question", metavar="ID", help="vary this answer only")
    vary.add_argument("--units", choices=("metric", "us"), help="units of the answer (default: as in the file)")
    vary.add_argument("--as", dest="form", choices=("text", "json"), default="text")
    _cards(vary)
    compare = commands.add_parser("compare", parents=[shared], allow_abbrev=False,
                                  help="two answer files: what differs in the advice")
    compare.add_argument("one", metavar="A")
    compare.add_argument("other", metavar="B")
    compare.add_argument("--units", choices=("metric", "us"), help="units of both (default: as in each file)")
    compare.add_argument("--as", dest="form", choices=("text", "json"), default="text")
    compare.add_argument("--product", action="append", default=[], metavar="CARD", dest="products",
                         help="a product card for both (may be repeated)")
    compare.add_argument("--other-product", action="append", default=[], metavar="CARD", dest="other_products",
                         help="a product card for B alone: the same job with and without a product (may be repeated)")


def _compute(commands: argparse._SubParsersAction[_Parser], shared: _Parser) -> None:
    compute = commands.add_parser("compute", parents=[shared], allow_abbrev=False,
                                  help="list the computations, or run one and show formula and source")
    compute.add_argument("name", nargs="?", metavar="NAME")
    compute.add_argument("inputs", nargs="*", metavar="key=value", help="any unit: gap=1/2in, or a range: gap=10..14mm")
    compute.add_argument("--as", dest="form", choices=("text", "json"), default="text")


def _saved(commands: argparse._SubParsersAction[_Parser]) -> None:
    saved = commands.add_parser("saved", help="list, show or delete saved consultations", allow_abbrev=False)
    saved.add_argument("action", nargs="?", choices=("list", "show", "delete"), default="list")
    saved.add_argument("name", nargs="?", metavar="NAME")


def _card(commands: argparse._SubParsersAction[_Parser], shared: _Parser) -> None:
    card = commands.add_parser("card", parents=[shared], allow_abbrev=False,
                               help="fill a product card from a maker's sheet, question by question")
    card.add_argument("file", metavar="NEW.yaml", help="the card to write")
    card.add_argument("--force", action="store_true", help="replace a file that is there already")
    card.add_argument("--plain", action="store_true", help="plain lines only, for screen readers and simple terminals")


def _audit(commands: argparse._SubParsersAction[_Parser], shared: _Parser) -> None:
    audit = commands.add_parser("audit", parents=[shared], help="test the rules like a program", allow_abbrev=False)
    audit.add_argument("--cases", type=_count, default=2000, metavar="N", help="generated cases (default: 2000)")
    audit.add_argument("--seed", type=int, default=1, metavar="S", help="the same seed gives the same cases")
    audit.add_argument("--processes", type=_processes, default=2, metavar="N", help="processes that work (default: 2)")
    audit.add_argument("--scenarios", metavar="FOLDER", help="scenarios to run (default: beside the rules folder)")
    audit.add_argument("--mutate", action="store_true", help="also spoil grave rules one at a time; what notices?")
    audit.add_argument("--firing", action="store_true", help="also list which case fires each rule")


def _depth(text: str) -> int:
    if not text.isascii() or not text.isdigit():
        raise argparse.ArgumentTypeError(f"{quoted(text)} is not a whole number from 0 up")
    return int(text)


def _count(text: str, most: int = MOST_CASES) -> int:
    if not text.isdecimal() or len(text) > len(str(most)) or not 1 <= int(text) <= most:
        raise argparse.ArgumentTypeError(f"{quoted(text)} is not a whole number from 1 to {most}")
    return int(text)


def _processes(text: str) -> int:
    return _count(text, MOST_PROCESSES)


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command; returns the exit status."""
    gc.set_threshold(SELDOM)
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(errors=signs.ERRORS)
    try:
        status = _run(list(sys.argv[1:] if arguments is None else arguments))
        sys.stdout.flush()  # a full disk must be told here; later it could only be a traceback
        return status
    except AdvisorError as error:
        complain(error)
        return error.exit_status
    except KeyboardInterrupt:
        print("\nadvisor: stopped", file=sys.stderr)
        return INTERRUPTED
    except BrokenPipeError:
        _drop_output()
        return 0
    except OSError as error:
        _drop_output()
        complain(f"{error.filename}: {error.strerror}" if error.filename else error.strerror or error)
        return BAD_INPUT


def _drop_output() -> None:
    """What can no longer be written goes nowhere, or Python would stumble over it once more at its end."""
    with contextlib.suppress(OSError):
        sys.stdout.flush()
        return
    with contextlib.suppress(OSError, ValueError):
        nowhere = os.open(os.devnull, os.O_WRONLY)
        os.dup2(nowhere, sys.stdout.fileno())
        os.close(nowhere)


def _read_by_programs(options: argparse.Namespace) -> bool:
    """Whether the command prints a file of a format that is UTF-8 wherever it is read."""
    shown = (options.command, getattr(options, "action", None)) == ("saved", "show")
    return shown or options.command == "schema" or getattr(options, "form", None) in ("json", "markdown", "html")


def _run(arguments: list[str]) -> int:
    if not arguments or (arguments[0].startswith("-") and arguments[0] not in _OF_THE_PROGRAM):
        arguments = ["ask", *arguments]
    if not arguments[0].startswith("-") and arguments[0] not in COMMANDS:
        guess = near(arguments[0], COMMANDS)
        raise UsageError(f"there is no command {quoted(arguments[0])}",
                         help=f"did you mean `{guess}`?" if guess else f"one of {', '.join(COMMANDS)}")
    options = build_parser().parse_args(arguments)
    if _read_by_programs(options) and not sys.stdout.isatty() and hasattr(sys.stdout, "reconfigure"):
        sys.stdout.reconfigure(encoding="utf-8")
    module = importlib.import_module(f"advisor.commands.{options.command}")
    return int(module.run(options))
