"""Lists of cloth into the stash: CSV, spreadsheets (XLSX, ODS, XLS) and the stash's own JSON.

The steps: `read_table` → `propose` which column means what → `rows_of` reads each row or says why not →
`take_in` adds the good ones in one transaction. Rows that were imported before are known again by their contents,
so the same file twice adds nothing, even after its pieces were renamed, cut or used up.
"""

from __future__ import annotations

import csv
import hashlib
import io
import re
from collections import Counter
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime
from functools import lru_cache
from pathlib import Path
from statistics import median

import msgspec

from advisor.errors import Unclear
from advisor.knowledge import shipped_folder
from advisor.reading import parse_yaml
from advisor.stash import exporting, measures, store
from advisor.stash.backup import back_up
from advisor.stash.measures import one_line
from advisor.stash.pieces import Piece, Understand, Understood, checked, key_of
from advisor.words_form import phrase

MOST_BYTES = 50_000_000
MOST_ROWS = 200_000
LOOK_FOR_HEADINGS = 12
"""How many rows from the top may be titles before the headings come."""

JOINED = ("description", "notes")
"""Fields that several columns may fill together."""

UNITS = {
    "width": ("cm", "in", "m"),
    "length": ("m", "yd", "cm", "in", "ft"),
    "weight": ("gsm", "oz"),
    "price": ("m", "yd"),
    "bought": ("dmy", "mdy"),
}
_UNIT_WORDS = {
    "cm": "cm", "centimetre": "cm", "centimeter": "cm", "in": "in", "inch": "in", '"': "in", "m": "m", "mtr": "m", "metre": "m",
    "meter": "m", "yd": "yd",
    "yds": "yd",
    "ins": "in", "yard": "yd", "yardage": "yd", "ft": "ft", "foot": "ft", "feet": "ft", "gsm": "gsm", "oz": "oz",
    "ounce": "oz",
}  # fmt: skip
OWN = ("width_cm", "lengths_m", "price_for", "shrank_along_pct", "shrank_across_pct", "reserved", "cuts", "added")
"""Fields that only the stash's own export uses, beside those with a heading of their own."""


@dataclass(frozen=True)
class Table:
    """A list as read: headings, the rows as text with the number that a spreadsheet shows for each, remarks on the reading."""

    headings: tuple[str, ...]
    rows: tuple[tuple[int, tuple[str, ...]], ...]
    remarks: tuple[str, ...] = ()


@dataclass(frozen=True)
class Column:
    """What one column is taken to mean: a field ('ignore' leaves it out), the unit of bare figures, and how that is known."""

    heading: str
    field: str
    unit: str = ""
    because: str = ""


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
    if not path.is_file():
        raise Unclear(f"list '{path}'", "a file that exists")
    try:
        if path.stat().st_size > MOST_BYTES:
            raise Unclear(f"list '{path}'", f"at most {MOST_BYTES // 1_000_000} MB")
        if path.suffix.lower() in (".xlsx", ".xlsm", ".xlsb", ".xls", ".ods"):
            cells, remarks = _spreadsheet(path, sheet)
        else:
            cells, remarks = _csv(path)
    except OSError as error:
        raise Unclear(f"list '{path}'", f"a file that can be read ({error.strerror})") from None
    filled = [(n, tuple(row)) for n, row in enumerate(cells, 1) if any(row)]
    if len(filled) < 2:
        raise Unclear(f"list '{path}'", "a row of headings and at least one row below it")
    if len(filled) > MOST_ROWS:
        raise Unclear(f"list '{path}' of {len(filled)} rows", f"at most {MOST_ROWS:,}")
    at = max(range(min(LOOK_FOR_HEADINGS, len(filled) - 1)), key=lambda i: (_like_headings(filled[i][1]), -i))
    return Table(_distinct(filled[at][1]), tuple(filled[at + 1 :]), tuple(remarks))


def _like_headings(row: Sequence[str]) -> float:
    """How many cells are known headings; own field names count most."""
    return sum(1.0 for c in row if c and not re.search(r"\d{2}", c) and guess(c)[0] != "ignore")


def _distinct(headings: Sequence[str]) -> tuple[str, ...]:
    """Headings, with a number behind those that are empty or there twice."""
    found: list[str] = []
    for place, heading in enumerate(headings):
        name = " ".join(heading.split()) or f"column {place + 1}"
        count = 2
        first = name
        while name in found:
            name, count = f"{first} {count}", count + 1
        found.append(name)
    return tuple(found)


