"""Ranking many cloths for one make: a loop over `judge`, on all cores where there are many."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path

from advisor import report
from advisor.advise import Case, Judgement, findings_report, judge, profile_of, score_report
from advisor.errors import Unclear
from advisor.knowledge import Knowledge, load
from advisor.makes import Make, asks_of, context_of
from advisor.parallel import mapped, own_folders
from advisor.profile import Profile

ORDER = {"suits": 0, "care": 1, "avoid": 2}
EARNS = 150
"""From how many cloths on processes are worth their start."""
SHORT_STRETCH = 0.9
"""A cloth may fall short of the envelope's gauge by a tenth, the error of stretching cloth along a ruler."""


def cloths_from_list(path: Path) -> list[str]:
    """The descriptions of a list of cloth, one a row; rows that describe no cloth, such as totals, are passed over."""
    from advisor.listing.descriptions import open_list

    found = [text for _, text in open_list(path).rows() if not isinstance(text, Unclear)]
    if not found:
        raise Unclear(f"list '{path}'", "at least one row that describes a cloth")
    return found


def fits_envelope(profile: Profile, make: Make) -> list[str]:
    """What the pattern's envelope says against this cloth, in words; empty where it fits."""
    knit = profile.marks.get("structure.knit", (False, False))
    said = []
    if make.envelope.woven_or_knit == "woven" and knit[0]:
        said.append("the pattern is drafted for woven cloth and this is a knit")
    if make.envelope.woven_or_knit == "knit" and not knit[1]:
        said.append("the pattern is drafted for knits and this is woven")
    for way in ("along", "across"):
        gauge = getattr(make.envelope, f"stretch_{way}")
        if gauge and profile.known[f"stretch_{way}"].range.high < gauge * SHORT_STRETCH:
            said.append(
                f"it stretches {profile.known[f'stretch_{way}'].range.high:.0f} % {way}, the envelope asks for {gauge:g} %"
            )
    return said


def row_of(name: str, judgement: Judgement, against: Sequence[str], knowledge: Knowledge) -> report.PickRow:
    """One cloth's line in the ranking; what the envelope says against it makes it at most `avoid`."""
    findings = [f for f in findings_report(judgement.findings, knowledge) if f.kind in ("stop", "caution")]
    watch = min(findings, key=lambda f: (f.effect, f.certainty != "sure"), default=None)
    verdict, score = judgement.verdict, judgement.score
    limit = judgement.limited_by
    return report.PickRow(
        name, "avoid" if against else verdict, score_report(score), limit.id if limit else None,  # type: ignore[arg-type]
        watch.id if watch else None, against[0] if against else watch.say if watch else None, "", list(against),
    )  # fmt: skip


def pick_for(
    make: Make,
    cloths: list[str],
    knowledge: Knowledge,
    progress: Callable[[int, int], None] | None = None,
    what_if: Sequence[str] = (),
) -> report.PickReport:
    """Ranks cloths for a make, under what-ifs where there are any."""
    asks, context = asks_of(make, knowledge), context_of(make, knowledge)
    if not asks and not context:
        raise Unclear(f"make '{make.make}'", "at least one feature")
    names = cloths or [
        (c.names[0] if c.names else c.id.replace("-", " ")) for c in knowledge.cloths.values() if c.kind == "cloth"
    ]
    supposed = None
    if what_if:
        from advisor.decide.whatif import asks_with, read

        supposed = read(what_if, knowledge)
        asks_with(asks, supposed)  # a swap of what is not there is said before any cloth is judged
    judged = mapped(
        _judge_all, list(dict.fromkeys(names)), start=_set_up, start_with=(make, tuple(what_if), own_folders(knowledge)),
        earns=EARNS, progress=progress,
    )  # fmt: skip
    rows = [row for row in judged if isinstance(row, report.PickRow)]
    rows.sort(key=lambda r: (ORDER[r.verdict], -r.score.expected, r.cloth))
    not_read = [line for line in judged if isinstance(line, str)]
    return report.PickReport(
        make.make, [a.feature for a in asks], rows, not_read, len(names), supposed.read_as if supposed else []
    )


_bench: list[Callable[[str], report.PickRow | str]] = []


def _set_up(make: Make, what_if: tuple[str, ...], folders: tuple[Path, ...]) -> None:
    """Makes ready, in this process, what every cloth is judged with."""
    knowledge = load(folders)
    asks, context = tuple(asks_of(make, knowledge)), context_of(make, knowledge)
    supposed = None
    if what_if:
        from advisor.decide.whatif import judged_with, read

        supposed = read(what_if, knowledge)

    def judged(name: str) -> report.PickRow | str:
        try:
            profile = profile_of(name, knowledge)
        except Unclear as error:
            return error.line()
        case = Case(profile, asks, tuple(dict.fromkeys([*profile.described.context, *context])))
        judgement = judged_with(case, supposed, knowledge) if supposed else judge(case, knowledge)
        return row_of(name, judgement, fits_envelope(judgement.case.profile, make), knowledge)

    _bench[:] = [judged]


def _judge_all(names: Sequence[str]) -> list[report.PickRow | str]:
    return [_bench[0](name) for name in names]
