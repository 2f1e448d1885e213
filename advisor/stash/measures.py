"""Lengths, widths, prices, days and shrinkage as people write them, in metric and imperial.

Lengths are kept in metres to a tenth of a millimetre, widths in centimetres to a tenth of a millimetre.
The inch is 2.54 cm, the foot 0.3048 m, the yard 0.9144 m (exact, international yard and pound agreement of 1959).
"""

from __future__ import annotations

import math
import re
import unicodedata
from datetime import date
from decimal import Decimal, InvalidOperation

from advisor.errors import Unclear

METRES = {
    "mm": 0.001, "cm": 0.01, "centimetre": 0.01, "centimeter": 0.01, "m": 1.0, "mt": 1.0, "mtr": 1.0, "metre": 1.0,
    "meter": 1.0, "in": 0.0254, "inch": 0.0254, '"': 0.0254, "ft": 0.3048, "foot": 0.3048, "feet": 0.3048, "'": 0.3048,
    "yd": 0.9144, "yard": 0.9144,
}  # fmt: skip
"""Unit, singular, → metres."""

BARE = {"metric": ("m", "cm"), "imperial": ("yd", "in")}
"""The units of a bare length and a bare width."""

MOST_M = 1000.0
WIDTHS_CM = (5.0, 500.0)
SHRINKAGE_PCT = (-20.0, 50.0)
SIGNS = {"£": "GBP", "€": "EUR", "₹": "INR"}
"""Currency signs that mean one currency; '$' and '¥' mean several and are kept as they are."""

_TOKEN = re.compile(
    r"\s*(?:(\d+)\s+)?(?:(\d+)\s*/\s*(\d+)|(\d+(?:[.,]\d+)?|[.,]\d+))\s*([a-z]+\.?|['\"])?\s*(?:,|&|and\b)?"
)
_MONTHS = ("jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec")


def bare_units(units: str) -> tuple[str, str]:
    """The units of a bare (length, width); raises `Unclear` for any but metric and imperial."""
    if units not in BARE:
        raise Unclear(f"units '{units[:40]}'", "metric or imperial", "metric")
    return BARE[units]


def one_line(text: str, what: str = "text", most: int = 500) -> str:
    """Text on one line, without control characters; raises `Unclear` where it is too long or not valid text."""
    if text.isascii() and text.isprintable():
        flat = " ".join(text.split())
    else:
        if any(0xD800 <= ord(c) <= 0xDFFF for c in text):
            raise Unclear(what, "text in UTF-8")
        flat = "".join(" " if c.isspace() else c for c in unicodedata.normalize("NFC", text))
        flat = " ".join("".join(c for c in flat if unicodedata.category(c) != "Cc").split())
    if len(flat) > most:
        raise Unclear(f"{what} of {len(flat)} characters", f"at most {most:,} characters")
    return flat


def _plain(text: str) -> str:
    """Fractions such as ½ written out, curly quotation marks straight, small letters."""
    out = []
    for c in text:
        if unicodedata.category(c) == "No" and unicodedata.decomposition(c).startswith("<fraction>"):
            out.append(" " + unicodedata.normalize("NFKC", c).replace("\u2044", "/"))
        else:
            out.append({"\u2019": "'", "\u2032": "'", "\u201d": '"', "\u201c": '"', "\u2033": '"'}.get(c, c))
    return "".join(out).lower().replace("''", '"').strip()


def metres(text: str, bare: str, what: str, like: str) -> float:
    """A length with its unit in metres: '2.5 m', '1 1/2 yd', '1 yd 9 in', '45"'; a bare figure is in `bare`."""
    said, place, total, count = _plain(text), 0, 0.0, 0
    wrong = Unclear(f"{what} '{text.strip()[:40]}'", "a figure with its unit, above nought", like)
    if said.startswith(","):
        raise wrong
    while place < len(said):
        match = _TOKEN.match(said, place)
        if not match or match.end() == place:
            raise wrong
        whole, top, bottom, figure, unit = match.groups()
        if bottom is not None:
            if int(bottom) == 0:
                raise wrong
            value = int(whole or 0) + int(top) / int(bottom)
        elif whole is not None:  # two figures with nothing between them
            raise wrong
        else:
            value = float(figure.replace(",", "."))
        unit = (unit or "").rstrip(".") or (bare if count == 0 and match.end() == len(said) else "")
        scale = METRES.get(unit) or METRES.get(unit.removesuffix("s")) or METRES.get(unit.removesuffix("es"))
        if scale is None:
            raise wrong
        total, count, place = total + value * scale, count + 1, match.end()
    if not count or not math.isfinite(total) or total <= 0:
        raise wrong
    return total


