"""Saving after every answer; a disk that is full does not end the interview."""

from __future__ import annotations

from advisor.consultation.consult import Consultation
from advisor.errors import InputError
from advisor.interview import words
from advisor.interview.asker import Asker, Paragraph
from advisor.store import Store


class Keeper:
    """Keeps the answers of one consultation under one name."""

    def __init__(self, consultation: Consultation, store: Store | None, asker: Asker, name: str | None) -> None:
        self._consultation, self._store, self._asker = consultation, store, asker
        self.name = name if store is not None else None
        self._fault: str | None = None

    def keep(self) -> None:
        """Save all answers; a failure is told once."""
        answers = {name: answer.typed for name, answer in self._consultation.answers.items()}
        if self._store is None or not answers:
            return
        try:
            if self.name is None:
                self.name = self._store.create(self._consultation.title, answers)
            else:
                self._store.save(self.name, self._consultation.title, answers)
            self._fault = None
        except InputError as error:
            self._tell_fault(_in_one_line(error))

    def begin_anew(self) -> None:
        """Tell where the answers are, and keep what follows under a name of its own."""
        self.tell()
        self.name = None

    def tell(self) -> None:
        """Say at the end where the answers are."""
        if self._fault is not None:
            self._asker.show(Paragraph(words.not_kept(self._fault)))
        elif self.name is not None:
            self._asker.show(Paragraph(words.kept(self.name)))
        elif not self._consultation.answers:
            self._asker.show(Paragraph(words.NOTHING_KEPT))

    def _tell_fault(self, fault: str) -> None:
        if fault != self._fault:
            self._asker.show(Paragraph(words.not_kept(fault)))
        self._fault = fault


def _in_one_line(error: InputError) -> str:
    """A fault and what would help, as sentences of one paragraph."""
    fault = f"{error.where}: {error.what}." if error.where else f"{error.what}."
    return f"{fault} {error.help[:1].upper()}{error.help[1:]}." if error.help else fault
