"""What is easier looked at than read, as SVG: scores, ranges on their trade bands, and shapes at true size.

Each function takes figures out of a report and returns the drawing; none reckons advice. Drawings carry no colour of
their own: the style sheet colours their classes, so that dark and light both work, and every meaning has a second mark
(hatching, a notch, a label). Text is escaped here, since the result is marked as safe.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from datetime import date, timedelta

from markupsafe import Markup, escape

from advisor.judge import interpolate
from advisor.plan.answers import PlanReport
from advisor.ranges import Range
from advisor.report import CurveReport, Scored, Span

WIDE, LEFT, RIGHT = 340.0, 8.0, 332.0
"""Width of a strip in its own units, about the pixels of a small telephone, and where its scale begins and ends."""


def _svg(width: float, height: float, inner: Iterable[str], says: str, kind: str) -> Markup:
    label = f'role="img" aria-label="{escape(says)}"' if says else 'aria-hidden="true"'
    return Markup(
        f'<svg class="{kind}" viewBox="0 0 {width:g} {height:g}" {label} focusable="false">{"".join(inner)}</svg>'
    )


MARKS = {
    "suits": '<circle cx="12" cy="12" r="9" class="fill"/><path d="M7.5 12.5l3 3 6-7" class="cut"/>',
    "care": '<path d="M12 2.5L22 21H2z" class="fill"/><path d="M12 9v6M12 17.6v1.4" class="cut"/>',
    "avoid": '<path d="M7.5 2.5h9l5 5v9l-5 5h-9l-5-5v-9z" class="fill"/><path d="M8 8l8 8M16 8l-8 8" class="cut"/>',
}
"""The three verdicts by shape: round, triangle, octagon."""


def mark(verdict: str) -> Markup:
    """The verdict's shape; the word always stands beside it."""
    return _svg(24, 24, [MARKS[verdict]], "", f"mark {verdict}")


def score_bar(score: Scored, care_from: float, suits_from: float) -> Markup:
    """A score from 0 to 100 as a rule: the range as a hatched bar, the expected score as a notch, both thresholds as ticks."""
    def at(value: float) -> float:
        return 2 + value * 1.96

    low, high = at(score.low), at(score.high)
    parts = ['<path d="M2 14H198" class="rule"/>']
    parts += [f'<path d="M{at(t):.1f} 9v10" class="tick"/>' for t in (0, care_from, suits_from, 100)]
    parts.append(f'<rect x="{low:.1f}" y="10" width="{max(high - low, 1.5):.1f}" height="8" class="span"/>')
    parts.append(f'<path d="M{at(score.expected):.1f} 11l-4 -8h8z" class="notch"/>')
    return _svg(200, 20, parts, "", "scorebar")


def strip(curve: CurveReport, bands: Mapping[str, Range], decimals: int) -> Markup:
    """One demand of a check: the curve over what the cloth has."""
    said = _figures(curve.has, decimals)
    unit = "" if curve.unit == "grade" else f" {curve.unit}"
    near = [word for word, band in bands.items() if band.meets(Range(curve.has.low, curve.has.high))]
    says = f"{curve.name}: this cloth {said}{unit} ({', '.join(near)}); {curve.met.expected:.0%} of the wish is met"
    return banded(bands, decimals, has=curve.has, curve=curve.curve, says=says)


def banded(
    bands: Mapping[str, Range], decimals: int, *, says: str, has: Span | None = None, curve: Sequence[tuple[float, float]] = ()
) -> Markup:
    """One property: trade bands below, what a cloth has as a hatched field, and a demand's curve over it."""
    low, high = _window(has, curve, bands)

    def x(value: float) -> float:
        return LEFT + (min(max(value, low), high) - low) / (high - low) * (RIGHT - LEFT)

    top = 14.0
    foot = 62.0 if curve else 30.0
    parts = [f'<path d="M{LEFT} {foot}H{RIGHT}" class="rule"/>']
    if has:
        start, end = x(has.low), x(has.high)
        parts.append(f'<rect x="{start:.1f}" y="{top}" width="{max(end - start, 2):.1f}" height="{foot - top}" class="has"/>')
        parts += [f'<path d="M{at:.1f} {top}V{foot}" class="hatch"/>' for at in _steps(start, end, 6)]
        middle = min(max((start + end) / 2, 36), WIDE - (100 if curve else 36))
        parts.append(f'<text x="{middle:.1f}" y="{top - 4}" text-anchor="middle">{escape(_figures(has, decimals))}</text>')
    if curve:
        inside = [(px, py) for px, py in curve if low < px < high]
        line = [(low, interpolate(curve, low)), *inside, (high, interpolate(curve, high))]
        parts.append(f'<path d="M{LEFT} {top}H{RIGHT}" class="rule"/>')
        parts.append('<path d="M' + "L".join(f"{x(px):.1f} {foot - py * (foot - top):.1f}" for px, py in line) + '" class="curve"/>')
        parts.append(f'<text x="{RIGHT}" y="{top - 4}" text-anchor="end" class="small">serves well</text>')
        parts.append(f'<text x="{RIGHT}" y="{foot - 3}" text-anchor="end" class="small">not at all</text>')
    ends = [-9.0, -9.0, -9.0]  # where each row of words is written up to
    used = 0
    for word, band in bands.items():
        if band.high <= low or band.low >= high:
            continue
        left, right, wide = x(band.low), x(band.high), 5.6 * len(word)
        centre = min(max((left + right) / 2, LEFT + wide / 2), RIGHT - wide / 2)
        row = next((r for r in range(3) if max(ends[r], 0) < min(left, centre - wide / 2) or ends[r] < 0), 2)
        ends[row], used = max(right, centre + wide / 2) + 3, max(used, row + 1)
        y = foot + 9 + 17 * row
        parts.append(f'<path d="M{left:.1f} {y - 4}v4H{right:.1f}v-4" class="band"/>')
        parts.append(f'<text x="{centre:.1f}" y="{y + 10}" text-anchor="middle" class="small">{escape(word)}</text>')
    return _svg(WIDE, foot + 5 + 17 * used, parts, says, "strip")


