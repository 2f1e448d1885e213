"""The story of a run: words → cloth → profile → findings → score → report.

`check`, `press`, `prewash` and `pick` are the calls; the command line, JSON and every other view show what they
return. All raise `Unclear` for what cannot be understood.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass
from typing import TYPE_CHECKING

from advisor import report, words
from advisor.asks import Ask, read_asks, read_context
from advisor.errors import Unclear
from advisor.infer import Finding, inference_for, kinds_in_order
from advisor.judge import Judged, Met, Score, judge_context, judge_feature, judge_whole
from advisor.knowledge import Knowledge, load
from advisor.model import Effect, Entry, FindingKind
from advisor.profile import Profile, build, traits_of
from advisor.stash.place import piece_named, there
from advisor.words_form import phrase

if TYPE_CHECKING:
    from advisor.makes import Make

CHECK_KINDS: tuple[FindingKind, ...] = ("stop", "caution", "safety", "handling", "notion")
CHECK_GENERAL: tuple[FindingKind, ...] = ("stop", "caution", "safety")


@dataclass(frozen=True)
class Case:
    """What is judged: one cloth as profiled, the features asked, and the circumstances. Everything else loops over `judge`."""

    profile: Profile
    asks: tuple[Ask, ...]
    context: tuple[str, ...] = ()


@dataclass
class Judgement:
    """A judged case, before it is put into words."""

    case: Case
    features: list[Judged]
    circumstances: list[Judged]
    findings: list[Finding]
    score: Score
    verdict: str

    @property
    def limited_by(self) -> Judged | None:
        """The feature with the lowest expected score."""
        return min(self.features or self.circumstances, key=lambda f: f.score.expected, default=None)


def profile_of(cloth: str, knowledge: Knowledge) -> Profile:
    """The profile of a cloth in words or of a piece of the stash, with the traits that follow by rule."""
    name = piece_named(cloth)
    if name:
        from advisor.stash.shelf import named

        return named(name, knowledge)
    profile = build(words.describe(cloth, knowledge), knowledge)
    inference_for(knowledge).derive(profile)
    return profile


def case_of(
    cloth: str | Profile, features: Iterable[str | Ask], knowledge: Knowledge, context: Sequence[str] = ()
) -> Case:
    """The case for a cloth in words (or an own profile) and features in words."""
    profile = profile_of(cloth, knowledge) if isinstance(cloth, str) else cloth
    asks = tuple(a for f in features for a in (read_asks(f, knowledge) if isinstance(f, str) else [f]))
    said = [*profile.described.context, *context]
    return Case(profile, asks, tuple(dict.fromkeys(said)))


def with_parts(asks: Iterable[Ask], knowledge: Knowledge) -> list[Ask]:
    """The asks and, below each whole garment, the parts it is made of."""
    found: dict[str, Ask] = {}

    def add(ask: Ask) -> None:
        if ask.feature not in found:
            found[ask.feature] = ask
            for part in knowledge.features[ask.feature].parts:
                add(Ask(part.replace("-", " "), part))

    for ask in asks:
        add(ask)
    return list(found.values())


def judge(case: Case, knowledge: Knowledge) -> Judgement:
    """Judges one case."""
    findings = inference_for(knowledge).findings(
        case.profile, with_parts(case.asks, knowledge), list(case.context), CHECK_KINDS, general=CHECK_GENERAL
    )
    features = [judge_feature(ask, case.profile, findings, knowledge) for ask in case.asks]
    circumstances = [judge_context(c, case.profile, knowledge) for c in case.context if knowledge.context[c].demands]
    score, verdict = judge_whole(features, circumstances, knowledge)
    if any(f.sure and not f.feature and f.rule.then.kind == "stop" for f in findings):
        verdict = "avoid"  # a stop about the cloth itself holds for every make
    return Judgement(case, features, circumstances, findings, score, verdict)


# ---- into words ----


def figure(value: float, decimals: int) -> float:
    rounded = round(value, decimals)
    return int(rounded) if decimals == 0 else rounded


def cloth_report(profile: Profile, knowledge: Knowledge) -> report.ClothReport:
    """The cloth as it was read."""
    described = profile.described
    parts: list[str] = []
    if described.cloth:
        entry = knowledge.cloths[described.cloth]
        parts.append(
            (entry.names[0] if entry.names else entry.id)
            + (f" ({entry.sense})" if entry.sense and entry.sense not in entry.names[0] else "")
        )
    named = {f for mix in described.mixes for f in mix}
    if named:
        shares = [
            f"{_share(profile.shares[f].low, profile.shares[f].high)}{_name(knowledge, 'fibres', f)}"
            for f in profile.shares if f in named
        ]  # fmt: skip
        parts.append(" and ".join(shares))
    parts += [
        _name(knowledge, "structures", s)
        for s in described.structures
        if not described.cloth or s not in knowledge.cloths[described.cloth].structure
    ]
    parts += [_name(knowledge, "finishes", f) for f in described.finishes]
    parts += [_as_said(w, knowledge.describing[w], described) for w in described.words if _tells(w, knowledge)]
    parts += [_as_said(t, knowledge.traits[t], described) for t in described.traits]
    parts += [f"{band} {knowledge.properties[p].name}" for p, band in described.bands]
    for how in ("stated", "measured"):
        for prop_id, value in getattr(described.figures, how).items():
            prop = knowledge.properties[prop_id]
            low, high = figure(value.low, prop.decimals), figure(value.high, prop.decimals)
            span = f"{low:g}" if low == high else f"{low:g} to {high:g}"
            unit = "" if prop.unit == "grade" else f" {prop.unit}"
            label = "" if prop_id == "weight" else f"{prop.name} "
            parts.append(f"{'measured ' if how == 'measured' else ''}{label}{span}{unit}")
    if described.figures.width_cm:
        parts.append(f"{described.figures.width_cm:g} cm wide")
    return report.ClothReport(
        given=described.given,
        read_as=", ".join(dict.fromkeys(p for p in parts if p)),
        not_understood=described.not_understood,
        nearest=described.nearest,
        properties={
            prop_id: report.PropertyReport(
                figure(known.range.low, knowledge.properties[prop_id].decimals),
                figure(known.range.high, knowledge.properties[prop_id].decimals),
                knowledge.properties[prop_id].unit,
                known.evidence,
                known.because,
                known.source,
            )
            for prop_id, known in profile.known.items()
        },
        fibres={f: report.Span(round(r.low, 1), round(r.high, 1)) for f, r in profile.shares.items()},
        traits={trait: "sure" if sure else "may apply" for trait, sure in traits_of(profile)},
        structures=sorted(
            m.removeprefix("structure.")
            for m, (sure, _) in profile.marks.items()
            if sure and m.startswith("structure.")
        ),
        notes=list(profile.notes),
        cloth=described.cloth or None,
    )


def _share(low: float, high: float) -> str:
    return "" if low >= 100 else f"{low:g} % " if low == high else ""


def _as_said(entry_id: str, entry: Entry, described: words.Described) -> str:
    """The one of an entry's names that was said ("black"), not the first ("indigo")."""
    said = described.said.get(entry_id, "")
    return next((n for n in entry.names if phrase(n) == said), entry.names[0] if entry.names else entry_id)


