"""Bias, rings, gathers, pleats, buttons, loops and notions: each question's figures put together into one report.

Functions take figures in the units of their names and raise `Unclear` for what is zero, absurd or missing.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from advisor.errors import Unclear
from advisor.need import bias as bias_
from advisor.need import closures, cloth, fullness, notions, tables
from advisor.need.cloth import Amount
from advisor.need.ground import Ground, piece_in_hand, short, sources_of
from advisor.need.reports import (
    BiasPart,
    ButtonsPart,
    ElasticPart,
    GathersPart,
    LoopsPart,
    NeedReport,
    PiecePart,
    PleatsPart,
    RingPart,
    ThreadLine,
    ThreadPart,
    ZipPart,
)  # fmt: skip
from advisor.need.units import ligne_from_mm, within
from advisor.ranges import Range

PARTS = {"full": 1.0, "three-quarter": 0.75, "half": 0.5, "quarter": 0.25}
"""Words for the share of a circle."""


def bias(
    base: Ground, *, finished_mm: float | None = None, style: str = "double", tool_mm: float | None = None,
    strip_mm: float | None = None, length_m: float | None = None, square_cm: float | None = None,
) -> NeedReport:  # fmt: skip
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
        because.append(f"{rule.about}: {rule.times:g} x {finished_mm:g} mm{plus} = {strip_mm:.1f} mm")
        sources.append(rule.source)
    else:
        raise Unclear("no width of strip", "--finished with --style, --tool, or --strip", "--finished 6mm --style double")
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
        part.square_to_cut_cm, part.square_to_cut_in = float(math.ceil(seamed - 1e-9)), float(math.ceil(seamed / inch - 1e-9))
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
                because.append(f"strips from {bought.expected:g} m are {bias_.strip_across(bought.expected * 100):.0f} cm long at most: longer cloth, fewer joins")
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
        because.append(f"a square of {square_cm:g} cm gives {whole / 100:.2f} m by area, {kept / 100:.2f} m after two {seam * 10:g} mm seams")
    if base.have_m is not None and base.width_cm is not None:
        chart = {
            (wide * cloth.CM_PER_INCH, strip_in * cloth.CM_PER_INCH): yd
            for wide, row in table.yield_chart.yards.items()
            for strip_in, yd in zip(table.yield_chart.strips_in, row, strict=True)
        }  # fmt: skip
        got = bias_.practical_yield(
            base.have_m * 100, base.width_cm, strip, (share.low / 100, share.usual / 100, share.high / 100), chart
        )
        part.from_piece_m = Amount(round(got.low_cm / 100, 2), round(got.expected_cm / 100, 2), round(got.high_cm / 100, 2))
        part.from_piece_by_area_m = round(got.area_cm / 100, 2)
        because.append(
            f"the piece gives about {got.expected_cm / 100:.1f} m in practice ({'by the chart' if got.charted else f'{share.usual:g} % of its area'}), "
            f"{got.area_cm / 100:.1f} m by bare area"
        )
        sources.append(table.yield_chart.source if got.charted else share.source)
    because += base.shrink_notes() if bought else []
    return NeedReport(
        "bias", bought, because, list(base.notes), base.cautions("bias"), sources_of(*sources), piece=piece, bias=part, cloth=base.cloth
    )


# ---- rings ----


def _ring(ring: fullness.Ring, base: Ground, seam_cm: float, hem_cm: float) -> tuple[RingPart, Amount | None, list[str]]:
    inner, outer = ring.inner_cm - seam_cm, ring.outer_cm + hem_cm
    if inner <= 0:
        raise Unclear(f"an inner radius of {ring.inner_cm:.1f} cm", f"more than the {seam_cm:g} cm seam allowance: fewer rings or less fullness")
    part = RingPart(
        round(ring.turns, 4), round(ring.inner_cm, 2), round(ring.outer_cm, 2), round(inner, 2), round(outer, 2),
        round(ring.inner_edge_cm, 1), round(ring.outer_edge_cm, 1), round(ring.fullness, 3),
    )  # fmt: skip
    if base.width_cm is None:
        return part, None, ["give --width for the cloth it takes"]
    lain = fullness.lay_ring(inner, outer, ring.turns, base.width_cm)
    part.sections, part.section_degrees, part.per_row = lain.sections, round(lain.section_turns * 360, 1), lain.per_row
    part.cloth_cm, part.waste_pct = round(lain.length_cm, 1), round(lain.waste * 100, 1)
    needed = base.over(lambda wide: fullness.lay_ring(inner, outer, ring.turns, wide).length_cm)
    pieces = "in one piece" if lain.sections == 1 else f"in {lain.sections} pieces of {part.section_degrees:g}°, {lain.per_row} to a row"
    because = [f"{pieces}: {lain.length_cm:.0f} cm of cloth {base.width_cm:g} cm wide, {part.waste_pct:.0f} % of it left over"]
    if lain.sections > math.ceil(ring.turns - 1e-9):
        because.append("each extra seam needs its own allowance: add it to the seam length before you draw")
    return part, needed, because


def flounce(
    base: Ground, *, seam_cm: float, depth_cm: float, ratio: float | None = None, rings: float | None = None,
    allowance_cm: float = 1.0, hem_cm: float = 0.6,
) -> NeedReport:  # fmt: skip
    """A circular flounce: radii, sectors per sheet, cloth and waste."""
    within(seam_cm, 5, 3000, "seam length", "cm")
    within(depth_cm, 1, 150, "depth", "cm")
    within(allowance_cm, 0, 5, "allowance", "cm")
    within(hem_cm, 0, 15, "hem", "cm")
    if (ratio is None) == (rings is None):
        raise Unclear("no fullness" if ratio is None else "both fullness and rings", "either --fullness (free edge over seam) or --rings", "--fullness 2")
    if ratio is not None:
        within(ratio, 1, 20, "fullness", "times")
        ring = fullness.flounce_by_fullness(seam_cm, depth_cm, ratio)
        because = [f"inner radius = depth / (fullness - 1) = {ring.inner_cm:.2f} cm, {ring.turns:.2f} full circles for {seam_cm:g} cm of seam"]
    else:
        rings = within(rings or 0, 0.05, 60, "rings", "")
        ring = fullness.flounce_by_rings(seam_cm, depth_cm, rings)
        because = [f"inner radius = seam / (2π x {rings:g}) = {ring.inner_cm:.2f} cm, free edge {ring.fullness:.2f} times the seam"]
    part, needed, laid = _ring(ring, base, allowance_cm, hem_cm)
    return NeedReport(
        "flounce", base.rounded(needed) if needed else None, because + laid + (base.shrink_notes() if needed else []), list(base.notes),
        base.cautions("flounce"), sources_of("baldt-1916, draft of circular flounce", "regina-math-central"), flounce=part, cloth=base.cloth,
        piece=piece_in_hand(base, base.width_cm, needed) if needed and base.width_cm and base.have_m else None,
    )  # fmt: skip


def turns_of(word: str) -> float:
    """The share of a circle from 'full', 'half' … or a figure such as 0.75."""
    if word in PARTS:
        return PARTS[word]
    try:
        return within(float(word), 0.05, 4, "part of a circle", "circles")
    except ValueError:
        raise Unclear(f"part '{word[:30]}'", f"one of {', '.join(PARTS)} or a figure such as 0.75", "full") from None


def circle(
    base: Ground, *, waist_cm: float, length_cm: float, turns: float = 1.0, hem_cm: float = 0.0, seams: int = 0,
    allowance_cm: float = 1.5, hip_cm: float | None = None, hip_depth_cm: float = 20.0,
) -> NeedReport:  # fmt: skip
    """A circle skirt: radii, hem, layout and cloth."""
    within(waist_cm, 20, 300, "waist", "cm")
    within(length_cm, 2, 250, "length", "cm")
    within(hem_cm, 0, 20, "hem", "cm")
    within(seams, 0, 24, "seams", "")
    within(allowance_cm, 0, 5, "allowance", "cm")
    ring = fullness.circle_skirt(waist_cm, length_cm, turns, 2 * allowance_cm * seams)
    because = [f"waist radius = {waist_cm + 2 * allowance_cm * seams:g} cm / (2π x {turns:g}) = {ring.inner_cm:.2f} cm"]
    part, needed, laid = _ring(ring, base, min(allowance_cm, ring.inner_cm / 2), hem_cm)
    notes = list(base.notes)
    if hip_cm is not None:
        there = 2 * math.pi * turns * (ring.inner_cm + hip_depth_cm)
        if there <= within(hip_cm, 30, 300, "hip", "cm"):
            notes.append(f"{hip_depth_cm:g} cm below the waist it measures {there:.0f} cm, no more than the hip: cut a larger part of a circle")
    return NeedReport(
        "circle", base.rounded(needed) if needed else None, because + laid + (base.shrink_notes() if needed else []), notes,
        base.cautions("circle"), sources_of("regina-math-central"), circle=part, cloth=base.cloth,
        piece=piece_in_hand(base, base.width_cm, needed) if needed and base.width_cm and base.have_m else None,
    )  # fmt: skip


# ---- gathers and pleats ----


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
    band = [next(b for b in table.gathers if w < b.below_gsm or b is table.gathers[-1]) for w in (weight_gsm.low, weight_gsm.mid, weight_gsm.high)]
    return (
        Amount(min(b.ratio[0] for b in band), band[1].ratio[1], max(b.ratio[2] for b in band)),
        f"{band[1].about} ({weight_gsm.low:.0f} to {weight_gsm.high:.0f} g/m²)",
        [band[1].source, table.weight_limits_source],
    )


def gathers(
    base: Ground, *, finished_cm: float, ratio: float | None = None, style: str = "", depth_cm: float | None = None,
    allowance_cm: float = 2.0,
) -> NeedReport:  # fmt: skip
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
    because = [f"{why}: {times.expected:g} times {finished_cm:g} cm is {times.expected * finished_cm / 100:.2f} m of strip"]
    part = GathersPart(times, short(times.each(lambda t: t * finished_cm / 100), 3))
    needed: Amount | None = None
    if depth_cm is not None:
        deep = within(depth_cm, 0.5, 200, "depth", "cm") + allowance_cm
        part.strip_depth_cm = round(deep, 2)
        if base.width_cm is not None and style == "bias":
            share = tables.read_table(tables.Bias, base.folders).yield_pct
            needed = base.joined(
                (finished_cm * times.low, deep, share.high), (finished_cm * times.expected, deep, share.usual),
                (finished_cm * times.high, deep, share.low),
            )  # fmt: skip
        elif base.width_cm is not None:
            join = table.join_seam_mm.value / 10
            cut = [fullness.frill(finished_cm, t, deep, base.width_cm, join) for t in (times.low, times.expected, times.high)]
            part.strips, part.cloth_cm = Amount.of([c.strips for c in cut]), short(Amount.of([c.cloth_cm for c in cut]), 1)
            needed = Amount(
                base.over(lambda w: fullness.frill(finished_cm, times.low, deep, w, join).cloth_cm).low,
                base.over(lambda w: fullness.frill(finished_cm, times.expected, deep, w, join).cloth_cm).expected,
                base.over(lambda w: fullness.frill(finished_cm, times.high, deep, w, join).cloth_cm).high,
            )
            because.append(
                f"{cut[1].strips} strips {deep:g} cm deep across {base.width_cm:g} cm cloth (by length {cut[1].widths:.1f}, rounded up for the joins): "
                f"{cut[1].cloth_cm:.0f} cm"
            )
            sources.append("nimi-dressmaking, p. 212")
    return NeedReport(
        "gathers", base.rounded(needed) if needed else None, because + (base.shrink_notes() if needed else []), list(base.notes),
        base.cautions("gathers"), sources_of(*sources), gathers=part, cloth=base.cloth,
        piece=piece_in_hand(base, base.width_cm, needed) if needed and base.width_cm and base.have_m else None,
    )  # fmt: skip


def pleats(
    base: Ground, *, finished_cm: float, kind: str = "knife", pleat_cm: float | None = None, depth_cm: float | None = None,
    count: int | None = None, allowance_cm: float = 0.0, drop_cm: float | None = None,
) -> NeedReport:  # fmt: skip
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
    because = [f"{rule.about}: {finished_cm:g} cm + {count} pleats x {rule.layers_per_depth:g} x {deep:g} cm = {got.cut_cm:g} cm"]
    part = PleatsPart(kind, count, round(deep, 3), round(got.cut_cm, 2), round(got.with_allowance_cm, 2), round(got.ratio, 3))
    needed: Amount | None = None
    if drop_cm is not None and base.width_cm is not None:
        drop = within(drop_cm, 1, 300, "drop", "cm")
        part.widths = math.ceil(round(got.with_allowance_cm / base.width_cm, 9))
        needed = base.over(lambda wide: math.ceil(round(got.with_allowance_cm / wide, 9)) * drop)
        because.append(f"{part.widths} widths of {base.width_cm:g} cm, {drop:g} cm long each (hems included); joins hide inside a pleat")
    return NeedReport(
        "pleats", base.rounded(needed) if needed else None, because + (base.shrink_notes() if needed else []), list(base.notes),
        base.cautions("pleats"), sources_of(rule.source), pleats=part, cloth=base.cloth,
        piece=piece_in_hand(base, base.width_cm, needed) if needed and base.width_cm and base.have_m else None,
    )  # fmt: skip


def sunray(
    base: Ground, *, waist_cm: float, length_cm: float, turns: float = 0.5, ratio: float | None = None, hem_cm: float = 0.0
) -> NeedReport:
    """Sunray pleats: the part of a ring to send for pleating."""
    rule = tables.read_table(tables.Fullness, base.folders).sunray
    within(waist_cm, 20, 300, "waist", "cm")
    within(length_cm, 2, 250, "length", "cm")
    times = ratio if ratio is not None else rule.ratio[1]
    if times < 1:
        raise Unclear(f"fullness {times:g}", "1 or more: cloth at the waist over the pleated waist")
    ring = fullness.sunray(waist_cm, length_cm, turns, within(times, 1, 8, "fullness", "times"))
    part, needed, laid = _ring(ring, base, 0.0, hem_cm)
    because = [f"{rule.about}: {times:g} x {waist_cm:g} cm, radius {ring.inner_cm:.2f} cm for {turns:g} of a circle", *laid]
    notes = [*base.notes, "ask the pleater for the take-up of the chosen pleat before you cut"]
    return NeedReport(
        "pleats", base.rounded(needed) if needed else None, because + (base.shrink_notes() if needed else []), notes,
        base.cautions("pleats"), sources_of(rule.source, "regina-math-central"), circle=part, cloth=base.cloth,
    )  # fmt: skip


# ---- buttons and loops ----


def buttons(
    base: Ground, *, diameter_mm: float, count: int | None = None, kind: str = "kit", button_mm: float | None = None,
    dome_mm: float | None = None, opening_mm: float | None = None,
) -> NeedReport:  # fmt: skip
    """Covered buttons: circles by shell and cloth, buttonholes, spacing. `button_mm` is the button's thickness."""
    table = tables.read_table(tables.Closures, base.folders)
    within(diameter_mm, 5, 120, "diameter", "mm")
    if kind not in table.covers:
        raise Unclear(f"kind '{kind[:30]}'", f"one of {', '.join(table.covers)}", "kit")
    rule = table.covers[kind]
    thick = base.thickness_mm or Range(0, 0)
    cloth_mm = (thick.low, thick.mid, thick.high)
    circle_mm = Amount.of([closures.cover_circle(diameter_mm, rule.times[i], rule.plus_mm[i], cloth_mm[i]) for i in range(3)])
    covered = Amount.of([closures.covered_diameter(diameter_mm, t) for t in cloth_mm])
    because = [f"{rule.about}: circle {circle_mm.expected:.0f} mm" + (f" with cloth {thick.mid:.2g} mm thick" if thick.high else "")]
    sources = [rule.source]
    if dome_mm is not None:
        within(dome_mm, 0.5, 120, "dome", "mm")
        hole = table.buttonhole["domed"]
        holes = Amount.of([closures.buttonhole_domed(covered.low, dome_mm + t, p) for t, p in zip(cloth_mm, hole.plus_mm, strict=True)])
    else:
        hole = table.buttonhole["flat"]
        if button_mm is not None:
            within(button_mm, 0.5, 60, "button thickness", "mm")
        own = (button_mm,) * 3 if button_mm is not None else table.button_thickness_mm.value
        holes = Amount.of(
            [closures.buttonhole_flat(diameter_mm + 2 * t, o + t, p) for t, o, p in zip(cloth_mm, own, hole.plus_mm, strict=True)]
        )
        if button_mm is None:
            sources.append(table.button_thickness_mm.source)
    because.append(f"buttonhole: {hole.about}; {holes.expected:.0f} mm here. Try a slit in a scrap, and measure after covering")
    sources += [hole.source, table.edge_extra_mm.source]
    part = ButtonsPart(
        round(diameter_mm, 2), round(ligne_from_mm(diameter_mm), 1), short(covered, 1), short(circle_mm, 1), short(holes, 1),
        round(closures.edge_distance(diameter_mm, table.edge_extra_mm.value), 1),
    )  # fmt: skip
    needed: Amount | None = None
    if count is not None:
        within(count, 1, 500, "count", "")
        part.count, part.cut = count, count + max(1, math.ceil(count * table.spare_buttons_pct.value / 100))
        if opening_mm is not None:
            part.spacing_mm = round(closures.spacing(within(opening_mm, 1, 3000, "opening", "mm"), count), 1)
        if base.width_cm is not None:
            wide = base.width_cm * 10
            lengths = circle_mm.each(lambda size: closures.circles_cloth(size, part.cut or count, wide) / 1000)
            needed = Amount.of([cloth.before_washing(v, a) for v, (a, _) in zip((lengths.low, lengths.expected, lengths.high), base.shrinks.cases(), strict=True)])
            because.append(f"{part.cut} circles, one in ten to spare: offcuts of the garment usually serve")
    return NeedReport(
        "buttons", base.rounded(needed) if needed else None, because, list(base.notes), base.cautions("buttons"), sources_of(*sources),
        buttons=part, cloth=base.cloth,
    )  # fmt: skip


