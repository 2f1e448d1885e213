"""Covered buttons, buttonholes and rouleau loops answered."""

from __future__ import annotations

import math

from advisor.errors import Unclear
from advisor.need import closures, cloth, tables
from advisor.need.cloth import Amount
from advisor.need.ground import Ground, short, sources_of
from advisor.need.reports import (
    ButtonsPart,
    LoopsPart,
    NeedReport,
)
from advisor.need.units import ligne_from_mm, within
from advisor.ranges import Range


def buttons(
    base: Ground,
    *,
    diameter_mm: float,
    count: int | None = None,
    kind: str = "kit",
    button_mm: float | None = None,
    dome_mm: float | None = None,
    opening_mm: float | None = None,
) -> NeedReport:
    """Covered buttons: circles by shell and cloth, buttonholes, spacing. `button_mm` is the button's thickness."""
    table = tables.read_table(tables.Closures, base.folders)
    within(diameter_mm, 5, 120, "diameter", "mm")
    if kind not in table.covers:
        raise Unclear(f"kind '{kind[:30]}'", f"one of {', '.join(table.covers)}", "kit")
    rule = table.covers[kind]
    thick = base.thickness_mm or Range(0, 0)
    cloth_mm = (thick.low, thick.mid, thick.high)
    circle_mm = Amount.of(
        [closures.cover_circle(diameter_mm, rule.times[i], rule.plus_mm[i], cloth_mm[i]) for i in range(3)]
    )
    covered = Amount.of([closures.covered_diameter(diameter_mm, t) for t in cloth_mm])
    because = [
        f"{rule.about}: circle {circle_mm.expected:.0f} mm"
        + (f" with cloth {thick.mid:.2g} mm thick" if thick.high else "")
    ]
    sources = [rule.source]
    if dome_mm is not None:
        within(dome_mm, 0.5, 120, "dome", "mm")
        hole = table.buttonhole["domed"]
        holes = Amount.of(
            [
                closures.buttonhole_domed(covered.low, dome_mm + t, p)
                for t, p in zip(cloth_mm, hole.plus_mm, strict=True)
            ]
        )
    else:
        hole = table.buttonhole["flat"]
        if button_mm is not None:
            within(button_mm, 0.5, 60, "button thickness", "mm")
        own = (button_mm,) * 3 if button_mm is not None else table.button_thickness_mm.value
        holes = Amount.of(
            [
                closures.buttonhole_flat(diameter_mm + 2 * t, o + t, p)
                for t, o, p in zip(cloth_mm, own, hole.plus_mm, strict=True)
            ]
        )
        if button_mm is None:
            sources.append(table.button_thickness_mm.source)
    because.append(
        f"buttonhole: {hole.about}; {holes.expected:.0f} mm here. Try a slit in a scrap, and measure after covering"
    )
    sources += [hole.source, table.edge_extra_mm.source]
    part = ButtonsPart(
        round(diameter_mm, 2),
        round(ligne_from_mm(diameter_mm), 1),
        short(covered, 1),
        short(circle_mm, 1),
        short(holes, 1),
        round(closures.edge_distance(diameter_mm, table.edge_extra_mm.value), 1),
    )
    needed: Amount | None = None
    if count is not None:
        within(count, 1, 500, "count", "")
        part.count, part.cut = count, count + max(1, math.ceil(count * table.spare_buttons_pct.value / 100))
        if opening_mm is not None:
            part.spacing_mm = round(closures.spacing(within(opening_mm, 1, 3000, "opening", "mm"), count), 1)
        if base.width_cm is not None:
            wide = base.width_cm * 10
            lengths = circle_mm.each(lambda size: closures.circles_cloth(size, part.cut or count, wide) / 1000)
            needed = Amount.of(
                [
                    cloth.before_washing(v, a)
                    for v, (a, _) in zip(
                        (lengths.low, lengths.expected, lengths.high), base.shrinks.cases(), strict=True
                    )
                ]
            )
            because.append(f"{part.cut} circles, one in ten to spare: offcuts of the garment usually serve")
    return NeedReport(
        "buttons",
        base.rounded(needed) if needed else None,
        because,
        list(base.notes),
        base.cautions("buttons"),
        sources_of(*sources),
        buttons=part,
        cloth=base.cloth,
    )


def loops(
    base: Ground,
    *,
    button_mm: float,
    thick_mm: float | None = None,
    count: int | None = None,
    opening_mm: float | None = None,
    gap_mm: float | None = None,
    allowance_mm: float | None = None,
    tube_mm: float = 5.0,
) -> NeedReport:
    """Rouleau loops: each loop, spacing, tube in all, and the strip by thickness of cloth."""
    table = tables.read_table(tables.Closures, base.folders)
    within(button_mm, 3, 80, "diameter", "mm")
    within(tube_mm, 1.5, 30, "tube", "mm")
    gap = within(gap_mm if gap_mm is not None else table.loops.gap_mm.value, 0, 80, "gap", "mm")
    ends = within(
        allowance_mm if allowance_mm is not None else table.loops.allowance_mm.value, 0, 60, "allowance", "mm"
    )
    thick = within(
        thick_mm if thick_mm is not None else table.button_thickness_mm.value[2], 0.5, 60, "button thickness", "mm"
    )
    exposed = closures.loop_exposed(button_mm, thick, gap)
    cut = closures.loop_cut(exposed, ends)
    rule = table.rouleau
    body = base.thickness_mm or Range(rule.thin_mm.value, rule.thick_mm.value)
    times = [
        closures.rouleau_times(t, rule.times.thin, rule.times.thick, rule.thin_mm.value, rule.thick_mm.value)
        for t in (body.low, body.mid, body.high)
    ]
    strip = Amount.of([tube_mm * t for t in times])
    because = [
        f"the button must pass on edge: 2 x ({button_mm:g} mm + {thick:g} mm) - {gap:g} mm = "
        f"{exposed:.0f} mm showing, {cut:.0f} mm as cut",
        f"strip {strip.expected:.0f} mm for a {tube_mm:g} mm tube, cut on the bias: "
        f"4 times in thick cloth to 5 times in thin, whose turnings fill it",
    ]
    part = LoopsPart(tube_mm, short(strip, 1), round(exposed, 1), round(cut, 1))
    if opening_mm is not None:
        within(opening_mm, 1, 3000, "opening", "mm")
        if count is None:
            count = closures.loops_touching(opening_mm, button_mm)
            because.append(f"buttons side by side: {count} in {opening_mm / 10:g} cm")
    needed: Amount | None = None
    if count is not None:
        within(count, 1, 500, "count", "")
        waste = table.loops.waste_pct.value / 100
        part.count = count
        part.spacing_mm = round(closures.spacing(opening_mm, count), 1) if opening_mm is not None else None
        total = closures.tube_length(count, cut, waste)
        part.tube_m = round(total / 1000, 3)
        because.append(f"{count} loops: {total / 1000:.2f} m of rouleau with {waste:.0%} for turning the ends")
        if base.width_cm is not None:
            share = tables.read_table(tables.Bias, base.folders).yield_pct
            needed = base.joined(
                (total / 10, strip.low / 10, share.high),
                (total / 10, strip.expected / 10, share.usual),
                (total / 10, strip.high / 10, share.low),
            )
    return NeedReport(
        "loops",
        base.rounded(needed) if needed else None,
        because,
        list(base.notes),
        base.cautions("loops"),
        sources_of("nebraska-buttonholes-1965", rule.times.source, table.loops.waste_pct.source),
        loops=part,
        cloth=base.cloth,
    )
