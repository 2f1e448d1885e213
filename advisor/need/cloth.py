"""How much cloth to buy: widths, shrinkage along and across, one-way cloth, repeats, and a piece in hand.

Lengths in m, widths in cm, shrinkage as a fraction (0.05 is 5 %, positive = shorter). Nothing here reads files or words.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Literal

from advisor.errors import Unclear
from advisor.need.units import M_PER_YARD, MM_PER_INCH, round_up
from advisor.ranges import Range

NapWord = Literal["with", "without", "either"]
CM_PER_INCH = MM_PER_INCH / 10
NONE = Range(0, 0)


@dataclass(frozen=True)
class Amount:
    """A quantity that the description leaves open: at best, expected, and to be on the safe side."""

    low: float
    expected: float
    high: float

    def each(self, step: Callable[[float], float]) -> Amount:
        """The same with `step` applied to each figure."""
        return Amount(step(self.low), step(self.expected), step(self.high))

    @classmethod
    def of(cls, values: Sequence[float]) -> Amount:
        """From three figures in any order: the middle one is expected."""
        low, middle, high = sorted(values)
        return cls(low, middle, high)


@dataclass(frozen=True)
class Chart:
    """The width-conversion chart: columns are ranges of width in inches, rows are yards that serve alike.

    `slack_in` is how far a nominal width may lie from a column and still be that column.
    """

    columns: tuple[Range, ...]
    rows: tuple[tuple[float, ...], ...]
    slack_in: float = 0.0

    def at(self, width_in: float) -> list[float]:
        """The yards of each row at a width: a column's own, between two columns their straight line, beyond by area."""
        first, last = self.columns[0], self.columns[-1]
        if width_in < first.low - self.slack_in:
            return [row[0] * first.low / width_in for row in self.rows]
        if width_in > last.high + self.slack_in:
            return [row[-1] * last.high / width_in for row in self.rows]
        for place, column in enumerate(self.columns):
            if column.low - self.slack_in <= width_in <= column.high + self.slack_in:
                return [row[place] for row in self.rows]
        right = next(i for i, column in enumerate(self.columns) if width_in < column.low)
        low, high = self.columns[right - 1].high + self.slack_in, self.columns[right].low - self.slack_in
        share = (width_in - low) / (high - low)
        return [row[right - 1] * (1 - share) + row[right] * share for row in self.rows]


def convert_width(length_m: float, from_cm: float, to_cm: float, chart: Chart) -> float:
    """The length in m at `to_cm` that the chart gives for `length_m` at `from_cm`.

    Straight lines between the chart's rows; before the first and after the last row, in their proportion.
    """
    yards = length_m / M_PER_YARD
    here, there = chart.at(from_cm / CM_PER_INCH), chart.at(to_cm / CM_PER_INCH)
    if yards <= here[0]:
        return length_m * there[0] / here[0]
    if yards >= here[-1]:
        return length_m * there[-1] / here[-1]
    right = next(i for i, value in enumerate(here) if value >= yards - 1e-9)
    if right == 0 or abs(here[right] - yards) < 1e-9:
        return there[right] * M_PER_YARD
    share = (yards - here[right - 1]) / (here[right] - here[right - 1])
    return (there[right - 1] * (1 - share) + there[right] * share) * M_PER_YARD


def by_area(length_m: float, from_cm: float, to_cm: float) -> float:
    """The length in m of equal area: only an estimate, a tenth off the chart either way."""
    return length_m * from_cm / to_cm


def before_washing(needed: float, shrinkage: float) -> float:
    """What to cut so that `needed` is left: needed / (1 - s). Dividing, not adding s. Raises for s of 1 and more."""
    if not shrinkage < 1:
        raise Unclear(f"shrinkage of {shrinkage:.0%}", "less than 100 %")
    return needed / (1 - shrinkage)


def after_washing(had: float, shrinkage: float) -> float:
    """What is left of a length or width: had x (1 - s). A 140 cm cloth that shrinks 5 % is 133 cm wide."""
    return had * (1 - shrinkage)


def shrinkage(before: float, after: float) -> float:
    """Shrinkage as a fraction of the size before washing, positive = shorter (ISO 5077 with the sign turned)."""
    return (before - after) / before