def loops(
    base: Ground, *, button_mm: float, thick_mm: float | None = None, count: int | None = None, opening_mm: float | None = None,
    gap_mm: float | None = None, allowance_mm: float | None = None, tube_mm: float = 5.0,
) -> NeedReport:  # fmt: skip
    """Rouleau loops: each loop, spacing, tube in all, and the strip by thickness of cloth."""
    table = tables.read_table(tables.Closures, base.folders)
    within(button_mm, 3, 80, "diameter", "mm")
    within(tube_mm, 1.5, 30, "tube", "mm")
    gap = within(gap_mm if gap_mm is not None else table.loops.gap_mm.value, 0, 80, "gap", "mm")
    ends = within(allowance_mm if allowance_mm is not None else table.loops.allowance_mm.value, 0, 60, "allowance", "mm")
    thick = within(thick_mm if thick_mm is not None else table.button_thickness_mm.value[2], 0.5, 60, "button thickness", "mm")
    exposed = closures.loop_exposed(button_mm, thick, gap)
    cut = closures.loop_cut(exposed, ends)
    rule = table.rouleau
    body = base.thickness_mm or Range(rule.thin_mm.value, rule.thick_mm.value)
    times = [closures.rouleau_times(t, rule.times.thin, rule.times.thick, rule.thin_mm.value, rule.thick_mm.value) for t in (body.low, body.mid, body.high)]
    strip = Amount.of([tube_mm * t for t in times])
    because = [
        f"the button must pass on edge: 2 x ({button_mm:g} mm + {thick:g} mm) - {gap:g} mm = {exposed:.0f} mm showing, {cut:.0f} mm as cut",
        f"strip {strip.expected:.0f} mm for a {tube_mm:g} mm tube, cut on the bias: 4 times in thick cloth to 5 times in thin, whose turnings fill it",
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
                (total / 10, strip.low / 10, share.high), (total / 10, strip.expected / 10, share.usual),
                (total / 10, strip.high / 10, share.low),
            )  # fmt: skip
    return NeedReport(
        "loops", base.rounded(needed) if needed else None, because, list(base.notes), base.cautions("loops"),
        sources_of("nebraska-buttonholes-1965", rule.times.source, table.loops.waste_pct.source), loops=part, cloth=base.cloth,
    )  # fmt: skip