def length_m(text: str, units: str = "metric", *, bare: str = "", what: str = "length") -> float:
    """One length in metres, 0.0001 to 1,000."""
    value = round(metres(text, bare or bare_units(units)[0], what, "2.5 m"), 4)
    if not 0.0001 <= value <= MOST_M:
        raise Unclear(f"{what} '{text.strip()[:40]}'", f"above nought and at most {MOST_M:,.0f} m", "2.5 m")
    return value


def lengths_m(text: str, units: str = "metric", *, bare: str = "") -> tuple[float, ...]:
    """Several lengths of one cloth: '2 m + 1.5 m', '2 x 1.5 m'; nothing or 0 is none left."""
    found: list[float] = []
    if re.fullmatch(r"\s*(?:0+(?:[.,]0*)?\s*[a-z]*\.?)?\s*", text.lower()):
        return ()
    for part in re.split(r"\+|;", text):
        times = re.fullmatch(r"\s*(\d{1,3})\s*[x×*]\s*(.+)", part.lower())
        count, one = (int(times.group(1)), times.group(2)) if times else (1, part)
        found += [length_m(one, units, bare=bare)] * count
    return tuple(found)


def width_cm(text: str, units: str = "metric", *, bare: str = "") -> float:
    """A width in centimetres, 5 to 500."""
    said = re.sub(r"\b(?:wide|width)\b", " ", text.lower())
    value = round(metres(said, bare or bare_units(units)[1], "width", "150 cm") * 100, 2)
    if not WIDTHS_CM[0] <= value <= WIDTHS_CM[1]:
        raise Unclear(f"width '{text.strip()[:40]}'", "5 to 500 cm (2 to 197 in)", "150 cm")
    return value


def price(text: str) -> tuple[str, str, str]:
    """(amount, currency, for 'm' or 'yd' or '' the whole): '£12.50', '8.90 EUR a metre', '$6/yd', '12,50'."""
    wrong = Unclear(f"price '{text.strip()[:40]}'", "an amount with or without a currency", "12.50 GBP")
    said = one_line(text, "price", 80)
    per = ""
    each = re.search(r"(?:/|\bper\b|\ba\b|\ban\b)\s*(m|metre|meter|mtr|yd|yard)s?\.?\s*$", said, re.I)
    if each:
        per = "yd" if each.group(1).lower().startswith("y") else "m"
        said = said[: each.start()].strip()
    match = re.fullmatch(r"([^\d\s.,+-]{1,3}\s?)?(\d[\d.,' ]*)\s*([^\d\s.,+-]{1,3})?", said)
    if not match or (match.group(1) and match.group(3)):
        raise wrong
    figures = match.group(2).replace("'", "").replace(" ", "").rstrip(".,")
    if "," in figures and "." in figures:
        thousands = "," if figures.rfind(".") > figures.rfind(",") else "."
        figures = figures.replace(thousands, "").replace(",", ".")
    elif re.fullmatch(r"\d{1,3}(?:,\d{3})+", figures):
        figures = figures.replace(",", "")
    else:
        figures = figures.replace(",", ".")
    try:
        amount = Decimal(figures)
    except InvalidOperation:
        raise wrong from None
    if amount > 10_000_000:
        raise wrong
    sign = (match.group(1) or match.group(3) or "").strip()
    return format(amount, "f"), currency(sign), per


def currency(text: str) -> str:
    """A currency as its three letters, or the sign where that means several currencies."""
    said = one_line(text, "currency", 20).upper()
    said = SIGNS.get(said, said)
    if said and not re.fullmatch(r"[A-Z]{2,3}|[^\w\s]|KR|ZŁ", said):
        raise Unclear(f"currency '{text[:20]}'", "three letters or a sign", "GBP")
    return said