def _csv(path: Path) -> tuple[list[list[str]], list[str]]:
    raw, remarks = path.read_bytes(), []
    try:
        text = raw.decode("utf-16" if raw[:2] in (b"\xff\xfe", b"\xfe\xff") else "utf-8-sig")
    except UnicodeDecodeError:
        text = raw.decode("cp1252", errors="replace")
        remarks.append("the file is not in UTF-8; it was read as Western European text")
    if "\0" in text:
        raise Unclear(f"list '{path}'", "a CSV, XLSX or ODS file")
    sample = "\n".join(text.splitlines()[:50])
    counts = {mark: min((_marks(line, mark) for line in sample.splitlines()[:1]), default=0) for mark in ",;\t|"}
    for line in sample.splitlines()[1:]:
        for mark in counts:
            counts[mark] = max(counts[mark], _marks(line, mark)) if not any(counts.values()) else counts[mark]
    mark = max(counts, key=lambda m: counts[m])
    csv.field_size_limit(1_000_000)
    try:
        rows = list(csv.reader(io.StringIO(text, newline=""), delimiter=mark, strict=False))
    except csv.Error as error:
        raise Unclear(f"list '{path}'", f"a CSV file ({error})") from None
    return [[exporting.unguarded(c.strip()) for c in row] for row in rows], remarks


def _marks(line: str, mark: str) -> int:
    """How often a mark stands outside quotation marks."""
    return re.sub(r'"[^"]*"', "", line).count(mark)


def _spreadsheet(path: Path, sheet: str) -> tuple[list[list[str]], list[str]]:
    try:
        import python_calamine as calamine
    except ImportError:
        raise Unclear(
            f"spreadsheet '{path}'",
            "the extra 'lists' installed (pip install 'fabric-advisor[lists]'), or the list saved as CSV",
        ) from None
    try:
        book = calamine.CalamineWorkbook.from_path(str(path))
        names = list(book.sheet_names)
        if sheet and sheet not in names:
            raise Unclear(f"sheet '{sheet[:40]}'", f"one of {', '.join(names)}")
        tables = {
            name: book.get_sheet_by_name(name).to_python(skip_empty_area=False)
            for name in ([sheet] if sheet else names)
        }
    except Unclear:
        raise
    except Exception as error:  # the reader's own errors share no base class across versions
        raise Unclear(f"spreadsheet '{path}'", f"a sound XLSX or ODS file ({str(error)[:100]})") from None
    filled = [name for name, rows in tables.items() if any(any(c not in ("", None) for c in row) for row in rows)]
    if not filled:
        return [], []
    others = ", ".join(f"'{n}'" for n in filled[1:])
    remarks = [f"sheet '{filled[0]}' was read, not {others}; --sheet names another"] if others else []
    return [[_text(c) for c in row] for row in tables[filled[0]]], remarks


def _text(value: object) -> str:
    """A cell of a spreadsheet as text."""
    if value is None:
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, float):
        return exporting.figure(round(value, 10))
    if isinstance(value, (date, datetime)):
        return value.isoformat()[:10]
    return exporting.unguarded(str(value).strip())


# ---- what the columns mean ----


@lru_cache(maxsize=1)
def _headings() -> dict[str, str]:
    """Heading in plain form → field."""
    table = parse_yaml((shipped_folder() / "lists" / "stash-headings.yaml").read_text(encoding="utf-8"))
    return {phrase(h): field for field, names in table["fields"].items() for h in names}


def fields() -> list[str]:
    """The fields that a column may be said to mean, with the units that some may carry."""
    own = list(dict.fromkeys(_headings().values()))
    with_units = [f"{field}_{unit}" for field, units in UNITS.items() for unit in units]
    return [*own, *(f for f in with_units if f not in OWN), *OWN, "ignore"]


def guess(heading: str) -> tuple[str, str, str]:
    """(field, unit, how it is known) for a heading; 'ignore' where it says nothing that is known."""
    from rapidfuzz import fuzz, process

    said = " ".join(heading.split())
    if said in fields() and "_" in said:
        return (*_field_and_unit(said), "the stash's own heading")
    table, key = _headings(), phrase(said)
    words = key.split()
    units = [_UNIT_WORDS[w] for w in words if w in _UNIT_WORDS] or (["in"] if '"' in said else [])
    currency = next((c for c in said if c in "£€₹$¥"), "")
    lean = " ".join(w for w in words if w not in _UNIT_WORDS and w not in ("per", "sq", "square"))
    field, because = "", ""
    for form in (key, lean):
        if form in table:
            field, because = table[form], "known heading"
            break
    if not field and currency:
        field, because = "price", "a currency sign"
    if not field and lean:
        inside = [h for h in table if re.search(rf"\b{re.escape(h)}\b", lean) and len(h) > 2]
        if inside:
            best = max(inside, key=lambda h: (lean.endswith(h), len(h)))
            field, because = table[best], f"it holds '{best}'"
        else:
            near = process.extractOne(lean, list(table), scorer=fuzz.ratio, score_cutoff=84) if len(lean) > 3 else None
            if near:
                field, because = table[near[0]], f"like '{near[0]}'"
    if not field:
        return "ignore", "", "not known"
    allowed = UNITS.get(field, ())
    unit = next((u for u in units if u in allowed), "")
    if field == "price" and currency:
        unit = f"{currency} {unit}".strip()
    return field, unit, because


def _field_and_unit(said: str) -> tuple[str, str]:
    """'width_in' → ('width', 'in')."""
    if said in OWN:
        return said, ""
    field, _, unit = said.rpartition("_")
    return (field, unit) if unit in UNITS.get(field, ()) else (said, "")


