"""Taking up a saved consultation: whole, out of the version before it, or as a copy while another interview has it."""

from __future__ import annotations

from dataclasses import dataclass

from advisor.answer_file import AnswerFile
from advisor.interview import words
from advisor.interview.asker import Asker, Line, Paragraph
from advisor.interview.reading import command, tidy
from advisor.lock import Holder, Lock
from advisor.store import DamagedError, OpenElsewhereError, Store


@dataclass(frozen=True)
class TakenUp:
    """The answers to go on with; `name` is None where they get a name of their own."""

    answers: AnswerFile
    name: str | None
    lock: Lock | None = None


def take_up(store: Store, name: str, asker: Asker) -> TakenUp | None:
    """The saved consultation, locked; None where the person would rather leave it as it is.

    Raises:
        InputError: when there is none of that name, or no version of it can be read.
    """
    try:
        held = store.hold(name)
    except OpenElsewhereError as error:
        if not _agreed(asker, words.open_elsewhere(*_told(error.holder))):
            return None
        return TakenUp(store.load(name), None)
    answers = None
    try:
        answers = _whole(store, name, asker)
    finally:
        if answers is None and held is not None:
            held.release()
    return None if answers is None else TakenUp(answers, name, held)


def _whole(store: Store, name: str, asker: Asker) -> AnswerFile | None:
    try:
        return store.load(name)
    except DamagedError as error:
        when = f"{error.changed:%Y-%m-%d %H:%M}"
        if not _agreed(asker, words.damaged(f"{error.where}: {error.what}.", when, len(error.earlier.answers))):
            return None
        asker.show(Paragraph(words.damage_kept(str(store.restore(name)))))
        return store.load(name)


def _agreed(asker: Asker, offer: str) -> bool:
    """Whether the person goes on: Enter does, quit or leaving does not, and anything else is asked again."""
    try:
        while True:
            asker.show(Paragraph(offer))
            typed = tidy(asker.read(Line(words.TAKE_UP_PROMPT, words=(words.QUIT,))))
            if not typed or command(typed) == words.QUIT:
                return not typed
    except (KeyboardInterrupt, EOFError):
        return False


def _told(holder: Holder) -> tuple[str, str]:
    since = f", begun {holder.since:%Y-%m-%d %H:%M}" if holder.since else ""
    if holder.process is None:
        return since, ""
    return since, f" (process {holder.process}{f' on {holder.computer}' if holder.computer else ''})"
