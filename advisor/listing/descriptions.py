"""Of each row of a list, the words in which a maker would describe that cloth."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator, Sequence
from itertools import chain, islice
from pathlib import Path

from advisor.errors import Unclear
from advisor.listing.cells import filled, open_rows
from advisor.listing.headings import Column, Table, columns_of, distinct, guess, heading_row
from advisor.stash import measures
from advisor.stash.measures import one_line

LOOK_AT = 200
"""Rows by whose figures the unit of a column is told."""

USED = ("name", "description", "weight", "width")
"""The fields that make a description."""

Row = tuple[int, "str | Unclear"]


class Listed:
    """A list: what its columns mean, and remarks on its reading. `about` counts its rows roughly."""

    def __init__(
        self, columns: Sequence[Column], rows: Iterator[tuple[int, list[str] | Unclear]], remarks: Sequence[str],
        units: str, about: Callable[[], int],
    ) -> None:  # fmt: skip
        self.columns, self.remarks, self.about = tuple(columns), tuple(remarks), about
        self._rows, self._units = rows, units

    def rows(self, after: int = 0) -> Iterator[Row]:
        """(number, description or why the row cannot be read) of the rows after one, read once as they are asked for."""
        for number, row in self._rows:
            if number <= after:
                continue
            if isinstance(row, Unclear):
                yield number, row
                continue
            try:
                yield number, description(row, self.columns, self._units)
            except Unclear as error:
                yield number, error


def open_list(path: Path, *, sheet: str = "", said: Iterable[str] = (), units: str = "metric") -> Listed:
    """The descriptions of a list, read as they are asked for; raises `Unclear` where the list cannot be read at all.

    `said` are the user's own meanings of columns (`heading=field`), `units` those of bare figures.
    """
    opened = open_rows(path, sheet)
    rows = filled(opened.rows)
    first = list(islice(rows, LOOK_AT))
    sound = [(number, row) for number, row in first if not isinstance(row, Unclear)]
    if not sound:
        raise Unclear(f"list '{path}'", "at least one row")
    at = heading_row([row for _, row in sound]) if len(sound) > 1 else 0
    said = list(said)
    remarks = opened.remarks
    if said or any(guess(cell)[2] == "known heading" for cell in sound[at][1]):
        titles = {number for number, _ in sound[: at + 1]}
        first = [(number, row) for number, row in first if number not in titles]
        table = Table(distinct(sound[at][1]), tuple((number, tuple(row)) for number, row in sound[at + 1 :]))
        columns = columns_of(table, said, units)
    else:
        remarks = [*remarks, "no headings were found: every cell of a row is taken as part of its description"]
        columns = [Column(f"column {place + 1}", "description") for place in range(max(len(row) for _, row in sound))]
    return Listed(columns, chain(first, rows), remarks, units, opened.about)


def description(cells: Sequence[str], columns: Sequence[Column], units: str) -> str:
    """A row as one description: its name unless that is a number of the shop's, what describes it, weight and width."""
    names: list[str] = []
    said: list[str] = []
    for column, text in zip(columns, cells, strict=False):
        if not text:
            continue
        if column.field == "description":
            said.append(one_line(text, "description", 2000))
        elif column.field == "name":
            name = one_line(text, "name", 2000)
            names += [] if re.search(r"\d", name) else [name]
        elif column.field == "weight":
            said.append(weight_words(text, column, units))
        elif column.field == "width":
            said += _width_words(text, column, units)
    found = ", ".join(dict.fromkeys([*names, *said]))
    if not found:
        raise Unclear("a row without a description", "what the cloth is, in words")
    return found


def weight_words(text: str, column: Column, units: str) -> str:
    """A weight with its unit: that of the heading, else that of bare figures."""
    unit = {"gsm": " gsm", "oz": " oz"}.get(column.unit, " gsm" if units == "metric" else " oz")
    return one_line(text, "weight", 60) + (unit if re.fullmatch(r"[\d.,\s-]+", text) else "")


def _width_words(text: str, column: Column, units: str) -> list[str]:
    """A width in words; one that cannot be read is left out, since no verdict rests on it."""
    try:
        return [f"{measures.width_cm(text, units, bare=column.unit):.4g} cm wide"]
    except Unclear:
        return []