def _tells(word: str, knowledge: Knowledge) -> bool:
    """Whether a describing word changes anything: colours and shop words are read and not repeated."""
    entry = knowledge.describing[word]
    return entry.effect != Effect() or bool(entry.suggests)


def _name(knowledge: Knowledge, kind: str, entry_id: str) -> str:
    entry = knowledge.table(kind)[entry_id]
    return entry.names[0] if entry.names else entry_id.replace("-", " ")


def wants(met: Met, knowledge: Knowledge) -> str:
    """Where a demand's curve is at its best (at least 0.8), in words."""
    prop = knowledge.properties[met.demand.property]
    good = [x for x, y in met.curve if y >= 0.8]
    unit = "" if prop.unit == "grade" else f" {prop.unit}"
    if not good:
        best = max(met.curve, key=lambda p: p[1])[0]
        return f"about {best:g}{unit}"
    low, high = min(good), max(good)
    open_low, open_high = met.curve[0][1] >= 0.8, met.curve[-1][1] >= 0.8
    if open_low and open_high:
        return "any"
    if open_low:
        return f"at most {high:g}{unit}"
    if open_high:
        return f"at least {low:g}{unit}"
    return f"{low:g} to {high:g}{unit}" if low != high else f"about {low:g}{unit}"


def feature_report(
    judged: Judged, profile: Profile, knowledge: Knowledge, notes: Sequence[str] = (), figures: Mapping[str, float] | None = None
) -> report.FeatureReport:
    demands = []
    for met in sorted(judged.met, key=lambda m: -m.loss):
        prop = knowledge.properties[met.demand.property]
        known = profile.known[prop.id].range
        demands.append(
            report.DemandReport(
                prop.id,
                prop.unit,
                report.Span(figure(known.low, prop.decimals), figure(known.high, prop.decimals)),
                wants(met, knowledge),
                report.MetReport(round(met.low, 3), round(met.expected, 3), round(met.high, 3)),
                met.demand.importance,
                met.demand.why,
                met.demand.source,
            )
        )
    return report.FeatureReport(
        judged.id, judged.given, judged.verdict, score_report(judged.score), demands,  # type: ignore[arg-type]
        [feature_report(part, profile, knowledge) for part in judged.parts], list(notes), dict(figures or {}),
    )  # fmt: skip


