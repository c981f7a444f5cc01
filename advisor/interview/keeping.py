"""Saving after every answer; a disk that is full does not end the interview, and costs no answer without a word."""

from __future__ import annotations

from advisor import answer_file
from advisor.answer_file import Given
from advisor.consultation.consult import Consultation
from advisor.errors import InputError
from advisor.interview import words
from advisor.interview.asker import Asker, Line, Paragraph
from advisor.interview.resuming import TakenUp
from advisor.lock import Lock
from advisor.places import typed_path
from advisor.store import ChangedElsewhereError, Store


class Keeper:
    """Keeps the answers of one consultation under one name, which no other interview can have meanwhile.

    `set_aside` are answers from before that do not fit the rules now; they are kept beside the others.
    """

    def __init__(self, consultation: Consultation, store: Store | None, asker: Asker, taken_up: TakenUp | None) -> None:
        self._consultation, self._store, self._asker = consultation, store, asker
        self.name = taken_up.name if taken_up is not None and store is not None else None
        self._lock: Lock | None = taken_up.lock if taken_up is not None else None
        self._fault: str | None = None
        self.set_aside: dict[str, Given] = {}

    def keep(self) -> None:
        """Save all answers; a failure is told once, and so is its end."""
        if self._store is None or not self._consultation.answers:
            return
        try:
            self._save(self._store)
        except InputError as error:
            self._tell_fault(in_one_line(error))
            return
        if self._fault is not None:
            self._asker.show(Paragraph(words.KEPT_AGAIN))
        self._fault = None

    def begin_anew(self) -> None:
        """Tell where the answers are, and keep what follows under a name of its own."""
        self.tell()
        self.let_go()
        self.name = None

    def let_go(self) -> None:
        """Other interviews may have the consultation now."""
        if self._lock is not None:
            self._lock.release()
        self._lock = None

    def tell(self) -> None:
        """Say at the end where the answers are; where they could not be saved, offer to put them elsewhere."""
        if self._fault is not None:
            self._asker.show(Paragraph(words.not_kept(self._fault)))
            self._offer_other_file()
        elif self.name is not None:
            self._asker.show(Paragraph(words.kept(self.name)))
        elif not self._consultation.answers:
            self._asker.show(Paragraph(words.NOTHING_KEPT))

    def _save(self, store: Store) -> None:
        title, answers, aside = self._consultation.title, self._typed(), self._aside()
        if self.name is not None:
            try:
                store.save(self.name, title, answers, aside)
                return
            except ChangedElsewhereError:
                self._asker.show(Paragraph(words.CHANGED_ELSEWHERE))
                self.let_go()
                self.name = None
        self.name = store.create(title, answers, aside)
        self._lock = store.hold(self.name)

    def _typed(self) -> dict[str, Given]:
        return {name: answer.typed if isinstance(answer.typed, str) else list(answer.typed)
                for name, answer in self._consultation.answers.items()}

    def _aside(self) -> dict[str, Given]:
        return {name: given for name, given in self.set_aside.items() if name not in self._consultation.answers}

    def _tell_fault(self, fault: str) -> None:
        if fault != self._fault:
            self._asker.show(Paragraph(words.not_kept(fault)))
        if self._fault is None:
            self._asker.show(Paragraph(words.NOT_KEPT_YET))
        self._fault = fault

    def _offer_other_file(self) -> None:
        self._asker.show(Paragraph(words.OTHER_FILE))
        text = answer_file.written(self._consultation.title, self._typed(), self._aside())
        try:
            while name := self._asker.read(Line(words.OTHER_FILE_PROMPT)).strip():
                if self._written(name, text):
                    return
        except (KeyboardInterrupt, EOFError):
            return

    def _written(self, name: str, text: str) -> bool:
        try:
            answer_file.write(typed_path(name), text, replace=False)
        except FileExistsError:
            self._asker.show(Paragraph(words.FILE_EXISTS))
        except InputError as error:
            self._asker.show(Paragraph(in_one_line(error)))
        else:
            self._asker.show(Paragraph(words.kept_elsewhere(name)))
            return True
        return False


def in_one_line(error: InputError) -> str:
    """A fault and what would help, as sentences of one paragraph."""
    fault = f"{error.where}: {error.what}." if error.where else f"{error.what}."
    return f"{fault} {error.help[:1].upper()}{error.help[1:]}." if error.help else fault
