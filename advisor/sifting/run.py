"""The story of a sift: rows of the list → descriptions → answers → the output, and the best of them for the report."""

from __future__ import annotations

import bisect
from collections import Counter
from collections.abc import Callable, Iterable, Iterator
from itertools import islice
from pathlib import Path

import msgspec

from advisor import report
from advisor.errors import Unclear
from advisor.knowledge import Knowledge
from advisor.listing.descriptions import USED, Listed, Row, open_list
from advisor.picking import ORDER
from advisor.sifting.output import Output, unread_path
from advisor.sifting.sieve import Question, Sieve, Sifted

CHUNK = 2048
"""Rows read and judged at a time: what a sift holds in memory does not grow with the list."""
UNREAD_TOLD = 10
"""How many rows that cannot be read are named in the report."""


class Tally:
    """What the report says of all rows: counts, and the best descriptions, each once with the number of its rows."""

    def __init__(self, top: int) -> None:
        self.top, self.rows, self.unread = top, 0, 0
        self.verdicts: Counter[str] = Counter()
        self.unread_told: list[report.UnreadRow] = []
        self._best: list[tuple[tuple[int, float, int], str, Sifted]] = []
        self._times: dict[str, int] = {}

    def add(self, number: int, cloth: str, answer: Sifted) -> None:
        self.rows += 1
        self.verdicts[answer.verdict] += 1
        if cloth in self._times:
            self._times[cloth] += 1
            return
        # A cloth that fell out, or was never among the best, is met again only with the same answer: never better.
        key = (ORDER[answer.verdict], -answer.expected, number)
        if len(self._best) < self.top or key < self._best[-1][0]:
            bisect.insort(self._best, (key, cloth, answer))
            self._times[cloth] = 1
            for _, fallen, _ in self._best[self.top :]:
                del self._times[fallen]
            del self._best[self.top :]

    def add_unread(self, number: int, reason: str) -> None:
        self.unread += 1
        if len(self.unread_told) < UNREAD_TOLD:
            self.unread_told.append(report.UnreadRow(number, reason))

    def best(self) -> list[report.SiftRow]:
        return [
            report.SiftRow(
                key[2], cloth, answer.verdict, report.Scored(answer.low, answer.expected, answer.high),  # type: ignore[arg-type]
                answer.limited_by or None, answer.watch or None, answer.watch_say or None,
                "sure" if answer.sure else "may apply", answer.against or None, self._times[cloth],
            )
            for key, cloth, answer in self._best
        ]  # fmt: skip


def sift(
    path: Path,
    question: Question,
    knowledge: Knowledge,
    *,
    out: Path | None = None,
    top: int = 10,
    sheet: str = "",
    said: Iterable[str] = (),
    units: str = "metric",
    force: bool = False,
    progress: Callable[[int, int], None] | None = None,
) -> report.SiftReport:
    """Judges every row of a list for one question.

    With `out` every row is written there, and a sift of the same list that was stopped goes on where it was. `said` are
    meanings of columns (`heading=field`), `units` those of bare figures. `progress` is told (row, of about how many).
    """
    if not question.asks and not any(knowledge.context[c].demands for c in question.context):
        raise Unclear("a sift without a feature", "--for, or a --make with at least one feature", "--for 'covered buttons'")
    for written in (out, unread_path(out)) if out else ():
        if written.exists() and path.exists() and written.samefile(path):
            raise Unclear(f"--out '{out}', which would write over the list itself", "another name", str(out.with_name("answers.csv")) if out else "")
    listed = open_list(path, sheet=sheet, said=said, units=units)
    output = Output(out, _question_key(path, listed, question, knowledge, sheet, units), force=force) if out else None
    tally, sieve = Tally(top), Sieve(question, knowledge)
    last = 0
    if output and output.row:
        last = output.row
        for number, cloth, answer in output.done():
            tally.add(number, cloth, answer)
        for number, reason in output.done_unread():
            tally.add_unread(number, reason)
    resumed = last
    about = listed.about() if progress else 0
    try:
        for rows in _chunks(listed.rows(after=resumed), CHUNK):
            answers, unread = _judged(rows, sieve)
            for number, cloth, answer in answers:
                tally.add(number, cloth, answer)
            for number, reason, _ in unread:
                tally.add_unread(number, reason)
            last = rows[-1][0]
            if output:
                output.write(last, answers, unread)
            if progress:
                progress(last, max(last, about))
    except BaseException:
        if output:
            output.make_safe(last)
            output.close()
        raise
    if output:
        output.finish(last)
    return report.SiftReport(
        str(path), question.make.make if question.make else "", [ask.feature for ask in question.asks], tally.rows,
        {verdict: tally.verdicts[verdict] for verdict in ORDER}, tally.best(), tally.unread, tally.unread_told,  # type: ignore[misc]
        {c.heading: " ".join(filter(None, (c.field, c.unit))) for c in listed.columns if c.field in USED}, list(listed.remarks),
        str(out) if out else None, str(unread_path(out)) if out and tally.unread else None, resumed,
    )  # fmt: skip


def _judged(rows: list[Row], sieve: Sieve) -> tuple[list[tuple[int, str, Sifted]], list[tuple[int, str, str]]]:
    """(row, description, answer) of the rows that could be read, (row, reason, description) of the others."""
    answers: list[tuple[int, str, Sifted]] = []
    unread: list[tuple[int, str, str]] = []
    texts = [text for _, text in rows if not isinstance(text, Unclear)]
    found = iter(sieve.judge(texts))
    for number, text in rows:
        if isinstance(text, Unclear):
            unread.append((number, text.line(), ""))
            continue
        answer = next(found)
        if isinstance(answer, str):
            unread.append((number, answer, text))
        else:
            answers.append((number, text, answer))
    return answers, unread


def _chunks(rows: Iterable[Row], size: int) -> Iterator[list[Row]]:
    rows = iter(rows)
    while chunk := list(islice(rows, size)):
        yield chunk


def _question_key(path: Path, listed: Listed, question: Question, knowledge: Knowledge, sheet: str, units: str) -> str:
    """What must be the same for a sift to go on: the list, how it is read, what is asked, and the knowledge."""
    stat = path.stat()
    asked = [(ask.feature, sorted(ask.figures.items()), ask.places, ask.context) for ask in question.asks]
    parts = (
        str(path.resolve()), stat.st_size, stat.st_mtime_ns, sheet, units, [(c.heading, c.field, c.unit) for c in listed.columns],
        asked, question.context, msgspec.to_builtins(question.make), knowledge.key,
    )  # fmt: skip
    return msgspec.json.encode(parts).decode("utf-8", "replace")
