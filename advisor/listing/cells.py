"""The rows of a list, one after the other, whatever its kind: CSV, a spreadsheet (XLSX, XLSB, XLS, ODS) or Parquet."""

from __future__ import annotations

import csv
import re
from collections.abc import Callable, Iterable, Iterator
from datetime import date, datetime
from pathlib import Path
from typing import NamedTuple

from advisor.errors import Unclear

SPREADSHEETS = (".xlsx", ".xlsm", ".xlsb", ".xls", ".ods")
SAMPLE = 1_000_000
"""Bytes at the start of a text file by which its encoding and its separator are told."""
LONGEST_CELL = 1_000_000
BATCH = 20_000
"""Rows of a Parquet file that are held at a time."""
_FORMULA = re.compile(r"'*[=+\-@\t\r]")


class Opened(NamedTuple):
    """A list: its rows as text (`Unclear` in place of one that cannot be read), the first of them number 1.

    `about` counts them roughly, for word of progress, and may have to go through the whole file.
    """

    rows: Iterator[list[str] | Unclear]
    remarks: list[str]
    about: Callable[[], int]


def open_rows(path: Path, sheet: str = "") -> Opened:
    """The list in a file, by the ending of its name, read as it is asked for; raises `Unclear`."""
    if not path.is_file():
        raise Unclear(f"list '{path}'", "a file that exists")
    ending = path.suffix.lower()
    try:
        if ending in SPREADSHEETS:
            return _spreadsheet(path, sheet)
        return _parquet(path) if ending == ".parquet" else _csv(path)
    except OSError as error:
        raise Unclear(f"list '{path}'", f"a file that can be read ({error.strerror})") from None


# ---- text ----


def _csv(path: Path) -> Opened:
    with path.open("rb") as file:
        raw = file.read(SAMPLE)
    encoding, remarks = _encoding(raw)
    sample = raw.decode(encoding, errors="replace" if encoding == "cp1252" else "ignore")
    if "\0" in sample:
        raise Unclear(f"list '{path}'", "a CSV, XLSX, ODS or Parquet file")
    return Opened(_records(path, encoding, separator(sample)), remarks, lambda: _lines(path))


def _lines(path: Path) -> int:
    with path.open("rb") as file:
        return sum(piece.count(b"\n") for piece in iter(lambda: file.read(SAMPLE), b""))


def _encoding(raw: bytes) -> tuple[str, list[str]]:
    if raw[:2] in (b"\xff\xfe", b"\xfe\xff"):
        return "utf-16", []
    try:
        raw.decode("utf-8")
    except UnicodeDecodeError as error:
        if error.reason != "unexpected end of data" or len(raw) < SAMPLE:
            return "cp1252", ["the file is not in UTF-8; it was read as Western European text"]
    return "utf-8-sig", []


def separator(sample: str) -> str:
    """The mark between the cells, told by the first lines that hold any: comma, semicolon, tab or bar."""
    counts = dict.fromkeys(",;\t|", 0)
    for line in sample.splitlines()[:50]:
        if any(counts.values()):
            break
        bare = re.sub(r'"[^"]*"', "", line)
        counts = {mark: bare.count(mark) for mark in counts}
    return max(counts, key=lambda mark: counts[mark])


def _records(path: Path, encoding: str, mark: str) -> Iterator[list[str] | Unclear]:
    """The records of a CSV file; a byte that is not of the encoding is kept as a mark that `one_line` refuses."""
    csv.field_size_limit(LONGEST_CELL)
    errors = "replace" if encoding == "cp1252" else "surrogateescape" if encoding == "utf-8-sig" else "strict"
    with path.open(newline="", encoding=encoding, errors=errors) as file:
        reader = csv.reader(file, delimiter=mark, strict=False)
        while True:
            try:
                row = next(reader)
            except StopIteration:
                return
            except (csv.Error, UnicodeDecodeError) as error:
                if isinstance(error, UnicodeDecodeError):
                    yield Unclear("a row with letters that cannot be read", "a list saved as CSV in UTF-8")
                    return
                yield Unclear("a row", f"cells of at most {LONGEST_CELL:,} characters, quotes that close ({str(error)[:80]})")
                continue
            yield [unguarded(cell.strip()) for cell in row]


# ---- spreadsheets and Parquet ----


def _spreadsheet(path: Path, sheet: str) -> Opened:
    try:
        import python_calamine as calamine
    except ImportError:
        raise _without("spreadsheet", path) from None
    try:
        book = calamine.CalamineWorkbook.from_path(str(path))
        names = list(book.sheet_names)
        if sheet and sheet not in names:
            raise Unclear(f"sheet '{sheet[:40]}'", f"one of {', '.join(names)}")
        sheets = {name: book.get_sheet_by_name(name) for name in ([sheet] if sheet else names)}
        filled = [name for name, one in sheets.items() if any(any(c not in ("", None) for c in row) for row in one.iter_rows())]
        rows = sheets[filled[0]].iter_rows() if filled else ()
    except Unclear:
        raise
    except Exception as error:  # the reader's own errors share no base class across versions
        raise Unclear(f"spreadsheet '{path}'", f"a sound XLSX or ODS file ({str(error)[:100]})") from None
    others = ", ".join(f"'{n}'" for n in filled[1:])
    remarks = [f"sheet '{filled[0]}' was read, not {others}; --sheet names another"] if others else []
    height = sheets[filled[0]].total_height if filled else 0
    return Opened(([as_text(cell) for cell in row] for row in rows), remarks, lambda: height)


def _parquet(path: Path) -> Opened:
    try:
        import polars
    except ImportError:
        raise _without("Parquet file", path) from None
    try:
        table = polars.scan_parquet(path)
        headings = table.collect_schema().names()
        batches = table.collect_batches(chunk_size=BATCH, maintain_order=True)
    except Exception as error:  # polars raises many kinds
        raise Unclear(f"Parquet file '{path}'", f"a sound one ({str(error).splitlines()[0][:100]})") from None

    def rows() -> Iterator[list[str] | Unclear]:
        yield headings
        for batch in batches:
            for row in batch.iter_rows():
                yield [as_text(cell) for cell in row]

    return Opened(rows(), [], lambda: int(table.select(polars.len()).collect().item()))


def _without(what: str, path: Path) -> Unclear:
    return Unclear(
        f"{what} '{path}'", "the extra 'lists' installed (pip install 'fabric-advisor[lists]'), or the list saved as CSV"
    )


# ---- cells ----


def as_text(value: object) -> str:
    """A cell of a spreadsheet as text."""
    if value is None:
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, float):
        return figure(round(value, 10))
    if isinstance(value, (date, datetime)):
        return value.isoformat()[:10]
    return unguarded(str(value).strip())


def figure(value: float) -> str:
    """A figure that reads back as the same number, without a needless '.0'."""
    return str(int(value)) if value == value and abs(value) != float("inf") and value == int(value) else repr(value)


def guarded(text: str) -> str:
    """Text that no spreadsheet runs as a formula."""
    return f"'{text}" if _FORMULA.match(text) else text


def unguarded(text: str) -> str:
    """The text behind `guarded`."""
    return text[1:] if text.startswith("'") and _FORMULA.match(text) else text


def filled(rows: Iterable[list[str] | Unclear]) -> Iterator[tuple[int, list[str] | Unclear]]:
    """(number, row) of the rows that hold anything."""
    for number, row in enumerate(rows, 1):
        if isinstance(row, Unclear) or any(row):
            yield number, row
