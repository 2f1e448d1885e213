"""What a sift writes: the answers, the rows that could not be read, and a journal by which it goes on after a stop.

While it runs, the answers grow in `OUT.part` and the unread rows in `OUT.unread.part`; `OUT.journal` says how far both
are safe on the disk. Whatever stands beyond that after a stop, even a pulled plug, is cut off and made anew, so that
the finished files are the same as if nothing had happened. They get their names only when they are whole.
"""

from __future__ import annotations

import csv
import io
import os
import time
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import BinaryIO

import msgspec

from advisor.errors import Unclear
from advisor.files import write_whole
from advisor.listing.cells import guarded
from advisor.sifting.sieve import Sifted

HEADINGS = (
    "row", "cloth", "verdict", "score", "score_low", "score_high", "limited_by", "caution", "certainty", "caution_says",
    "envelope_says", "not_understood",
)  # fmt: skip
UNREAD_HEADINGS = ("row", "reason", "cloth")
SAFE_EVERY = 1.0
"""Seconds after which what is written is made safe on the disk."""


class Journal(msgspec.Struct):
    """How far a sift has come: `row` is the last row of the list that is done, the sizes are those of the files then."""

    question: str
    row: int
    answers: int
    unread: int


def unread_path(out: Path) -> Path:
    """Where the rows that cannot be read are listed: beside the answers."""
    return out.with_name(f"{out.stem}.unread{out.suffix}")


class Output:
    """The files of one sift; `row` is the last row that an earlier run has done (0: none)."""

    def __init__(self, out: Path, question: str, *, force: bool = False) -> None:
        if out.suffix.lower() != ".csv":
            raise Unclear(f"--out '{out}'", "a name that ends in .csv")
        if not out.parent.is_dir():
            raise Unclear(f"--out '{out}'", "a folder that exists")
        self.out, self.question = out, question
        self._part = out.with_name(out.name + ".part")
        self._unread_part = out.with_name(out.name + ".unread.part")
        self._journal = out.with_name(out.name + ".journal")
        begun = None if force else self._begun()
        if begun is None and out.exists() and not force:
            raise Unclear(f"--out '{out}', which is there already", "another name, or --force to write over it")
        self.row = begun.row if begun else 0
        try:
            self._files = (
                _open_at(self._part, begun.answers if begun else 0),
                _open_at(self._unread_part, begun.unread if begun else 0),
            )
        except OSError as error:
            raise Unclear(f"--out '{out}'", f"a file that can be written ({error.strerror})") from None
        self._safe_at = time.monotonic()
        if begun is None:
            self._put(self._files[0], [HEADINGS])
            self._put(self._files[1], [UNREAD_HEADINGS])
            self.make_safe(0)

    def _begun(self) -> Journal | None:
        """The journal of an earlier run of this very question on this very list; raises `Unclear` where it is of another."""
        if not self._journal.exists():
            return None
        try:
            journal = msgspec.json.decode(self._journal.read_bytes(), type=Journal)
            sizes = self._part.stat().st_size, self._unread_part.stat().st_size
        except (OSError, msgspec.MsgspecError):
            raise self._other() from None
        if journal.question != self.question or sizes[0] < journal.answers or sizes[1] < journal.unread:
            raise self._other()
        return journal

    def _other(self) -> Unclear:
        return Unclear(
            f"--out '{self.out}', beside which another list or question was begun and not finished",
            "another name, or --force to begin anew",
        )

    def done(self) -> Iterator[tuple[int, str, Sifted]]:
        """The answers that an earlier run has written: row, description, answer."""
        with self._part.open(newline="", encoding="utf-8") as file:
            rows = csv.reader(file)
            next(rows)
            for row, cloth, verdict, expected, low, high, limited, watch, sure, say, against, unknown in rows:
                yield int(row), _bare(cloth), Sifted(
                    verdict, float(low), float(expected), float(high), limited, watch, say, sure == "sure", against, _bare(unknown)
                )  # fmt: skip

    def done_unread(self) -> Iterator[tuple[int, str]]:
        """The rows that an earlier run could not read: row, reason."""
        with self._unread_part.open(newline="", encoding="utf-8") as file:
            rows = csv.reader(file)
            next(rows)
            for row, reason, _ in rows:
                yield int(row), reason

    def write(self, row: int, answers: Sequence[tuple[int, str, Sifted]], unread: Sequence[tuple[int, str, str]]) -> None:
        """Adds what came of the rows up to `row`."""
        self._put(
            self._files[0],
            [
                (number, guarded(cloth), a.verdict, a.expected, a.low, a.high, a.limited_by, a.watch,
                 "" if not a.watch else "sure" if a.sure else "may apply", a.watch_say, a.against, guarded(a.not_understood))
                for number, cloth, a in answers
            ],
        )  # fmt: skip
        self._put(self._files[1], [(number, reason, guarded(cloth)) for number, reason, cloth in unread])
        if time.monotonic() - self._safe_at >= SAFE_EVERY:
            self.make_safe(row)

    @staticmethod
    def _put(file: BinaryIO, rows: Sequence[Sequence[object]]) -> None:
        text = io.StringIO(newline="")
        csv.writer(text, lineterminator="\n").writerows(rows)
        file.write(text.getvalue().encode("utf-8", "backslashreplace"))

    def make_safe(self, row: int) -> None:
        """Puts on the disk all that is written, then says so in the journal."""
        for file in self._files:
            file.flush()
            os.fsync(file.fileno())
        journal = Journal(self.question, row, self._files[0].tell(), self._files[1].tell())
        write_whole(msgspec.json.encode(journal).decode(), self._journal, over=True)
        self._safe_at = time.monotonic()

    def finish(self, row: int) -> None:
        """Gives the files their names."""
        self.make_safe(row)
        any_unread = next(self.done_unread(), None) is not None
        self.close()
        if any_unread:
            os.replace(self._unread_part, unread_path(self.out))
        else:
            self._unread_part.unlink()
            unread_path(self.out).unlink(missing_ok=True)  # of an earlier list, under the same name
        os.replace(self._part, self.out)
        self._journal.unlink()

    def close(self) -> None:
        for file in self._files:
            file.close()


def _bare(cell: str) -> str:
    return cell[1:] if cell.startswith("'") and guarded(cell[1:]) == cell else cell


def _open_at(path: Path, size: int) -> BinaryIO:
    """The file, open for more behind its first `size` bytes; what stood beyond is gone."""
    file = path.open("r+b" if size else "w+b")
    file.truncate(size)
    file.seek(size)
    return file
