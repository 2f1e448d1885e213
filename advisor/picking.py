"""Ranking many cloths for one make: a loop over `judge`, on all cores where there are many."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from importlib.util import find_spec
from pathlib import Path

from advisor import report
from advisor.advise import Case, Judgement, findings_report, profile_of, score_report
from advisor.errors import Unclear
from advisor.knowledge import Knowledge, load
from advisor.makes import Make, asks_of, context_of
from advisor.parallel import mapped, own_folders
from advisor.profile import Profile

ORDER = {"suits": 0, "care": 1, "avoid": 2}
EARNS, CHUNK = 1500, 320
"""From how many cloths on processes are worth their start, and how many are judged at once."""
EARNS_ALONE, CHUNK_ALONE = 150, 32
"""The same where every cloth is judged by itself: under what-ifs, or without numpy."""
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
    alone = bool(what_if) or not has_columns()
    different = list(dict.fromkeys(names))
    judged = mapped(
        _judge_all, different, start=_set_up, start_with=(make, tuple(what_if), own_folders(knowledge), len(different)),
        earns=EARNS_ALONE if alone else EARNS, chunk=CHUNK_ALONE if alone else CHUNK, progress=progress,
    )  # fmt: skip
    rows = [row for row in judged if isinstance(row, report.PickRow)]
    rows.sort(key=lambda r: (ORDER[r.verdict], -r.score.expected, r.cloth))
    not_read = [line for line in judged if isinstance(line, str)]
    return report.PickReport(
        make.make, [a.feature for a in asks], rows, not_read, len(names), supposed.read_as if supposed else []
    )


def has_columns() -> bool:
    """Whether many cloths can be judged on columns."""
    return find_spec("numpy") is not None


_bench: list[Callable[[list[Profile]], list[report.PickRow]]] = []
_known: list[Knowledge] = []


def _set_up(make: Make, what_if: tuple[str, ...], folders: tuple[Path, ...], expected: int) -> None:
    """Makes ready, in this process, what every cloth is judged with."""
    knowledge = load(folders)
    _known[:] = [knowledge]
    if not what_if:
        from advisor.picking_many import ManyRows

        _bench[:] = [ManyRows(make, knowledge, expected).rows]
        return
    from advisor.decide.whatif import judged_with, read

    supposed = read(what_if, knowledge)
    asks, context = tuple(asks_of(make, knowledge)), context_of(make, knowledge)

    def supposing(profiles: list[Profile]) -> list[report.PickRow]:
        found = []
        for profile in profiles:
            case = Case(profile, asks, tuple(dict.fromkeys([*profile.described.context, *context])))
            judgement = judged_with(case, supposed, knowledge)
            found.append(row_of("", judgement, fits_envelope(judgement.case.profile, make), knowledge))
        return found

    _bench[:] = [supposing]


def _judge_all(names: Sequence[str]) -> list[report.PickRow | str]:
    """A row for each cloth, or why its words are not understood."""
    found: dict[str, report.PickRow | str] = {}
    profiles: dict[str, Profile] = {}
    for name in names:
        try:
            profiles[name] = profile_of(name, _known[0])
        except Unclear as error:
            found[name] = error.line()
    for name, row in zip(profiles, _bench[0](list(profiles.values())), strict=True):
        row.cloth, row.not_understood = name, profiles[name].described.not_understood
        found[name] = row
    return [found[name] for name in names]