def area_shrinkage(along: float, across: float) -> float:
    """Shrinkage of the area: along + across - along x across."""
    return along + across - along * across


@dataclass(frozen=True)
class Row:
    """One line of the pattern's table."""

    length_m: float
    width_cm: float
    nap: NapWord = "without"


@dataclass(frozen=True)
class Shrinks:
    """The span of shrinkage in the first wash, as fractions."""

    along: Range = NONE
    across: Range = NONE

    def cases(self) -> list[tuple[float, float]]:
        """(along, across) at best, in the middle, at worst; growth is not reckoned on."""
        pick: list[Callable[[Range], float]] = [lambda r: r.low, lambda r: r.mid, lambda r: r.high]
        return [(max(0.0, p(self.along)), max(0.0, p(self.across))) for p in pick]


@dataclass(frozen=True)
class Lay:
    """How the cloth is laid: one way (surely, possibly), large pieces, repeat in cm and pieces up the length."""

    one_way: bool = False
    may_be_one_way: bool = False
    large_pieces: bool = False
    repeat_cm: float = 0.0
    pieces: int = 1
    spare: float = 0.0
    """Share of the length kept in hand, as a fraction."""


@dataclass(frozen=True)
class Extras:
    """What the chart's notes and the trade add, in m; `large_difference_cm` is where the third begins to count."""

    one_way_m: float
    large_pieces_m: float
    large_difference_m: float
    large_difference_cm: float
    spare_high: float = 0.0
    repeat_least: float = 1.0


@dataclass(frozen=True)
class Bought:
    """Cloth to buy in m, before rounding, with the width left after washing and the reasons."""

    length_m: Amount
    pattern_m: Amount
    usable_cm: Amount
    because: tuple[str, ...]


def usable_rows(rows: Sequence[Row], one_way: bool) -> list[Row]:
    """The lines that hold for the cloth: with-nap lines for a one-way cloth where the table has them, else the others."""
    wanted = ("with", "either") if one_way else ("without", "either")
    return [r for r in rows if r.nap in wanted] or list(rows)


def pattern_length(rows: Sequence[Row], usable_cm: float, chart: Chart, extras: Extras) -> tuple[Amount, Row]:
    """The pattern's length in m at a width, and the line it was taken from.

    The line nearest in width is converted by the chart; equal area gives the other end of the range. A narrower line's
    length always serves, a wider line's is always needed: both bound it. Where the widths differ much, a quarter yard
    more is reckoned with in the high figure.
    """
    nearest = min(rows, key=lambda r: (abs(r.width_cm - usable_cm), r.length_m))
    if abs(nearest.width_cm - usable_cm) <= 0.5:
        return Amount(nearest.length_m, nearest.length_m, nearest.length_m), nearest
    charted = convert_width(nearest.length_m, nearest.width_cm, usable_cm, chart)
    area = by_area(nearest.length_m, nearest.width_cm, usable_cm)
    much = abs(nearest.width_cm - usable_cm) >= extras.large_difference_cm
    high = max(charted, area) + (extras.large_difference_m if much else 0.0)
    most = min((r.length_m for r in rows if r.width_cm <= usable_cm + 0.5), default=float("inf"))
    least = max((r.length_m for r in rows if r.width_cm >= usable_cm - 0.5), default=0.0)

    def bound(value: float) -> float:
        return max(min(value, most), min(least, most))

    return Amount(bound(min(charted, area)), bound(charted), bound(high)), nearest