def score_report(score: Score) -> report.Scored:
    return report.Scored(score.low, score.expected, score.high)


def findings_report(findings: Iterable[Finding], knowledge: Knowledge) -> list[report.FindingReport]:
    """Findings in words, the gravest and surest first; one rule about several features is said once."""
    merged: dict[str, report.FindingReport] = {}
    for finding in findings:
        rule = finding.rule
        if rule.id in merged:
            if finding.feature:
                merged[rule.id].features.append(finding.feature)
            if finding.sure:
                merged[rule.id].certainty = "sure"
            continue
        assert rule.then.kind
        merged[rule.id] = report.FindingReport(
            rule.id, rule.then.kind, "sure" if finding.sure else "may apply", [finding.feature] if finding.feature else [],
            rule.then.say, rule.then.do, list(finding.because), [source_text(rule.source, knowledge)], rule.why, rule.then.effect, list(rule.then.remedies),
        )  # fmt: skip
    order = kinds_in_order()
    return sorted(merged.values(), key=lambda f: (order.index(f.kind), f.effect, f.certainty != "sure", f.id))


def source_text(source: str, knowledge: Knowledge) -> str:
    """A source id with its locator as it is printed."""
    word, _, locator = source.partition(",")
    entry = knowledge.sources.get(word.strip())
    if entry is None:
        return source
    number = f"{entry.number}, " if entry.number and entry.number not in entry.title else ""
    year = f" ({entry.year})" if entry.year else ""
    return f"{number}{entry.title}{year}" + (f",{locator}" if locator else "")


# ---- the calls ----


def check(
    cloth: str,
    features: Iterable[str | Ask],
    *,
    wearer: str = "",
    season: str = "",
    use: str = "",
    care: str = "",
    what_if: Sequence[str] = (),
    deciding: bool = False,
    why: bool = False,
    knowledge: Knowledge | None = None,
) -> report.CheckReport:
    """Does this cloth suit these features? Each feature may carry figures and a place, as a maker says them.

    `deciding` adds the next best test and the remedies, `why` the whole reasoning; `what_if` judges the case changed.
    """
    knowledge = knowledge or load()
    given = [(k, v) for k, v in (("wearer", wearer), ("season", season), ("use", use), ("care", care)) if v]
    case = case_of(cloth, list(features), knowledge, read_context(given, knowledge))
    judgement = judge(case, knowledge)
    if what_if or deciding or why:
        from advisor.decide.answers import decided

        answer = decided(judgement, knowledge, what_if=what_if, deciding=deciding, why=why)
    else:
        answer = check_report(judgement, knowledge)
    remember(answer, cloth, case, [f.id for f in answer.findings], knowledge)
    return answer


def remember(
    answer: report.CheckReport | report.SewReport, cloth: str, case: Case, rules: Iterable[str], knowledge: Knowledge
) -> None:
    """Adds what the maker's own log says of this case; at no cost where no stash was ever begun, and never a fault."""
    path = there()
    if path is None:
        return
    from advisor.log.lessons import for_case

    try:
        answer.lessons = for_case(path, case.profile, piece_named(cloth), [a.feature for a in case.asks], rules, knowledge)
    except Unclear as fault:
        answer.cloth.notes.append(f"your log was not read: {fault.line().rstrip('.')}")


