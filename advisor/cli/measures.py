"""Metric words in yards, inches, ounces and Fahrenheit: what every view prints passes through here once.

The reports are metric. A maker who chose imperial units reads each length, weight and heat in them; a figure that already
stands in both (`230 °F (110 °C)`) is only put in order, and what a machine counts in millimetres everywhere (the length of
a stitch, a thickness) stays as it is.
"""

from __future__ import annotations

import re
from fractions import Fraction

from advisor.need.units import G_PER_OZ, GSM_PER_OZ_YD2, M_PER_YARD, MM_PER_INCH

OZ_PER_LB = 16
LEAST_MM = 3.0
"""Below this a length is a thickness or a setting of the machine, and is said in mm by everybody."""
LONGEST_STITCH_MM = 6.0
YARDS_FROM_M = 0.5
"""Metres from here on are said in yards, shorter ones in inches."""
AS_PATTERNS_PRINT = {6: "1/4", 10: "3/8", 12: "1/2", 15: "5/8", 20: "3/4", 25: "1", 30: "1 1/4", 40: "1 1/2", 50: "2", 100: "4"}
"""Round millimetres beside the inches that patterns print for them (common practice): 15 mm is the 5/8 in allowance."""


def eighths(value: float, parts: int = 8) -> str:
    """A figure to the nearest eighth (or sixteenth) as dressmakers write it: '2 1/8'."""
    near = Fraction(round(value * parts), parts)
    whole, rest = divmod(near, 1)
    return f"{whole} {rest}" if whole and rest else str(rest if rest else whole)


def fahrenheit(celsius: float) -> float:
    """°F from °C."""
    return celsius * 9 / 5 + 32


def inches(mm: float, about: bool = False) -> str:
    """Inches as a ruler shows them: sixteenths, eighths from 2 in, quarters from 20 in.

    `about` is for a round metric figure in advice: allowances as patterns print them, halves from 8 in on.
    """
    value = mm / MM_PER_INCH
    if about and mm in AS_PATTERNS_PRINT:
        return AS_PATTERNS_PRINT[int(mm)]
    return eighths(value, 16 if value < 2 else 2 if about and value >= 8 else 8 if value < 20 else 4)


def measure(value: float, unit: str, units: str) -> str:
    """A figure in its metric unit, or in yards and inches."""
    if units == "imperial":
        if unit == "m" and not 0 < value < YARDS_FROM_M / 2:
            return f"{eighths(value / M_PER_YARD)} yd"
        if unit in ("m", "cm", "mm"):
            return f"{inches(value * {'m': 1000, 'cm': 10, 'mm': 1}[unit])} in"
    shown = {"pct": "%", "in": "in", "degrees": "°", "ligne": "L"}.get(unit, unit)
    return f"{round(value, 2):g} {shown}".rstrip()


def celsius(value: float, units: str) -> str:
    """A heat in both scales, the chosen one first."""
    said = f"{fahrenheit(value):.0f} °F"
    return f"{said} ({value:.0f} °C)" if units == "imperial" else f"{value:.0f} °C ({said})"


_FIGURE = r"\d+(?:\.\d+)?"
_METRIC = r"°C|g/m²|mm|cm|m|kg|g"
_IMPERIAL = r"°F|oz/yd²|in|inch|inches|yd|yards?|oz|lb"
_JOIN = r", | to | x | and |-|–| ± |±"
_SPREAD = re.compile(r"(±|\bwithin) ?$")
"""What stands before a difference of two heats, which has no nought to be moved: ±10 °C is ±18 °F."""
_SAID = re.compile(
    rf"(?<![\w./-])(?P<figures>{_FIGURE}(?:(?:{_JOIN}){_FIGURE})*) ?"
    rf"(?P<unit>{_METRIC})(?![\w²³·/°])(?: \((?P<both>[^()]*? (?:{_IMPERIAL}))\))?"
)
_STITCH = re.compile(r"stitch", re.I)


def in_words(text: str, units: str) -> str:
    """A sentence with its metric figures in imperial units where those are wanted."""
    if units != "imperial" or not any(c.isdigit() for c in text):
        return text
    return _SAID.sub(_swap, text)


def _swap(match: re.Match[str]) -> str:
    text, unit, both = match.string, match["unit"], match["both"]
    if both:
        metric = match.group(0).partition(" (")[0]
        return f"{both} ({metric})"
    before = text[: match.start()].rstrip()
    if before.endswith("(") and re.search(rf"(?:{_IMPERIAL})\s*\($", before):
        return match.group(0)  # '2 yd (1.8 m)' already has imperial first
    joins: list[str] = []
    values: list[float] = []
    for join, value in re.findall(rf"({_JOIN}|^)({_FIGURE})", match["figures"]):
        joins.append(" to " if join in "-–" and join else join)
        values.append(float(value))
    if unit == "mm":
        near = text[max(0, match.start() - 28) : match.end() + 12]
        if values[0] < LEAST_MM or (max(values) <= LONGEST_STITCH_MM and _STITCH.search(near)):
            return match.group(0)
    name, spoken = _imperial(values, unit)
    if unit == "°C":
        of = [bool(_SPREAD.search(join or before)) for join in joins]
        spoken = [f"{v * 9 / 5:.0f}" if spread else said for v, spread, said in zip(values, of, spoken, strict=True)]
    return "".join(join + value for join, value in zip(joins, spoken, strict=True)) + f" {name}"


def _imperial(values: list[float], unit: str) -> tuple[str, list[str]]:
    """The unit and the figures in it, all of one phrase alike."""
    if unit == "°C":
        return "°F", [f"{fahrenheit(v):.0f}" if v < 100 else f"{fahrenheit(v) // 5 * 5:.0f}" for v in values]
    if unit == "g/m²":
        return "oz/yd²", [f"{v / GSM_PER_OZ_YD2:.1f}" for v in values]
    if unit in ("kg", "g"):
        ounces = [v * (1000 if unit == "kg" else 1) / G_PER_OZ for v in values]
        if max(ounces) >= 2 * OZ_PER_LB:
            return "lb", [f"{v / OZ_PER_LB:.1f}" for v in ounces]
        return "oz", [f"{v:.1f}" if v < 10 else f"{v:.0f}" for v in ounces]
    if unit == "m" and max(values) >= YARDS_FROM_M:
        return "yd", [eighths(v / M_PER_YARD) for v in values]
    return "in", [inches(v * {"mm": 1, "cm": 10, "m": 1000}[unit], about=v == int(v)) for v in values]
