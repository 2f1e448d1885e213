"""How `advisor check --why` is shown: ranges, curves drawn in block characters, rules that fired and that nearly did."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import groupby

from advisor import report
from advisor.cli.words import Paper, label, unit_text
from advisor.judge import interpolate

BLOCKS = " ▁▂▃▄▅▆▇█"
WIDE = 48


def drawn(curve: Sequence[tuple[float, float]], has: report.Span, wide: int = WIDE) -> tuple[str, str, str]:
    """A curve as three lines: its height from left to right, the cloth's range marked beneath, and the two ends."""
    xs = [x for x, _ in curve]
    low, high = min([*xs, has.low]), max([*xs, has.high])
    room = (high - low) or 1.0
    low, high = max(low - 0.04 * room, min(low, 0.0)), high + 0.04 * room
    step = (high - low) / wide
    height = "".join(BLOCKS[round(8 * interpolate(curve, low + (i + 0.5) * step))] for i in range(wide))
    first = min(wide - 1, max(0, int((has.low - low) / step)))
    last = min(wide - 1, max(first, int((has.high - low) / step)))
    mark = " " * first + ("^" if first == last else "└" + "─" * (last - first - 1) + "┘")
    left, right = f"{low:.3g}", f"{high:.3g}"
    return height, mark, left + " " * max(1, wide - len(left) - len(right)) + right


def show(paper: Paper, answer: report.CheckReport, names: dict[str, str]) -> None:
    """The reasoning, behind the answer itself."""
    why = answer.why
    if why is None:
        return
    paper.head("What the cloth is taken to be")
    for prop, known in answer.cloth.properties.items():
        span = f"{known.low:g}" if known.low == known.high else f"{known.low:g} to {known.high:g}"
        unit = unit_text(known.unit)
        source = f" [{known.source}]" if known.source else ""
        paper.item(f"{names[prop]} {span}{unit}: {known.evidence}, {known.because}{source}")
    for feature, rows in groupby(why.curves, key=lambda c: c.feature):
        paper.head(f"What {label(feature)} asks")
        for row in rows:
            unit = unit_text(row.unit)
            span = f"{row.has.low:g}" if row.has.low == row.has.high else f"{row.has.low:g} to {row.has.high:g}"
            paper.item(
                f"{row.name} {span}{unit}: {row.met.expected:.0%} met ({row.met.low:.0%} to {row.met.high:.0%}), "
                f"importance {row.importance:g}; {row.why} [{row.source}]"
            )
            height, mark, ends = drawn(row.curve, row.has)
            paper.line(f"      1 │{height}│")
            paper.line(f"        {mark:<{WIDE + 1}} the cloth".rstrip())
            paper.line(f"        {ends}{unit}")
    paper.head("Rules that fired")
    for finding in answer.findings:
        sure = "" if finding.certainty == "sure" else ", may apply"
        effect = f", × {finding.effect:g}" if finding.effect != 1 else ""
        paper.item(f"{finding.id} ({finding.kind}{sure}{effect}): {'; '.join(finding.because)}. {finding.why}")
    if not answer.findings:
        paper.item("None.")
    paper.head("Rules that nearly fired")
    for line in why.nearly:
        where = f", {label(line.feature)}" if line.feature else ""
        paper.item(f"{line.rule} ({line.kind}{where}): would need {line.missing}; here {line.has}.")
    if not why.nearly:
        paper.item("None.")
