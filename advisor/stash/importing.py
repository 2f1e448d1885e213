"""Lists of cloth into the stash: CSV, spreadsheets (XLSX, ODS, XLS) and the stash's own JSON.

The steps: `read_table` → `propose` which column means what → `rows_of` reads each row or says why not →
`take_in` adds the good ones in one transaction. Rows that were imported before are known again by their contents,
so the same file twice adds nothing, even after its pieces were renamed, cut or used up.
"""

from __future__ import annotations

import hashlib
import re
from collections import Counter
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

import msgspec

from advisor.errors import Unclear
from advisor.listing.cells import filled, open_rows, unguarded
from advisor.listing.descriptions import weight_words
from advisor.listing.headings import Column, Table, columns_of, distinct, fields, heading_row, is_sure
from advisor.stash import exporting, measures, store
from advisor.stash.backup import back_up
from advisor.stash.measures import one_line
from advisor.stash.pieces import Piece, Understand, Understood, checked, key_of

__all__ = ["Column", "Outcome", "Refused", "Row", "Table", "fields", "is_sure", "propose", "read_table", "rows_from_json", "rows_of", "take_in"]

MOST_BYTES = 50_000_000
MOST_ROWS = 200_000


@dataclass(frozen=True)
class Row:
    """A row that can go in."""

    number: int
    piece: Piece
    fingerprint: str
    understood: Understood


@dataclass(frozen=True)
class Refused:
    """A row that cannot be read, and why."""

    row: int
    why: str


@dataclass(frozen=True)
class Outcome:
    """What an import did."""

    added: tuple[Piece, ...]
    joined: int
    known: int
    refused: tuple[Refused, ...]
    backup: Path | None


# ---- the file ----


def read_table(path: Path, sheet: str = "") -> Table:
    """The list in a file, by the ending of its name; raises `Unclear`."""
    opened = open_rows(path, sheet)
    if path.stat().st_size > MOST_BYTES:
        raise Unclear(f"list '{path}'", f"at most {MOST_BYTES // 1_000_000} MB")
    rows: list[tuple[int, list[str]]] = []
    for number, row in filled(opened.rows):
        if isinstance(row, Unclear):
            raise Unclear(f"list '{path}', row {number}", row.expected)
        rows.append((number, row))
        if len(rows) > MOST_ROWS:
            raise Unclear(f"list '{path}' of more than {MOST_ROWS:,} rows", f"at most {MOST_ROWS:,}")
    if len(rows) < 2:
        raise Unclear(f"list '{path}'", "a row of headings and at least one row below it")
    at = heading_row([row for _, row in rows])
    return Table(distinct(rows[at][1]), tuple((n, tuple(row)) for n, row in rows[at + 1 :]), tuple(opened.remarks))


def propose(table: Table, said: Iterable[str] = (), units: str = "metric") -> list[Column]:
    """What each column means for the stash, whose own export is known again; raises `Unclear`."""
    return columns_of(table, said, units, exporting.FIELDS)


# ---- the rows ----


def rows_of(
    table: Table, columns: Sequence[Column], understand: Understand, units: str = "metric",
    progress: Callable[[int, int], None] | None = None, folder: Path | None = None,
) -> tuple[list[Row], list[Refused]]:  # fmt: skip
    """(rows that can go in, rows that cannot with the reason). A photograph's file is looked for from `folder`."""
    good: list[Row] = []
    bad: list[Refused] = []
    seen: Counter[str] = Counter()
    named = any(c.field == "name" for c in columns)
    for place, (number, cells) in enumerate(table.rows):
        try:
            piece = _piece_of(cells, columns, units)
            if folder and piece.photo and (folder / piece.photo).is_file():
                piece = replace(piece, photo=str((folder / piece.photo).resolve()))
            good.append(_row(number, piece, understand, seen, given_name=named))
        except Unclear as error:
            bad.append(Refused(number, error.line()))
        if progress:
            progress(place + 1, len(table.rows))
    return good, bad


