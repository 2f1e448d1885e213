"""Gathers and straight pleats answered."""

from __future__ import annotations

import math

from advisor.errors import Unclear
from advisor.need import fullness, tables
from advisor.need.cloth import Amount
from advisor.need.ground import Ground, piece_in_hand, short, sources_of
from advisor.need.reports import (
    GathersPart,
    NeedReport,
    PleatsPart,
)
from advisor.need.units import within
from advisor.ranges import Range


def gathers_ratio(weight_gsm: Range | None, style: str, table: tables.Fullness) -> tuple[Amount, str, list[str]]:
    """Cut over finished length for a cloth's weight (over its whole range), why, and the sources."""
    named = {"bias": table.bias_frill, "older": table.older_straight}
    if style in named:
        rule = named[style]
        return Amount(*rule.ratio), rule.about, [rule.source]
    if style not in ("", "straight"):
        raise Unclear(f"style '{style[:30]}'", "straight, bias or older", "straight")
    if weight_gsm is None:
        rule = table.without_cloth
        return Amount(*rule.ratio), rule.about, [rule.source]
    band = [
        next(b for b in table.gathers if w < b.below_gsm or b is table.gathers[-1])
        for w in (weight_gsm.low, weight_gsm.mid, weight_gsm.high)
    ]
    return (
        Amount(min(b.ratio[0] for b in band), band[1].ratio[1], max(b.ratio[2] for b in band)),
        f"{band[1].about} ({weight_gsm.low:.0f} to {weight_gsm.high:.0f} g/m²)",
        [band[1].source, table.weight_limits_source],
    )


def gathers(
    base: Ground,
    *,
    finished_cm: float,
    ratio: float | None = None,
    style: str = "",
    depth_cm: float | None = None,
    allowance_cm: float = 2.0,
) -> NeedReport:
    """A gathered frill: strip, strips across the cloth, cloth."""
    table = tables.read_table(tables.Fullness, base.folders)
    within(finished_cm, 2, 5000, "finished length", "cm")
    within(allowance_cm, 0, 20, "allowance", "cm")
    if ratio is not None:
        if ratio < 1:
            raise Unclear(f"fullness {ratio:g}", "1 or more: the cut length over the finished length")
        within(ratio, 1, 10, "fullness", "times")
        times, why, sources = Amount(ratio, ratio, ratio), f"{ratio:g} times, as asked", list[str]()
    else:
        times, why, sources = gathers_ratio(base.weight_gsm, style, table)
    because = [
        f"{why}: {times.expected:g} times {finished_cm:g} cm is {times.expected * finished_cm / 100:.2f} m of strip"
    ]
    part = GathersPart(times, short(times.each(lambda t: t * finished_cm / 100), 3))
    needed: Amount | None = None
    if depth_cm is not None:
        deep = within(depth_cm, 0.5, 200, "depth", "cm") + allowance_cm
        part.strip_depth_cm = round(deep, 2)
        if base.width_cm is not None and style == "bias":
            share = tables.read_table(tables.Bias, base.folders).yield_pct
            needed = base.joined(
                (finished_cm * times.low, deep, share.high),
                (finished_cm * times.expected, deep, share.usual),
                (finished_cm * times.high, deep, share.low),
            )
        elif base.width_cm is not None:
            join = table.join_seam_mm.value / 10
            cut = [
                fullness.frill(finished_cm, t, deep, base.width_cm, join)
                for t in (times.low, times.expected, times.high)
            ]
            part.strips, part.cloth_cm = (
                Amount.of([c.strips for c in cut]),
                short(Amount.of([c.cloth_cm for c in cut]), 1),
            )
            needed = Amount(
                base.over(lambda w: fullness.frill(finished_cm, times.low, deep, w, join).cloth_cm).low,
                base.over(lambda w: fullness.frill(finished_cm, times.expected, deep, w, join).cloth_cm).expected,
                base.over(lambda w: fullness.frill(finished_cm, times.high, deep, w, join).cloth_cm).high,
            )
            because.append(
                f"{cut[1].strips} strips {deep:g} cm deep across {base.width_cm:g} cm cloth "
                f"(by length {cut[1].widths:.1f}, rounded up for the joins): "
                f"{cut[1].cloth_cm:.0f} cm"
            )
            sources.append("nimi-dressmaking, p. 212")
    return NeedReport(
        "gathers",
        base.rounded(needed) if needed else None,
        because + (base.shrink_notes() if needed else []),
        list(base.notes),
        base.cautions("gathers"),
        sources_of(*sources),
        gathers=part,
        cloth=base.cloth,
        piece=piece_in_hand(base, base.width_cm, needed) if needed and base.width_cm and base.have_m else None,
    )


def pleats(
    base: Ground,
    *,
    finished_cm: float,
    kind: str = "knife",
    pleat_cm: float | None = None,
    depth_cm: float | None = None,
    count: int | None = None,
    allowance_cm: float = 0.0,
    drop_cm: float | None = None,
) -> NeedReport:
    """Knife, box, inverted and double box pleats: cloth before pleating."""
    table = tables.read_table(tables.Fullness, base.folders)
    if kind not in table.pleats:
        raise Unclear(f"kind '{kind[:30]}'", f"one of {', '.join(table.pleats)} or sunray", "knife")
    rule = table.pleats[kind]
    within(finished_cm, 1, 3000, "finished width", "cm")
    within(allowance_cm, 0, 50, "allowance", "cm")
    if pleat_cm is not None:
        within(pleat_cm, 0.2, 60, "pleat", "cm")
    if depth_cm is None and pleat_cm is None:
        raise Unclear("no pleat", "--pleat (width of one) or --depth with --count", "--pleat 2.5")
    if depth_cm is None and pleat_cm is not None:
        depth_cm = pleat_cm * (rule.all_round - 1) / rule.layers_per_depth
    deep = within(depth_cm or 0, 0.2, 60, "depth", "cm")
    if count is None:
        if pleat_cm is None:
            raise Unclear("no number of pleats", "--count, or --pleat for pleats side by side", "--count 1")
        count = fullness.pleat_count(finished_cm, pleat_cm)
    within(count, 1, 2000, "pleats", "")
    got = fullness.pleats(finished_cm, deep, count, rule.layers_per_depth, allowance_cm)
    because = [
        f"{rule.about}: {finished_cm:g} cm + {count} pleats of {rule.layers_per_depth:g} times {deep:g} cm = {got.cut_cm:g} cm"
    ]
    part = PleatsPart(
        kind, count, round(deep, 3), round(got.cut_cm, 2), round(got.with_allowance_cm, 2), round(got.ratio, 3)
    )
    needed: Amount | None = None
    if drop_cm is not None and base.width_cm is not None:
        drop = within(drop_cm, 1, 300, "drop", "cm")
        part.widths = math.ceil(round(got.with_allowance_cm / base.width_cm, 9))
        needed = base.over(lambda wide: math.ceil(round(got.with_allowance_cm / wide, 9)) * drop)
        because.append(
            f"{part.widths} widths of {base.width_cm:g} cm, {drop:g} cm long each (hems included); joins hide inside a pleat"
        )
    return NeedReport(
        "pleats",
        base.rounded(needed) if needed else None,
        because + (base.shrink_notes() if needed else []),
        list(base.notes),
        base.cautions("pleats"),
        sources_of(rule.source),
        pleats=part,
        cloth=base.cloth,
        piece=piece_in_hand(base, base.width_cm, needed) if needed and base.width_cm and base.have_m else None,
    )