def _window(has: Span | None, curve: Sequence[tuple[float, float]], bands: Mapping[str, Range]) -> tuple[float, float]:
    """The stretch of the scale that is drawn: the cloth and the curve, with a margin, inside what is possible."""
    points = [*((has.low, has.high) if has else ()), *(px for px, _ in curve)]
    margin = max((max(points) - min(points)) * (0.2 if curve else 0.6), 0.02 * abs(max(points)), 1e-6)
    ends = [end for band in bands.values() for end in band]
    low = max(min(points) - margin, min(ends, default=min(points)))
    high = min(max(points) + margin, max(ends, default=max(points)))
    return (low, high) if high > low else (low, low + 1.0)


def _steps(start: float, end: float, step: float) -> list[float]:
    count = int((end - start) // step)
    return [start + step * (i + 0.5) for i in range(count)]


def _figures(span: Span, decimals: int) -> str:
    low, high = f"{span.low:.{decimals}f}", f"{span.high:.{decimals}f}"
    return low if low == high else f"{low} to {high}"


STEPS = ("pre-wash", "cut", "sew", "hang", "finish")
ROW, AXIS = 46.0, 26.0


def dates(answer: PlanReport) -> Markup:
    """The plan's days from left to right, one row a make: each step a bar with its letter, the day wanted a flag."""
    sewn = [m for m in answer.makes if m.allotted and m.steps]
    days = [date.fromisoformat(d) for m in sewn for s in m.steps for d in (s.first, s.last)]
    days += [date.fromisoformat(m.wanted_by) for m in sewn if m.wanted_by]
    if not days:
        return Markup("")
    first = date.fromisoformat(answer.today)
    span = max((max(days) - first).days + 1, 7)
    wide = max(WIDE, min(span * 9.0, 1400.0))

    def x(day: date) -> float:
        return LEFT + (day - first).days / span * (wide - LEFT - 14)

    step = 7 if span <= 80 else 28
    parts = []
    for count in range(0, span + 1, step):
        day = first + timedelta(days=count)
        parts.append(f'<path d="M{x(day):.1f} {AXIS - 6}V{AXIS + ROW * len(sewn):.1f}" class="tick"/>')
        if x(day) < wide - 40:
            parts.append(f'<text x="{x(day) + 2:.1f}" y="{AXIS - 10}" class="small">{day.day} {day:%b}</text>')
    for row, make in enumerate(sewn):
        y = AXIS + ROW * row
        parts.append(f'<text x="{LEFT}" y="{y + 12}">{escape(make.make)}</text>')
        for part in make.steps:
            left = x(date.fromisoformat(part.first))
            right = max(x(date.fromisoformat(part.last) + timedelta(days=1)), left + 3)
            parts.append(
                f'<g class="s{STEPS.index(part.step)}"><rect x="{left:.1f}" y="{y + 18}" width="{right - left:.1f}" height="18"/>'
                + (f'<text x="{(left + right) / 2:.1f}" y="{y + 31}" text-anchor="middle">{part.step[0].upper()}</text>' if right - left > 11 else "")
                + f"<title>{escape(f'{part.step}, {part.first} to {part.last}')}</title></g>"
            )
        if make.wanted_by:
            at = x(date.fromisoformat(make.wanted_by) + timedelta(days=1))
            parts.append(f'<path d="M{at:.1f} {y + 40}V{y + 14}l8 4l-8 4" class="flag"/>')
    says = "; ".join(f"{m.make}: {m.steps[0].first} to {m.steps[-1].last}" + (f", wanted {m.wanted_by}" if m.wanted_by else "") for m in sewn)
    return _svg(wide, AXIS + ROW * len(sewn) + 4, parts, says, "dates")