def _row(number: int, piece: Piece, understand: Understand, seen: Counter[str], *, given_name: bool) -> Row:
    understood = understand(piece.description, piece.tests)
    piece = replace(
        piece,
        width_cm=piece.width_cm
        if piece.width_cm is not None or understood.width_cm is None
        else round(understood.width_cm, 2),
        lengths_m=piece.lengths_m
        or ((round(understood.length_m, 4),) if understood.length_m and not piece.cuts else ()),
    )
    piece = checked(piece)
    contents = piece if given_name else replace(piece, name="")
    digest = hashlib.sha256(msgspec.json.encode(contents)).hexdigest()
    seen[digest] += 1
    return Row(number, piece, digest if seen[digest] == 1 else f"{digest}-{seen[digest]}", understood)


NOTHING = frozenset(("-", "–", "—", "?", "??", "n/a", "na", "nil", "none", "unknown", "not known", "don't know"))
"""What people write into a cell when there is nothing to say."""
FIGURES = ("weight", "width", "length", "bought", "price", "shrank")
"""Where such a word can mean nothing else; a place may be called 'none'."""


def _piece_of(cells: Sequence[str], columns: Sequence[Column], units: str) -> Piece:
    """A row as a piece, not yet checked; raises `Unclear` for the first cell that cannot be read."""
    own: dict[str, object] = {}
    described: list[str] = []
    notes: list[str] = []
    amount, currency, per = "", "", ""
    for place, column in enumerate(columns):
        text = cells[place] if place < len(cells) else ""
        field = column.field
        if not text.strip() or field == "ignore":
            continue
        if field in FIGURES and text.strip().casefold() in NOTHING:
            continue
        if field == "description":
            described.append(one_line(text, "description", 2000))
        elif field == "weight":
            described.append(weight_words(text, column, units))
        elif field == "notes":
            lines = [unguarded(line) for line in text.splitlines()]
            plain = column.heading.lower() in ("notes", "note")
            notes += lines if plain else [f"{column.heading}: {' '.join(lines)}"]
        elif field in ("width", "width_cm"):
            own["width_cm"] = measures.width_cm(text, units, bare=column.unit or ("cm" if field == "width_cm" else ""))
        elif field in ("length", "lengths_m"):
            own["lengths_m"] = measures.lengths_m(
                text, units, bare=column.unit or ("m" if field == "lengths_m" else "")
            )
        elif field == "price" and not any(c.isdigit() for c in text):  # 'a gift': no amount, yet worth keeping
            notes.append(f"{column.heading}: {one_line(text, 'price', 80)}")
        elif field == "price":
            sign, _, unit = (
                column.unit.rpartition(" ")
                if " " in column.unit
                else (column.unit, "", "")
                if column.unit not in ("m", "yd")
                else ("", "", column.unit)
            )
            amount, own_currency, own_per = measures.price(text)
            currency, per = own_currency or currency or measures.currency(sign), own_per or per or unit
        elif field == "currency":
            currency = measures.currency(text)
        elif field == "price_for":
            per = one_line(text, "price for", 10)
        elif field == "bought":
            own["bought"] = measures.day(text, column.unit)
        elif field == "prewashed":
            own["prewashed"] = measures.prewashed(text)
            if re.search(r"\d\s*%", text):
                own["shrank_along_pct"], own["shrank_across_pct"] = measures.shrank(text)
        elif field == "shrank":
            own["shrank_along_pct"], own["shrank_across_pct"] = measures.shrank(text)
        elif field in ("shrank_along_pct", "shrank_across_pct"):
            own[field] = measures.shrank(text)[0]
        elif field == "reserved":
            own["reserved"] = tuple(exporting.reserved_of(line) for line in text.splitlines() if line.strip())
        elif field == "cuts":
            own["cuts"] = tuple(exporting.cut_of(line) for line in text.splitlines() if line.strip())
        else:  # name, kept, tests, photo, added: text as it stands
            own[field] = text
    name = str(own.pop("name", "")) or described[0][:200] if described else str(own.pop("name", ""))
    description = ", ".join(dict.fromkeys(described)) or name
    if not description:
        raise Unclear("a row without a description", "what the cloth is, in words")
    return Piece(
        name=name, description=description, notes=tuple(notes), price=amount, currency=currency, price_for=per, **own,  # type: ignore[arg-type]
    )  # fmt: skip


