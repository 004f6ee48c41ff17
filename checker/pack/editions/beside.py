"""What stands beside editions and speaks of their clauses: the register of approvals, and interpretations."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from checker.pack.editions.approvals import read_register
from checker.pack.editions.file_heads import head_of
from checker.pack.editions.finding import PackFolder
from checker.pack.editions.interpretations import read_interpretations, with_interpretations
from checker.pack.editions.loading import read_pack_document
from checker.pack.model import Interpretation, Pack
from checker.reading.document import Document
from checker.reading.quick_dataclasses import dataclass, replace


@dataclass(frozen=True, slots=True)
class Beside:
    """The files beside the editions of a folder, read."""

    register: Document | None
    answers: Document | None
    interpretations: tuple[Interpretation, ...]

    @property
    def documents(self) -> Sequence[Document]:
        """The files, for the digest of a pack."""
        return [document for document in (self.register, self.answers) if document is not None]

    def laid_over(self, pack: Pack, on: date) -> Pack:
        """A pack with the approvals and interpretations of a day.

        Raises:
            InputError: The register cannot be used (601, 602, 641).
        """
        if self.interpretations:
            pack = with_interpretations(pack, self.interpretations, on)
        if self.register is not None:
            pack = replace(pack, approvals=read_register(self.register, pack, on))
        return pack


def read_beside(folder: PackFolder) -> Beside:
    """What stands beside a folder's editions.

    Raises:
        InputError: A file cannot be read, or something is wrong with an interpretation.
    """
    register = read_pack_document(folder.approvals) if folder.approvals else None
    if folder.interpretations is None:
        return Beside(register, None, ())
    answers = read_pack_document(folder.interpretations)
    heads = [head_of(file) for file in folder.bulletins]
    bulletins = {head.bulletin: head.first for head in heads}
    return Beside(register, answers, read_interpretations(answers, bulletins))
