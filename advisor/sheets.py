"""The pressing and the pre-wash sheet: settings that rules make, the safer winning, around the profile's own limits."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from advisor import report
from advisor.advise import Case, cloth_report, findings_report, with_parts
from advisor.asks import wash_wanted
from advisor.infer import Finding, inference_for
from advisor.knowledge import Knowledge
from advisor.layers import Layer, conflicts_of, layers_of, left_after, role_of, together
from advisor.ranges import Range
from advisor.sheet_keys import LINES, PRESS, PREWASH

STEAM = ("yes", "care", "no")
SIDES = ("either", "right", "wrong")
"""Settings from the freest to the safest."""
DRY = frozenset(["water"])
PRESS_LINES = frozenset(key for key, line in LINES.items() if line.kinds == PRESS)
PREWASH_LINES = frozenset(key for key, line in LINES.items() if line.kinds == PREWASH)


def _settings(findings: Iterable[Finding]) -> tuple[dict[str, list[object]], dict[str, list[str]]]:
    """The sheet lines of all findings: single settings as (value, sure) lists, and texts in order without repeats.

    What only may apply is taken too where it makes the sheet safer, since a sheet is there to keep cloth whole.
    """
    single: dict[str, list[object]] = {}
    lists: dict[str, list[str]] = {}
    for finding in findings:
        for key, value in finding.rule.then.sheet.items():
            if isinstance(value, list):
                for text in value:
                    if text not in lists.setdefault(key, []):
                        lists[key].append(text)
            else:
                single.setdefault(key, []).append(value)
    return single, lists


def _stands(finding: Finding, without: frozenset[str], usual: str) -> bool:
    """Whether a finding still holds where the sheet does `without` something: nothing it says may take that."""
    takes = finding.rule.then.sheet.get("takes", usual)
    return takes not in without and not ("iron" in without and takes == "steam")


def _safest(values: Iterable[object], order: tuple[str, ...]) -> str:
    given = [str(v) for v in values if str(v) in order]
    return max(given, key=order.index, default=order[0])


def _fahrenheit(celsius: float) -> int:
    return int(5 * ((celsius * 9 / 5 + 32) // 5))


def iron_for(limit: float, decided_by: str, knowledge: Knowledge) -> report.IronReport:
    """The hottest setting at or below the limit (°C), by the cooler edition of ISO 3758.

    A limit just under the lowest setting still allows a cool iron held at the limit; far under it, none.
    """
    levels = sorted(knowledge.iron.values(), key=lambda e: e.level)
    chosen = max((e for e in levels if e.max_c <= limit), key=lambda e: e.level, default=levels[0])
    max_c = chosen.max_c
    if chosen.level == 0 and len(levels) > 1 and limit >= 0.8 * levels[1].max_c:
        chosen, max_c = levels[1], limit
    return report.IronReport(
        chosen.level,
        int(max_c),
        _fahrenheit(max_c) if max_c else 0,
        decided_by,
        chosen.dial,
        chosen.dots,
        int(chosen.max_c_2023),
    )


def press_sheet(case: Case, knowledge: Knowledge) -> report.PressReport:
    """How the cloth of a case, and its features, are pressed."""
    profile = case.profile
    findings = inference_for(knowledge).findings(
        profile,
        with_parts(case.asks, knowledge),
        list(case.context),
        ("press", "safety", "stop", "caution"),
        general=("press", "safety", "stop"),
    )
    findings = [f for f in findings if f.rule.then.kind == "press" or f.rule.id in _about_heat(f)]
    single, lists = _settings(findings)
    limit, decided = (
        profile.known["heat_limit"].range.low,
        profile.decided.get("heat_limit", profile.known["heat_limit"].because),
    )
    sure_caps: list[float] = []
    for finding in findings:
        # A cap that only may apply stays a caution; heat that is sure to harm is what the iron is set by.
        cap = finding.rule.then.sheet.get("max_c") if finding.sure else None
        if not isinstance(cap, (int, float)) or isinstance(cap, bool):
            continue
        sure_caps.append(float(cap))
        if cap < limit:
            named = next((text for text in finding.because if not any(c.isdigit() for c in text)), "")
            limit, decided = float(cap), named or decided
    iron = iron_for(limit, decided, knowledge)
    hotter = iron_for(max(limit, min([profile.known["heat_limit"].range.high, *sure_caps])), decided, knowledge)
    iron.otherwise_c = hotter.max_c if hotter.level > iron.level else 0
    steam = _safest(single.get("steam", ()), STEAM)
    if iron.level <= 1 and steam == "yes":  # the lowest setting is a dry one in ISO 3758:2012
        steam = "care"
    without = frozenset(w for w, gone in (("iron", iron.level == 0), ("steam", steam == "no" or iron.level == 0)) if gone)
    never = lists.get("never", [])
    findings = [f for f in findings if f.rule.then.kind != "press" or _stands(f, without, "iron")]
    _, lists = _settings(findings)
    if iron.level == 0:  # "no iron" says it once
        never = lists.get("never", [])
    return report.PressReport(
        iron,
        steam,  # type: ignore[arg-type]
        any(v is True for v in single.get("press_cloth", ())),
        _safest(single.get("side", ()), SIDES),  # type: ignore[arg-type]
        lists.get("how", []),
        never,
        lists.get("tools", []),
        findings_report(findings, knowledge),
        cloth_report(profile, knowledge),
    )


def _about_heat(finding: Finding) -> set[str]:
    """Safety and stop findings belong on the pressing sheet only where they set one of its lines or speak of heat."""
    text = f"{finding.rule.then.say} {finding.rule.then.do}".lower()
    hot = any(word in text for word in ("iron", "steam", "hot", "heat", "press", "flame", "burn"))
    if any(word in text for word in ("knife", "hot-cut", "heat-cut", "flame test", "tweezers")):  # another heat than the iron's
        hot = "iron" in text.split()
    if finding.rule.then.kind == "caution":
        hot = False
    return {finding.rule.id} if sets_lines_for(finding, PRESS_LINES) or hot else set()


def sets_lines_for(finding: Finding, lines: frozenset[str]) -> bool:
    """Whether a finding sets any of these lines of a sheet."""
    return bool(lines & finding.rule.then.sheet.keys())


def prewash_sheet(
    case: Case, knowledge: Knowledge, care: str = "", layers: Mapping[str, str] | None = None
) -> report.PrewashReport:
    """How the cloth of a case is prepared for the care that the garment will get.

    `layers` maps what else goes into the garment (role) to its cloth in words: they are held against each other.
    """
    profile = case.profile
    findings = inference_for(knowledge).findings(
        profile,
        with_parts(case.asks, knowledge),
        list(case.context),
        ("prewash",),
        general=("prewash", "stop", "caution"),
    )
    findings = [f for f in findings if f.rule.then.kind != "caution" or sets_lines_for(f, PREWASH_LINES)]
    single, lists = _settings(findings)
    methods = knowledge.methods
    sure_methods = [
        str(f.rule.then.sheet["method"]) for f in findings if f.sure and f.rule.then.sheet.get("method") in methods
    ]
    may_methods = [str(f.rule.then.sheet["method"]) for f in findings if f.rule.then.sheet.get("method") in methods]
    wash = profile.known["wash_limit"].range
    ranked = sorted(methods.values(), key=lambda m: m.rank)
    default = ranked[0].id if wash.low >= 30 else next((m.id for m in ranked if m.rank >= 3), ranked[0].id)
    method = methods[max(sure_methods or may_methods or [default], key=lambda m: methods[m].rank)]
    if wash.high <= 0 and method.water:
        method = next(m for m in ranked if not m.water)
    if not method.water:  # what presupposes a wash is no part of a sheet without one
        findings = [
            f for f in findings
            if f.rule.then.kind != "prewash" or _stands(f, DRY, "water") or f.rule.then.sheet.get("method") == method.id
        ]  # fmt: skip
        single, lists = _settings(findings)
    wanted = wash_wanted(care)
    for name in case.context:
        wanted = wanted if wanted is not None else knowledge.context[name].wash
    cap = min(
        [float(v) for v in single.get("wash_c", ()) if isinstance(v, (int, float))]
        + [wash.high if wash.low <= 0 else wash.low]
    )
    max_c = int(min(cap, wanted)) if wanted is not None else int(cap)
    if method.rank >= 3 and method.water:
        max_c = min(max_c, 30) if max_c else 30
    if not method.water:
        max_c = 0
    notes: list[str] = []
    if wanted is not None and wash.low < wanted and (wanted > cap or not method.water):
        takes = f"at most {int(cap)} °C" if cap > 0 else "no water"
        notes.append(f"the care wanted, a wash at {wanted} °C, is more than this cloth takes ({takes}); plan another care or another cloth")
    along, across = profile.known["shrink_along"], profile.known["shrink_across"]
    s_low, s_high = max(0.0, along.range.low) / 100, max(0.0, along.range.high) / 100
    needless = any(v is False for v in single.get("needed", ()))
    asked = [f for f in findings if f.rule.then.sheet.get("method") or f.rule.then.sheet.get("needed") is True]
    prewashed = profile.marks.get("trait.prewashed", (False, False))[0]
    left_alone = method.id == ranked[-1].id
    needed = not (prewashed or left_alone) and (along.range.high > 1 or bool(asked)) and not (needless and along.range.high <= 2.5)
    times = max([int(v) for v in single.get("times", ()) if isinstance(v, (int, float))], default=1) if method.water else 1
    dry = [str(f.rule.then.sheet["dry"]) for f in sorted(findings, key=lambda f: not f.sure) if "dry" in f.rule.then.sheet]
    cloth = cloth_report(profile, knowledge)
    cloth.notes.extend(notes)
    outer = Layer("outer", profile.described.given, profile)
    others = layers_of(layers or {}, knowledge)
    left, write_down = left_after(profile, knowledge)
    return report.PrewashReport(
        needed=needed,
        method=method.id,
        how=method.how,
        max_c=max_c,
        dry=dry[0] if dry else method.dry,
        times=times,
        shrinkage=report.Shrinkage(_span(along.range), _span(across.range), f"{along.evidence}: {along.because}"),
        buy_factor=report.Span(round(1 / (1 - s_low), 3), round(1 / (1 - s_high), 3)),
        before=lists.get("before", []),
        after=lists.get("after", []),
        findings=findings_report(findings, knowledge),
        cloth=cloth,
        decided_by=profile.decided.get("wash_limit", profile.known["wash_limit"].because),
        layers=[_layer_report(layer, case, knowledge, care) for layer in others],
        conflicts=conflicts_of(outer, others, knowledge, wanted, case.context) if others else [],
        together=together(outer, others, knowledge) if others else None,
        left_after=left,
        write_down=write_down,
    )


def _layer_report(layer: Layer, case: Case, knowledge: Knowledge, care: str) -> report.LayerReport:
    own = prewash_sheet(Case(layer.profile, (), case.context), knowledge, care)
    role = role_of(layer, knowledge)
    wash, heat, bleed = (layer.known(name) for name in ("wash_limit", "heat_limit", "bleed"))
    return report.LayerReport(
        layer.role, own.cloth, _span(wash), _span(heat), own.shrinkage, _span(bleed),
        own.needed, own.method, own.how, own.max_c, role.about, role.narrow,
    )  # fmt: skip


def _span(value: Range) -> report.Span:
    return report.Span(round(value.low, 1), round(value.high, 1))
