"""What the columns of a list mean: guessed from their headings and the size of their figures, or as the user says."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from statistics import median

from advisor.errors import Unclear
from advisor.knowledge import shipped_folder
from advisor.lists import parsed
from advisor.stash import measures
from advisor.stash.pieces import key_of
from advisor.words_form import phrase

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


LOOK_FOR_HEADINGS = 12
"""How many rows from the top may be titles before the headings come."""


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



def like_headings(row: Sequence[str]) -> float:
    """How many cells are known headings; own field names count most."""
    return sum(1.0 for c in row if c and not re.search(r"\d{2}", c) and guess(c)[0] != "ignore")


def heading_row(rows: Sequence[Sequence[str]]) -> int:
    """Which of the first rows holds the headings: titles may stand above them."""
    return max(range(min(LOOK_FOR_HEADINGS, len(rows) - 1)), key=lambda i: (like_headings(rows[i]), -i))


def distinct(headings: Sequence[str]) -> tuple[str, ...]:
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


@lru_cache(maxsize=1)
def _headings() -> dict[str, str]:
    """Heading in plain form → field."""
    table = parsed(shipped_folder() / "lists" / "stash-headings.yaml")
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


def columns_of(
    table: Table, said: Iterable[str] = (), units: str = "metric", own_fields: Sequence[str] = ()
) -> list[Column]:
    """What each column means: as said (`heading=field`), else guessed; raises `Unclear` for an unknown heading or field.

    `table` may hold only the first rows of the list. Where all its headings are `own_fields`, they are taken at their word.
    """
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
    own = all(h in own_fields for h in table.headings)
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