def day(text: str, order: str = "") -> str:
    """A day, month or year as 2024-05-03, 2024-05 or 2024; '3 May 2024' too.

    '03/05/2024' is read by its `order` ('dmy' or 'mdy'), without one only where a single day can be meant.
    """
    said = one_line(text, "date", 40).lower()
    wrong = Unclear(f"date '{text.strip()[:40]}'", "a day, month or year", "2024-05-03, 2024-05 or 2024")
    if not said:
        return ""
    iso = re.fullmatch(r"(\d{4})(?:[-/.](\d{1,2})(?:[-/.](\d{1,2}))?)?(?:[t ]00:00(?::00)?(?:\.0+)?)?", said)
    named = re.fullmatch(
        r"(?:(\d{1,2})(?:st|nd|rd|th)?\s+)?([a-z]{3,9})\.?\s+(?:(\d{1,2})(?:st|nd|rd|th)?,?\s+)?(\d{4})", said
    )
    figures = re.fullmatch(r"(\d{1,2})[-/.](\d{1,2})[-/.](\d{4})", said)
    if iso:
        year, month, dom = int(iso[1]), int(iso[2] or 0), int(iso[3] or 0)
    elif named and named[2][:3] in _MONTHS and not (named[1] and named[3]):
        year, month, dom = int(named[4]), _MONTHS.index(named[2][:3]) + 1, int(named[1] or named[3] or 0)
    elif figures:
        first, second, year = (int(g) for g in figures.groups())
        if first <= 12 and second <= 12 and first != second and not order:
            raise Unclear(
                f"date '{said}'",
                "the year first, as day and month could be either; for a list say --map heading=bought_dmy or bought_mdy",
                f"{year}-{second:02}-{first:02}",
            )
        month_first = order == "mdy" if order else second > 12
        dom, month = (second, first) if month_first else (first, second)
    else:
        raise wrong
    try:
        date(year, month or 1, dom or 1)
    except ValueError:
        raise wrong from None
    if not 1800 <= year <= 2200:
        raise wrong
    return f"{year}" + (f"-{month:02}" if month else "") + (f"-{dom:02}" if dom else "")


def day_gone_by(text: str, today: str) -> str:
    """A day, month or year that has begun by `today` (2024-05-03); raises `Unclear` for one to come, which is a slip."""
    said = day(text)
    if said > today[: len(said)]:
        raise Unclear(f"date '{said}'", "a day, month or year that has begun", today[: len(said)])
    return said


def shrank(text: str) -> tuple[float | None, float | None]:
    """(along, across) in %, positive = shorter: '5 %', '5 x 3', 'along 4 across 2'."""
    said = one_line(text, "shrinkage", 80).lower()
    found = [float(f.replace(",", ".")) for f in re.findall(r"-?\d+(?:[.,]\d+)?", said)]
    low, high = SHRINKAGE_PCT
    if len(found) not in (1, 2) or not all(low <= f <= high for f in found):
        raise Unclear(f"shrinkage '{text.strip()[:40]}'", f"one or two figures in %, {low:g} to {high:g}", "5 x 3")
    if len(found) == 1:
        return (None, found[0]) if re.search(r"across|weft|width", said) else (found[0], None)
    return (
        (found[1], found[0])
        if re.match(r"\W*\S*\s*(?:across|weft|width)|\W*(?:across|weft|width)", said)
        else (found[0], found[1])
    )


def prewashed(text: str) -> bool | None:
    """Yes, no, or nothing said."""
    said = one_line(text, "pre-washed", 80).lower().strip(".! ")
    if said in ("", "?", "unknown", "not known", "don't know"):
        return None
    word = re.split(r"[\s,;:(]", said)[0]
    if word in ("no", "n", "false", "0", "not", "never", "unwashed", "-"):
        return False
    if word in ("yes", "y", "true", "1", "x", "✓", "✔", "washed", "pre-washed", "prewashed", "done"):
        return True
    raise Unclear(f"pre-washed '{text.strip()[:40]}'", "yes or no", "yes")


def show_length(value: float, units: str) -> str:
    """A length for a person: metres, or yards first."""
    return f"{_short(value / METRES['yd'])} yd ({_short(value)} m)" if units == "imperial" else f"{_short(value)} m"


def show_width(value: float, units: str) -> str:
    """A width for a person: centimetres, or inches first."""
    return f"{value / 2.54:.1f} in ({value:.1f} cm)".replace(".0 ", " ") if units == "imperial" else f"{value:g} cm"


def _short(value: float) -> str:
    """Two decimals, rounded down so that nobody counts on cloth that is not there; small lengths keep four."""
    if value == 0:
        return "0"
    scale = 10_000 if value < 0.01 else 100
    return f"{math.floor(value * scale + 1e-6) / scale:.{4 if value < 0.01 else 2}f}"
