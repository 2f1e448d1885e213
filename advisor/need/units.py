"""Units of the cutting table: conversions by exact definition, and lengths as people write them.

The inch (25.4 mm), yard (0.9144 m) and ounce (28.349523125 g) are exact by the agreement of 1959. Every converter is
a single product; a negative figure converts like any other, since what is absurd depends on what is asked.
"""

from __future__ import annotations

import math
import re

from advisor.errors import Unclear

MM_PER_INCH = 25.4
M_PER_YARD = 0.9144
G_PER_OZ = 28.349523125
GSM_PER_OZ_YD2 = G_PER_OZ / M_PER_YARD**2
GSM_PER_MOMME = 16 * G_PER_OZ / (45 * MM_PER_INCH / 1000 * 100 * M_PER_YARD)
"""Pounds in a piece 45 in wide and 100 yd long: 4.33994 g/m² (momme-education-page); the strip definition,
3.76 g on 22.8 m x 3.8 cm, gives 4.340 (momme-dictionary)."""
MM_PER_LIGNE = MM_PER_INCH / 40
"""The button ligne, one fortieth of an inch (measures-dictionary-buttons); never the Paris ligne of 2.2558 mm."""

STEPS = {"metric": 0.1, "imperial": M_PER_YARD / 8}
"""The step in m in which cloth is cut from the bolt: 0.1 m or 1/8 yd."""


def gsm_from_oz(oz_per_yd2: float) -> float:
    """g/m² from oz/yd²."""
    return oz_per_yd2 * GSM_PER_OZ_YD2


def oz_from_gsm(gsm: float) -> float:
    """oz/yd² from g/m²."""
    return gsm / GSM_PER_OZ_YD2


def gsm_from_momme(momme: float) -> float:
    """g/m² from momme."""
    return momme * GSM_PER_MOMME


def momme_from_gsm(gsm: float) -> float:
    """Momme from g/m²."""
    return gsm / GSM_PER_MOMME


def gsm_from_running(grams_per_metre: float, width_cm: float) -> float:
    """g/m² from g per running metre of a width in cm (suitings)."""
    return grams_per_metre * 100 / width_cm


def mm_from_ligne(ligne: float) -> float:
    """Button diameter in mm from ligne."""
    return ligne * MM_PER_LIGNE


def ligne_from_mm(mm: float) -> float:
    """Button ligne from a diameter in mm."""
    return mm / MM_PER_LIGNE


def tex_from_denier(denier: float) -> float:
    """Tex (g per 1000 m) from denier (g per 9000 m): den / 9."""
    return denier / 9


def denier_from_tex(tex: float) -> float:
    """Denier from tex."""
    return tex * 9


def tex_from_cotton_count(count: float) -> float:
    """Tex from the English cotton count, hanks of 840 yd to the pound: 590.54 / Ne."""
    return 16 * G_PER_OZ / (840 * M_PER_YARD) * 1000 / count


def tex_from_metric_count(count: float) -> float:
    """Tex from the metric yarn count Nm, m to the gram: 1000 / Nm."""
    return 1000 / count


def metric_ticket_from_tex(tex: float) -> float:
    """Metric ticket number of a thread: the metres that weigh 3 g, 3000 / tex (thread-ticket-article)."""
    return 3000 / tex


def inches(mm: float) -> float:
    """Inches from mm."""
    return mm / MM_PER_INCH


def yards(metres: float) -> float:
    """Yards from m."""
    return metres / M_PER_YARD


def round_up(metres: float, units: str = "metric") -> float:
    """The length in m as it is cut from the bolt: up to the next 0.1 m, or 1/8 yd for `imperial`."""
    step = STEPS[units]
    return round(math.ceil(round(metres / step, 6)) * step, 4)


_UNITS = {
    "mm": 1.0, "cm": 10.0, "m": 1000.0, "in": MM_PER_INCH, "ft": 12 * MM_PER_INCH, "yd": 1000 * M_PER_YARD,
    "l": MM_PER_LIGNE,
}  # fmt: skip
_NAMES = {
    "mm": ("mm", "millimetre", "millimetres", "millimeter", "millimeters"),
    "cm": ("cm", "cms", "centimetre", "centimetres", "centimeter", "centimeters"),
    "m": ("m", "metre", "metres", "meter", "meters"),
    "in": ("in", "ins", "inch", "inches", '"', "″", "''"),
    "ft": ("ft", "foot", "feet", "'", "′"),
    "yd": ("yd", "yds", "yard", "yards"),
    "l": ("l", "ligne", "lignes", "line", "lines"),
}
_UNIT_OF = {name: unit for unit, names in _NAMES.items() for name in names}
_FRACTIONS = {
    "½": "1/2",
    "¼": "1/4",
    "¾": "3/4",
    "⅛": "1/8",
    "⅜": "3/8",
    "⅝": "5/8",
    "⅞": "7/8",
    "⅓": "1/3",
    "⅔": "2/3",
}
_LENGTH = re.compile(r"^([+-]?)(?:(\d+(?:[.,]\d+)?|[.,]\d+)(?:[\s-]+(\d+)/(\d+))?|(\d+)/(\d+))\s*([a-z\"'″′]*)\.?$")


def read_length(given: str, bare: str, what: str) -> float:
    """A length in mm from words such as '1.8 m', '2 1/2 yd', '5/8 in', '24L'.

    `bare` is the unit of a figure without one; `what` names the figure in the error. Raises `Unclear` for what is
    not a length.
    """
    text = given.strip().lower()
    for sign, plain in _FRACTIONS.items():
        text = text.replace(sign, f" {plain}")
    match = _LENGTH.match(" ".join(text.split()))
    units = "a length such as '1.8 m', '140 cm', '2 1/2 yd' or '5/8 in'"
    if not match:
        raise Unclear(f"{what} '{given[:40]}'", units)
    sign, whole, top, bottom, only_top, only_bottom, name = match.groups()
    if name and name not in _UNIT_OF:
        raise Unclear(f"{what} '{given[:40]}'", units)
    try:
        value = float((whole or "0").replace(",", "."))
        if top:
            value += int(top) / int(bottom)
        if only_top:
            value = int(only_top) / int(only_bottom)
    except (ZeroDivisionError, OverflowError):
        raise Unclear(f"{what} '{given[:40]}'", units) from None
    return (-value if sign == "-" else value) * _UNITS[_UNIT_OF.get(name, bare)]


def within(value: float, low: float, high: float, what: str, unit: str) -> float:
    """`value` where it lies within both ends, else `Unclear` with the limits in `unit`."""
    if not (math.isfinite(value) and low <= value <= high):
        raise Unclear(f"{what} {value:g} {unit}".rstrip(), f"{low:g} to {high:g} {unit}".rstrip())
    return value
