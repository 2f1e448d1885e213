"""Bias strips answered: cut width, cloth, strips and square for a length; length from a square or a piece."""

from __future__ import annotations

import math

from advisor.errors import Unclear
from advisor.need import bias as bias_
from advisor.need import cloth, tables
from advisor.need.cloth import Amount
from advisor.need.ground import Ground, piece_in_hand, short, sources_of
from advisor.need.reports import (
    BiasPart,
    NeedReport,
    PiecePart,
)
from advisor.need.units import within


def bias(
    base: Ground,
    *,
    finished_mm: float | None = None,
    style: str = "double",
    tool_mm: float | None = None,
    strip_mm: float | None = None,
    length_m: float | None = None,
    square_cm: float | None = None,
) -> NeedReport:
    """Bias strips: cut width; cloth, strips and square for a length; length from a square or a piece in hand."""
    table = tables.read_table(tables.Bias, base.folders)
    because: list[str] = []
    sources = ["baldt-1916, ch. XXII"]
    chosen: str | None = None
    if strip_mm is not None:
        within(strip_mm, 3, 600, "strip", "mm")
    elif tool_mm is not None:
        within(tool_mm, 3, 100, "tool", "mm")
        strip_mm = bias_.tool_strip(tool_mm, table.tools.strip_mm)
        because.append(f"a {tool_mm:g} mm folding tool takes a strip {strip_mm:.0f} mm wide")
        sources.append(table.tools.source)
    elif finished_mm is not None:
        within(finished_mm, 1, 150, "finished width", "mm")
        if style not in table.styles:
            raise Unclear(f"style '{style[:30]}'", f"one of {', '.join(table.styles)}", "double")
        rule = table.styles[style]
        chosen = style
        strip_mm = bias_.cut_width(finished_mm, rule.times, rule.plus_mm)
        plus = f" + {rule.plus_mm:g} mm" if rule.plus_mm else ""
        because.append(f"{rule.about}: {rule.times:g} times {finished_mm:g} mm{plus} = {strip_mm:.1f} mm")
        sources.append(rule.source)
    else:
        raise Unclear(
            "no width of strip", "--finished with --style, --tool, or --strip", "--finished 6mm --style double"
        )
    strip = strip_mm / 10
    part = BiasPart(round(strip_mm, 1), round(bias_.along_selvedge(strip_mm), 1), chosen)
    seam = table.join_seam_mm.value / 10
    bought: Amount | None = None
    piece: PiecePart | None = None
    share = table.yield_pct
    if length_m is not None:
        within(length_m, 0.05, 500, "length of strip", "m")
        part.strip_length_m = round(length_m, 3)
        plain, seamed = bias_.square_for(length_m * 100, strip), bias_.square_for(length_m * 100, strip, seam)
        inch = cloth.CM_PER_INCH
        part.square_cm = short(Amount.of([plain, seamed, plain + table.square_extra_in.value * inch]))
        part.square_to_cut_cm, part.square_to_cut_in = (
            float(math.ceil(seamed - 1e-9)),
            float(math.ceil(seamed / inch - 1e-9)),
        )
        because.append(
            f"one continuous strip: a square of {plain:.1f} cm by area, {seamed:.1f} cm with two {seam * 10:g} mm seams "
            f"(teaching pages add {table.square_extra_in.value:g} in)"
        )
        sources.append(table.square_extra_in.source)
        if base.width_cm is not None:
            wide = base.width_cm
            part.strips = bias_.strips_of(length_m * 100, wide, seam)
            part.each_strip_cm = round(bias_.strip_across(wide), 1)
            part.full_strip_cloth_m = round(bias_.full_strip_cloth(part.strips, strip, wide) / 100, 3)
            usual = base.joined(*((length_m * 100, strip, got) for got in (share.high, share.usual, share.low)))
            shortest = table.shortest_strip_cm.value
            bare = base.over(lambda w: bias_.joined_cloth(length_m * 100, strip, w, shortest)).low
            needed = Amount(min(bare, usual.expected), usual.expected, usual.high)
            bought = base.rounded(needed)
            because.append(
                f"cut and joined, {share.low:g} to {share.high:g} % of the cloth becomes strip, usually {share.usual:g} %: "
                f"{needed.expected:.2f} m at {wide:g} cm"
            )
            because.append(
                f"with no seams counted and no piece under {shortest:g} cm it would be {bare:.2f} m, the low figure"
            )
            if bought.expected * 100 < wide:
                because.append(
                    f"strips from {bought.expected:g} m are {bias_.strip_across(bought.expected * 100):.0f} cm "
                    f"long at most: longer cloth, fewer joins"
                )
            because.append(
                f"or {part.strips} strips from selvedge to selvedge, {part.each_strip_cm:.0f} cm each, "
                f"from {part.full_strip_cloth_m:.2f} m: fewest joins, most cloth"
            )
            sources += [share.source, table.shortest_strip_cm.source]
            if base.have_m is not None:
                piece = piece_in_hand(base, wide, needed)
    if square_cm is not None:
        within(square_cm, 2, 500, "square", "cm")
        whole, kept = bias_.continuous_length(square_cm, strip), bias_.continuous_length(square_cm, strip, seam)
        part.from_square_m, part.from_square_without_seams_m = round(kept / 100, 3), round(whole / 100, 3)
        part.lost_in_seams_m = round((whole - kept) / 100, 3)
        because.append(
            f"a square of {square_cm:g} cm gives {whole / 100:.2f} m by area, {kept / 100:.2f} m after two {seam * 10:g} mm seams"
        )
    if base.have_m is not None and base.width_cm is not None:
        chart = {
            (wide * cloth.CM_PER_INCH, strip_in * cloth.CM_PER_INCH): yd
            for wide, row in table.yield_chart.yards.items()
            for strip_in, yd in zip(table.yield_chart.strips_in, row, strict=True)
        }
        got = bias_.practical_yield(
            base.have_m * 100, base.width_cm, strip, (share.low / 100, share.usual / 100, share.high / 100), chart
        )
        part.from_piece_m = Amount(
            round(got.low_cm / 100, 2), round(got.expected_cm / 100, 2), round(got.high_cm / 100, 2)
        )
        part.from_piece_by_area_m = round(got.area_cm / 100, 2)
        how = "by the chart" if got.charted else f"{share.usual:g} % of its area"
        because.append(
            f"the piece gives about {got.expected_cm / 100:.1f} m in practice ({how}), "
            f"{got.area_cm / 100:.1f} m by bare area"
        )
        sources.append(table.yield_chart.source if got.charted else share.source)
    because += base.shrink_notes() if bought else []
    return NeedReport(
        "bias",
        bought,
        because,
        list(base.notes),
        base.cautions("bias"),
        sources_of(*sources),
        piece=piece,
        bias=part,
        cloth=base.cloth,
    )