def check_report(judgement: Judgement, knowledge: Knowledge) -> report.CheckReport:
    case = judgement.case
    limit = judgement.limited_by
    return report.CheckReport(
        judgement.verdict,  # type: ignore[arg-type]
        score_report(judgement.score),
        [
            feature_report(j, case.profile, knowledge, a.notes, a.figures)
            for j, a in zip(judgement.features, case.asks, strict=True)
        ],
        findings_report(judgement.findings, knowledge),
        cloth_report(case.profile, knowledge),
        [feature_report(c, case.profile, knowledge) for c in judgement.circumstances],
        limit.id if limit else None,
    )


def press(
    cloth: str, features: Iterable[str | Ask] = (), *, make: Make | None = None, knowledge: Knowledge | None = None
) -> report.PressReport:
    """How the cloth, and the features asked about or those of a make, are pressed."""
    from advisor.sheets import press_sheet

    knowledge = knowledge or load()
    return press_sheet(case_for(cloth, features, make, knowledge), knowledge)


def prewash(
    cloth: str,
    *,
    care: str = "",
    features: Iterable[str | Ask] = (),
    make: Make | None = None,
    layers: Mapping[str, str] | None = None,
    knowledge: Knowledge | None = None,
) -> report.PrewashReport:
    """How the cloth is prepared before cutting, for the care that the garment will get.

    `layers` (role → cloth in words) are added to those of the make and held against the cloth and each other.
    """
    from advisor.sheets import prewash_sheet

    knowledge = knowledge or load()
    care = care or (make.care if make else "")
    case = case_for(cloth, features, make, knowledge, care)
    return prewash_sheet(case, knowledge, care, {**(make.layers if make else {}), **(layers or {})})


def sew(
    cloth: str,
    features: Iterable[str | Ask] = (),
    *,
    make: Make | None = None,
    allowance_mm: float | None = None,
    knowledge: Knowledge | None = None,
) -> report.SewReport:
    """How the cloth is sewn into the features asked about, or into a make."""
    from advisor.sewing import sew_sheet

    knowledge = knowledge or load()
    given = allowance_mm if allowance_mm is not None else make.seam_allowance_mm if make else 15.0
    case = case_for(cloth, features, make, knowledge)
    answer = sew_sheet(case, knowledge, given)
    remember(answer, cloth, case, [*(f.id for f in answer.findings), *(s.rule for s in answer.set_by)], knowledge)
    return answer


def inspect(cloth: str, *, metres: float = 3.0, knowledge: Knowledge | None = None) -> report.InspectReport:
    """What to look at when the cloth arrives, while it can still be returned."""
    from advisor.arrival import inspect_sheet

    knowledge = knowledge or load()
    return inspect_sheet(case_of(cloth, [], knowledge), knowledge, metres)


def case_for(
    cloth: str, features: Iterable[str | Ask], make: Make | None, knowledge: Knowledge, care: str = ""
) -> Case:
    """The case of a cloth for features in words and, where given, for a make with its circumstances."""
    from advisor.makes import asks_of, context_of

    asks: list[str | Ask] = [*features, *(asks_of(make, knowledge) if make else [])]
    context = [*(context_of(make, knowledge) if make else []), *read_context([("care", care)] if care else [], knowledge)]
    return case_of(cloth, asks, knowledge, list(dict.fromkeys(context)))


def pick(
    make: object,
    cloths: Iterable[str] = (),
    *,
    what_if: Sequence[str] = (),
    knowledge: Knowledge | None = None,
    progress: Callable[[int, int], None] | None = None,
) -> report.PickReport:
    """Cloths ranked for a make: those given, else all that the knowledge base knows."""
    from advisor.picking import pick_for

    knowledge = knowledge or load()
    answer = pick_for(make, list(cloths), knowledge, progress, what_if)  # type: ignore[arg-type]
    path = there()
    if path is not None:
        from advisor.log.lessons import for_ranking

        with suppress(Unclear):  # a stash that cannot be read spoils no ranking of other cloth
            for_ranking(path, answer, knowledge)
    return answer