def buy(rows: Sequence[Row], width_cm: float, shrinks: Shrinks, lay: Lay, chart: Chart, extras: Extras) -> Bought:
    """Cloth to buy for a pattern's table at a bolt width, in m before rounding.

    In each of three cases (best, middle, worst shrinkage): the pattern's length at the width that is left after washing,
    plus one-way cloth, large pieces and repeats, divided by (1 - shrinkage along), plus the share kept in hand. The low
    figure takes one repeat, the others one for each piece up the length; the high one also the trade's spare share.
    """
    kept = usable_rows(rows, lay.one_way)
    because: list[str] = []
    lengths: list[float] = []
    patterns: list[float] = []
    widths: list[float] = []
    line = kept[0]
    for case, (along, across) in enumerate(shrinks.cases()):
        usable = after_washing(width_cm, across)
        pattern, line = pattern_length(kept, usable, chart, extras)
        needed = (pattern.low, pattern.expected, pattern.high)[case]
        patterns.append(needed)
        if line.nap == "without" and (lay.one_way or (case == 2 and lay.may_be_one_way)):
            needed += extras.one_way_m
        if lay.large_pieces:
            needed += extras.large_pieces_m
        if lay.repeat_cm:
            needed += lay.repeat_cm / 100 * (extras.repeat_least if case == 0 else max(extras.repeat_least, lay.pieces))
        spare = lay.spare if case < 2 else max(lay.spare, extras.spare_high)
        lengths.append(before_washing(needed, along) * (1 + spare))
        widths.append(usable)
    best, _, worst = shrinks.cases()
    because.append(
        f"the pattern asks {line.length_m:g} m at {line.width_cm:g} cm{' (with nap)' if line.nap == 'with' else ''}"
    )
    if worst[1] > 0:
        because.append(
            f"across, {width_cm:g} cm is {min(widths):.0f} to {max(widths):.0f} cm after washing "
            f"({round(best[1] * 100, 1):g} to {round(worst[1] * 100, 1):g} %)"
            if best[1] != worst[1]
            else f"across, {width_cm:g} cm is {widths[0]:.0f} cm after washing ({round(worst[1] * 100, 1):g} %)"
        )
    if any(abs(p - line.length_m) > 0.005 for p in patterns):
        shown = (
            f"{min(patterns):.2f} to {max(patterns):.2f} m"
            if max(patterns) - min(patterns) > 0.005
            else f"{patterns[1]:.2f} m"
        )
        because.append(f"at that width the conversion chart and the table make it {shown}")
    if lay.one_way and line.nap == "without":
        because.append(f"one-way cloth: {extras.one_way_m * 100:.0f} cm more")
    elif lay.may_be_one_way and line.nap == "without":
        because.append(f"it may need laying one way: {extras.one_way_m * 100:.0f} cm more in the high figure")
    if lay.large_pieces:
        because.append(f"large pieces: {extras.large_pieces_m * 100:.0f} cm more")
    if lay.repeat_cm:
        because.append(
            f"matching: {lay.repeat_cm:g} cm repeat for each of {lay.pieces} pieces up the length (at least one)"
        )
    if worst[0] > 0:
        spoken = f"{round(best[0] * 100, 1):g} to {round(worst[0] * 100, 1):g}" if best[0] != worst[0] else f"{round(worst[0] * 100, 1):g}"
        because.append(f"along it shrinks {spoken} %: needed / (1 - shrinkage)")
    if lay.spare:
        because.append(f"{lay.spare:.0%} kept in hand")
    elif extras.spare_high:
        because.append(f"the high figure keeps {extras.spare_high:.0%} in hand for a crooked end or a flaw")
    return Bought(Amount.of(lengths), Amount.of(patterns), Amount.of(widths), tuple(because))


def over_shrinkage(length_at: Callable[[float], float], width_cm: float, shrinks: Shrinks) -> Amount:
    """Cloth to buy in m for a layout whose length in m depends on the usable width in cm, over the span of shrinkage."""
    return Amount.of(
        [before_washing(length_at(after_washing(width_cm, across)), along) for along, across in shrinks.cases()]
    )


def rounded(amount: Amount, units: str = "metric") -> Amount:
    """Each figure up to the next 0.1 m or 1/8 yd, in m."""
    return amount.each(lambda metres: round_up(metres, units))


@dataclass(frozen=True)
class Serves:
    """Whether a piece in hand serves, and how much it is short, in m."""

    serves: Literal["yes", "maybe", "no"]
    short_m: Amount


def piece_serves(had_m: float, needed: Amount) -> Serves:
    """Compares a piece in hand with what is needed (both unwashed, in m): yes if even the high figure fits."""
    lacks = needed.each(lambda metres: max(0.0, metres - had_m))
    word: Literal["yes", "maybe", "no"] = "yes" if lacks.high <= 1e-9 else "maybe" if lacks.low <= 1e-9 else "no"
    return Serves(word, lacks)