def propose(table: Table, said: Iterable[str] = (), units: str = "metric") -> list[Column]:
    """What each column means: as said (`heading=field`), else guessed; raises `Unclear` for an unknown heading or field."""
    measures.bare_units(units)
    told: dict[str, tuple[str, str]] = {}
    by_key = {key_of(h): h for h in table.headings}
    for item in said:
        heading, equals, field = item.rpartition("=")
        field = field.strip().lower() or "ignore"
        heading = by_key.get(key_of(heading), "")
        if not equals or not heading:
            from difflib import get_close_matches

            near = get_close_matches(key_of(item.rpartition("=")[0] or item), list(by_key), 1, 0.4)
            raise Unclear(
                f"--map '{item[:60]}'",
                f"heading=field, the heading one of {', '.join(table.headings)}",
                by_key[near[0]] if near else "",
            )
        if field not in fields():
            from difflib import get_close_matches

            near = get_close_matches(field, fields(), 1, 0.4)
            raise Unclear(
                f"field '{field[:40]}' for '{heading}'", f"one of {', '.join(fields())}", near[0] if near else ""
            )
        told[heading] = _field_and_unit(field)
    columns: list[Column] = []
    for heading in table.headings:
        if heading in told:
            columns.append(Column(heading, *told[heading], "as said"))
        else:
            columns.append(Column(heading, *guess(heading)))
    own = all(h in exporting.FIELDS for h in table.headings)
    if own:
        columns = [
            replace(c, field=c.heading, unit="", because="the stash's own heading") if c.heading not in told else c
            for c in columns
        ]
    columns = _one_each(columns)
    columns = [_unit_by_figures(c, place, table, units) for place, c in enumerate(columns)]
    if not any(c.field in ("description", "name") for c in columns):
        raise Unclear(
            "the list",
            f"a column that says what the cloth is: --map 'heading=description' with one of {', '.join(table.headings)}",
        )
    return columns


def _one_each(columns: list[Column]) -> list[Column]:
    """A field that several columns claim goes to the surest; descriptions and notes are joined."""
    rank = {"as said": 0, "the stash's own heading": 1, "known heading": 2}
    out = list(columns)
    for field in {c.field for c in columns} - {*JOINED, "ignore"}:
        claims = sorted(
            (i for i, c in enumerate(columns) if c.field == field), key=lambda i: (rank.get(columns[i].because, 3), i)
        )
        for other in claims[1:]:
            out[other] = replace(
                columns[other], field="ignore", unit="", because=f"'{columns[claims[0]].heading}' is taken as {field}"
            )
    return out


def _unit_by_figures(column: Column, place: int, table: Table, units: str) -> Column:
    """Bare figures whose size gives their unit away: 150 as a length is in cm, 45 as a width in inches."""
    if column.field == "bought" and not column.unit:
        return _order_of_dates(column, place, table)
    if column.field not in ("length", "width") or column.unit or units != "metric":
        return column
    found = []
    for _, row in table.rows:
        text = row[place].replace(",", ".") if place < len(row) else ""
        if re.fullmatch(r"\d+(?:\.\d+)?", text) and float(text) > 0:
            found.append(float(text))
    if not found:
        return column
    middle = median(found)
    unit = ""
    if column.field == "length" and middle >= 30:
        unit = "cm"
    elif column.field == "width":
        unit = "m" if middle < 4 else "in" if middle <= 65 else ""
    return (
        replace(column, unit=unit, because=f"{column.because}; the unit by the size of the figures") if unit else column
    )


def _order_of_dates(column: Column, place: int, table: Table) -> Column:
    """Whether the day or the month stands first, where one date of the column that can only be read one way tells."""
    found = [re.match(r"(\d{1,2})[-/.](\d{1,2})[-/.]\d{4}", row[place]) for _, row in table.rows if place < len(row)]
    orders = {"dmy" if int(m[1]) > 12 else "mdy" for m in found if m and (int(m[1]) > 12) != (int(m[2]) > 12)}
    if len(orders) != 1:
        return column
    return replace(column, unit=orders.pop(), because=f"{column.because}; the order by a date that can only be read so")


def is_sure(columns: Iterable[Column]) -> bool:
    """Whether nothing was guessed."""
    return all(c.because in ("as said", "the stash's own heading") for c in columns)


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
        if field == "description":
            described.append(one_line(text, "description", 2000))
        elif field == "weight":
            unit = {"gsm": " gsm", "oz": " oz"}.get(column.unit, " gsm" if units == "metric" else " oz")
            described.append(one_line(text, "weight", 60) + (unit if re.fullmatch(r"[\d.,\s-]+", text) else ""))
        elif field == "notes":
            lines = [exporting.unguarded(line) for line in text.splitlines()]
            plain = column.heading.lower() in ("notes", "note")
            notes += lines if plain else [f"{column.heading}: {' '.join(lines)}"]
        elif field in ("width", "width_cm"):
            own["width_cm"] = measures.width_cm(text, units, bare=column.unit or ("cm" if field == "width_cm" else ""))
        elif field in ("length", "lengths_m"):
            own["lengths_m"] = measures.lengths_m(
                text, units, bare=column.unit or ("m" if field == "lengths_m" else "")
            )
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