# ---- notions ----


def thread(base: Ground, *, seams_m: Sequence[float], stitches: Sequence[str] = ()) -> NeedReport:
    """Thread for seams, each with its stitch (one stitch serves for all)."""
    table = tables.read_table(tables.Notions, base.folders)
    names = {**{s.iso: n for n, s in table.stitches.items()}, **{n: n for n in table.stitches}}
    kinds = list(stitches) or ["lockstitch"]
    if len(kinds) == 1:
        kinds *= len(seams_m)
    if not seams_m:
        raise Unclear("no seam", "--seam with its length, once for each kind of stitch", "--seam 12m")
    if len(kinds) != len(seams_m):
        raise Unclear(f"{len(kinds)} stitches for {len(seams_m)} seams", "one --stitch for all, or one for each --seam")
    lines: list[ThreadLine] = []
    for length, kind in zip(seams_m, kinds, strict=True):
        if kind.lower() not in names:
            raise Unclear(f"stitch '{kind[:30]}'", f"one of {', '.join(table.stitches)} or its ISO 4915 number", "lockstitch")
        stitch = table.stitches[names[kind.lower()]]
        within(length, 0.01, 5000, "seam", "m")
        lines.append(ThreadLine(names[kind.lower()], stitch.iso, round(length, 3), round(length * stitch.ratio, 2), stitch.source))
    total = sum(line.thread_m for line in lines)
    amount = Amount.of([notions.thread_metres([(total, 1)], waste / 100) for waste in table.thread_waste_pct.value])
    part = ThreadPart(short(amount, 1), amount.each(lambda m: notions.reels(m, table.reel_m.value)), table.reel_m.value, lines)
    because = [f"{line.stitch} ({line.iso}): {line.seam_m:g} m of seam x {line.thread_m / line.seam_m:g} = {line.thread_m:g} m, both sides together" for line in lines]
    because.append(f"and {table.thread_waste_pct.value[0]:g} to {table.thread_waste_pct.value[2]:g} % for ends, threading and unpicking")
    return NeedReport("thread", None, because, list(base.notes), base.cautions("thread"), sources_of(*(line.source for line in lines), table.thread_waste_pct.source), thread=part)