def rows_from_json(
    path: Path, understand: Understand, progress: Callable[[int, int], None] | None = None
) -> tuple[list[Row], list[Refused]]:
    """The rows of the stash's own JSON export; raises `Unclear` where it is not one."""
    try:
        if path.stat().st_size > MOST_BYTES:
            raise Unclear(f"list '{path}'", f"at most {MOST_BYTES // 1_000_000} MB")
        found = msgspec.json.decode(path.read_bytes(), type=exporting.Exported)
    except OSError as error:
        raise Unclear(f"list '{path}'", f"a file that can be read ({error.strerror})") from None
    except (msgspec.DecodeError, UnicodeDecodeError) as error:
        raise Unclear(f"list '{path}' ({str(error)[:100]})", "what 'advisor stash export' wrote as JSON") from None
    if found.stash > exporting.FORM:
        raise Unclear(f"list '{path}' in form {found.stash}", f"form {exporting.FORM} or less; update the advisor")
    good: list[Row] = []
    bad: list[Refused] = []
    seen: Counter[str] = Counter()
    for place, piece in enumerate(found.pieces, 1):
        try:
            good.append(_row(place, piece, understand, seen, given_name=True))
        except Unclear as error:
            bad.append(Refused(place, error.line()))
        if progress:
            progress(place, len(found.pieces))
    return good, bad


# ---- into the stash ----


def take_in(
    path: Path,
    rows: Sequence[Row],
    refused: Sequence[Refused] = (),
    *,
    all_or_nothing: bool = False,
    given_names: bool = True,
) -> Outcome:
    """Adds the rows in one transaction, after a backup; rows imported before are passed over.

    Two rows of one list with the same name and the same cloth become two lengths of one piece. A row whose name another
    piece of the stash has is refused. With `all_or_nothing` any refused row, here or before, keeps all out. Without
    names of their own (`given_names` false) pieces with the same words get a number behind their name.
    """
    refused = list(refused)
    if all_or_nothing and refused:
        return Outcome((), 0, 0, tuple(refused), None)
    copy: Path | None = None
    with store.changing(path, make=True) as db:
        known = store.known_rows(db)
        taken = {key_of(name) for name in store.names(db)}
        new: dict[str, Piece] = {}
        fingerprints: list[str] = []
        joined = 0
        for row in rows:
            if row.fingerprint in known:
                continue
            piece, key = row.piece, key_of(row.piece.name)
            if not given_names:
                count = 1
                while key in taken or key in new:
                    count += 1
                    key = key_of(f"{row.piece.name} ({count})")
                piece = piece if count == 1 else replace(piece, name=f"{row.piece.name} ({count})")
            try:
                if key in taken:
                    raise Unclear(
                        f"the name '{piece.name}', which the stash has already",
                        "another name in the list, or 'stash edit' for that piece",
                    )
                if key in new:
                    piece = _joined(new[key], piece)
                    joined += 1
                new[key] = checked(piece)
                fingerprints.append(row.fingerprint)
            except Unclear as error:
                refused.append(Refused(row.number, error.line()))
        already = sum(row.fingerprint in known for row in rows)
        if all_or_nothing and refused:
            return Outcome((), 0, already, tuple(sorted(refused, key=lambda r: r.row)), None)
        if new:
            if known or taken:
                copy = back_up(path, "before-import")
            day = store.today()
            added = tuple(store.add(db, piece if piece.added else replace(piece, added=day)) for piece in new.values())
            store.remember_rows(db, fingerprints, day)
        else:
            added = ()
    return Outcome(added, joined, already, tuple(sorted(refused, key=lambda r: r.row)), copy)


def _joined(piece: Piece, more: Piece) -> Piece:
    """One piece with the lengths of both rows; raises `Unclear` where they are not the same cloth."""
    for field in ("description", "width_cm", "price", "currency", "price_for", "prewashed", "tests"):
        if getattr(piece, field) != getattr(more, field):
            raise Unclear(
                f"a second row named '{piece.name}' that differs in {field.replace('_', ' ')}",
                "another name, or the same cloth",
            )
    return replace(
        piece, lengths_m=piece.lengths_m + more.lengths_m, notes=tuple(dict.fromkeys(piece.notes + more.notes)),
        reserved=piece.reserved + more.reserved, cuts=piece.cuts + more.cuts,
    )  # fmt: skip