def elastic(base: Ground, *, body_cm: float, place: str = "waist", width_mm: float | None = None) -> NeedReport:
    """Elastic to cut for a place on the body, and the casing."""
    table = tables.read_table(tables.Notions, base.folders)
    within(body_cm, 8, 250, "body", "cm")
    if place not in table.elastic:
        raise Unclear(f"place '{place[:30]}'", f"one of {', '.join(table.elastic)}", "waist")
    rule = table.elastic[place]
    lap = table.elastic_overlap_mm.value
    part = ElasticPart(
        short(Amount.of([notions.elastic_cut(body_cm, share / 100, lap / 10) for share in rule.of_body_pct]), 1), Amount.of(rule.of_body_pct), lap
    )
    because = [f"{rule.of_body_pct[0]:g} to {rule.of_body_pct[2]:g} % of {body_cm:g} cm at the {place}, and {lap:g} mm to overlap; try it on before you close it"]
    if width_mm is not None:
        within(width_mm, 3, 120, "elastic width", "mm")
        part.casing_mm = round(notions.casing_depth(width_mm, table.elastic_casing_ease_mm.value, table.casing_turn_mm.value), 1)
        because.append(f"folded casing: {part.casing_mm:g} mm of cloth above the fold line")
    return NeedReport("elastic", None, because, list(base.notes), base.cautions("elastic"), sources_of(rule.source, table.elastic_overlap_mm.source), elastic=part)


def zip_(base: Ground, *, opening_cm: float) -> NeedReport:
    """The zip to buy for an opening."""
    table = tables.read_table(tables.Notions, base.folders)
    within(opening_cm, 3, 150, "opening", "cm")
    length = notions.zip_length(opening_cm, table.zips.lengths_cm)
    lacks = f" and {opening_cm - length:g} cm shorter than the opening" if length < opening_cm else ""
    because = [f"the shortest sold that fills {opening_cm:g} cm is {length:g} cm{lacks}; a longer one is stitched across and cut off"]
    if lacks:
        because = [f"the longest usually sold is {length:g} cm{lacks}: buy zip by the metre"]
    return NeedReport("zip", None, because, list(base.notes), base.cautions("zip"), sources_of(table.zips.source), zip=ZipPart(opening_cm, length))

