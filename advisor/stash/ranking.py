"""The stash ranked for a make: what suits and is long enough first, and of the rest, in one line, why not.

Pieces that read alike are judged once. The order is that of the judging, with points for what makes a piece handy or due
(`knowledge/lists/pick-stash.yaml`).
"""

from __future__ import annotations

import datetime
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

import msgspec

from advisor import report
from advisor.errors import Unclear
from advisor.knowledge import Knowledge, load
from advisor.lists import read_list
from advisor.log import keeping
from advisor.log.done import Done
from advisor.log.lessons import OF_CLOTH, Asked, Memory, with_parts
from advisor.log.likeness import snapshot
from advisor.makes import Make, NeededRow, asks_of, context_of
from advisor.need.buying import envelope_of, rows_for
from advisor.need.cloth import Amount, after_washing
from advisor.need.ground import Ground
from advisor.need.remnant import what_gives
from advisor.need.reports import PiecePart
from advisor.parallel import mapped, own_folders
from advisor.picking import ORDER
from advisor.picking_many import ManyRows
from advisor.profile import Profile, build
from advisor.stash import store
from advisor.stash.enough import Enough, LayingTables, enough, laying_tables
from advisor.stash.pieces import Piece, key_of
from advisor.stash.shelf import described_piece, profile_of_piece

EARNS = 400
"""From how many pieces on processes are worth their start."""
CHUNK = 320
"""Pieces judged at once: enough for columns to be quick, few enough for word of progress."""
GIVES_FOR, LESSONS_FOR = 12, 30
"""For how many pieces it is worked out what could give, and what the log says: as many as anybody reads."""
YEAR = 365.25
TOGETHER = "together"
"""What `what_gives` calls several changes at once."""
MOST_TOGETHER = 4
"""With this many changes at once it is another garment."""


class Points(msgspec.Struct, forbid_unknown_fields=True):
    """The points of the list; its head says what each is for."""

    source: str
    length_open: float
    length_tight: float
    washed: float
    reserved_here: float
    year_on_shelf: float
    most_for_age: float
    hopeless_pct: float


@dataclass(frozen=True)
class Seen:
    """One piece as it was judged: its row of the ranking (None where it was not judged), its length, or why neither."""

    row: report.PickRow | None
    got: Enough | None
    not_read: str = ""


@dataclass
class _Bench:
    """What every piece is judged with, set up once a process."""

    make: Make
    rows: list[NeededRow]
    log: list[Done]
    knowledge: Knowledge
    laying: LayingTables
    hopeless: float
    expected: int

    def __post_init__(self) -> None:
        self.many = ManyRows(self.make, self.knowledge, self.expected)
        self.own = {key_of(done.piece) for done in self.log if done.piece and not done.gone}
        self.profiles: dict[object, tuple[object, Profile]] = {}
        self.judged: dict[object, report.PickRow] = {}

    def profile(self, piece: Piece) -> tuple[object, Profile]:
        """(what makes two pieces the same cloth, the profile). Pieces with lines in the log are like no other."""
        if key_of(piece.name) in self.own:
            return piece.name, profile_of_piece(piece, self.log, self.knowledge, self.laying)
        text = (piece.description, piece.tests, bool(piece.prewashed))
        shrank = (piece.shrank_along_pct, piece.shrank_across_pct) if piece.prewashed is False else ()
        found = self.profiles.get((text, shrank))
        if found is None:
            # its own width and length are no part of what makes it the same cloth as another
            described = described_piece(replace(piece, width_cm=None, lengths_m=()), self.knowledge, self.laying)
            key = msgspec.json.encode(
                (
                    described.cloth, described.mixes, described.structures, described.finishes, described.words,
                    described.traits, described.context, described.bands, described.figures.stated,
                    described.figures.measured, described.figures.width_cm,
                )
            )  # fmt: skip
            known = self.profiles.get(key)
            if known is None:
                known = self.profiles[key] = (key, build(described, self.knowledge))
            found = self.profiles[(text, shrank)] = known
        return found

    def look(self, pieces: Sequence[Piece]) -> list[Seen]:
        """The pieces as judged. What is hopelessly short is not judged, and of like pieces only one."""
        found: list[tuple[object, Enough | None] | str] = []
        waiting: dict[object, Profile] = {}
        for piece in pieces:
            try:
                key, profile = self.profile(piece)
            except Unclear as error:
                found.append(error.line())
                continue
            got = self._length(piece, profile)
            if got and self._hopeless(piece, got):
                found.append((None, got))
                continue
            found.append((key, got))
            if key not in self.judged:
                waiting[key] = profile
        self.judged.update(zip(waiting, self.many.rows(list(waiting.values())), strict=True))
        return [
            Seen(None, None, one) if isinstance(one, str) else Seen(self.judged[one[0]] if one[0] is not None else None, one[1])
            for one in found
        ]

    def _length(self, piece: Piece, profile: Profile) -> Enough | None:
        if not (self.rows and piece.lengths_m):
            return None
        return enough(piece, profile, self.rows, self.make, self.knowledge, self.laying)

    def _hopeless(self, piece: Piece, got: Enough) -> bool:
        """Whether a piece is short beyond what anything could give, even if what is reserved of it were released."""
        short = got.short_m.low - (max(piece.lengths_m) - got.longest_m)
        return got.needed_m.low > 0 and short > self.hopeless * got.needed_m.low


_bench: list[_Bench] = []


def _set_up(make: Make, rows: list[NeededRow], log: list[Done], folders: tuple[Path, ...], hopeless: float, expected: int) -> None:
    knowledge = load(folders)
    _bench[:] = [_Bench(make, rows, log, knowledge, laying_tables(knowledge), hopeless, expected)]


def _look_at(pieces: Sequence[Piece]) -> list[Seen]:
    return _bench[0].look(pieces)


def main_rows(make: Make, view: str = "", size: str = "") -> tuple[list[NeededRow], str]:
    """The table's lines for the main cloth, and a note where something had to be taken for granted.

    Without a table no length can be judged; where the make leaves view or size open, the one that takes most is taken.
    """
    if not make.cloth_needed:
        return [], "the make has no table of the cloth it takes (cloth_needed), so lengths are not judged"
    note = ""
    try:
        parts = rows_for(make, view, size)
    except Unclear:
        if view or size:
            raise
        most = max(make.cloth_needed, key=lambda row: row.length_m * row.width_cm)
        parts = rows_for(make, most.view, most.size)
        said = ", ".join(f"{name} {value}" for name, value in (("view", most.view), ("size", most.size)) if value)
        note = f"reckoned for {said}, which takes most; --view and --size say otherwise"
    return parts.get("main") or next(iter(parts.values())), note


def days_on_shelf(piece: Piece, today: datetime.date) -> int | None:
    """Days since a piece was bought, or put into the stash; of a month or a year, from its middle."""
    said = piece.bought or piece.added
    if not said:
        return None
    year, month, day = (int(part) if part else 0 for part in (*said.split("-"), "", "")[:3])
    return max(0, (today - datetime.date(year, month or 7, day or (15 if month else 1))).days)


def rank_stash(
    make: Make,
    path: Path,
    knowledge: Knowledge,
    *,
    view: str = "",
    size: str = "",
    progress: Callable[[int, int], None] | None = None,
    today: datetime.date | None = None,
) -> tuple[report.StashPart, list[report.LessonReport]]:
    """Every piece of a stash that is not used up, ranked for a make, and what the log says of its features; raises `Unclear`."""
    with store.reading(path) as db:
        held, log = store.pieces(db), keeping.everything(db)
    part, lessons = rank_pieces(make, held, log, knowledge, view=view, size=size, progress=progress, today=today)
    part.stash = str(path)
    return part, lessons


def rank_pieces(
    make: Make,
    held: Sequence[Piece],
    log: Sequence[Done],
    knowledge: Knowledge,
    *,
    view: str = "",
    size: str = "",
    progress: Callable[[int, int], None] | None = None,
    today: datetime.date | None = None,
) -> tuple[report.StashPart, list[report.LessonReport]]:
    """The pieces given, ranked for a make, and what the log given says of its features."""
    features = [ask.feature for ask in asks_of(make, knowledge)]
    if not features and not context_of(make, knowledge):
        raise Unclear(f"make '{make.make}'", "at least one feature")
    rows, note = main_rows(make, view, size)
    points = read_list("pick-stash", Points, knowledge.folders)
    pieces = [p for p in held if p.lengths_m or not p.cuts]
    seen = mapped(
        _look_at, pieces, start=_set_up,
        start_with=(make, rows, list(log), own_folders(knowledge), points.hopeless_pct / 100, len(pieces)),
        earns=EARNS, chunk=CHUNK, progress=progress,
    )  # fmt: skip
    day = today or datetime.date.today()
    good: list[tuple[report.StashRow, Piece]] = []
    bad: list[tuple[report.StashRow, Piece]] = []
    not_read = []
    for piece, one in zip(pieces, seen, strict=True):
        if one.not_read:
            not_read.append(f"{piece.name}: {one.not_read}")
            continue
        row = _row(piece, one, make, points, day, bool(rows))
        (bad if row.why_not else good).append((row, piece))
    good.sort(key=lambda pair: (ORDER[pair[0].verdict or "avoid"], -pair[0].merit, pair[0].piece))
    bad.sort(key=lambda pair: (_how_far(pair[0]), pair[0].short_m or 0.0, -pair[0].merit, pair[0].piece))
    laying = laying_tables(knowledge)
    for row, piece in bad[:GIVES_FOR]:
        if row.short_m and row.width_cm and row.verdict and row.verdict != "avoid":
            _gives(row, profile_of_piece(piece, log, knowledge, laying), make, features, knowledge, laying)
    lessons = _lessons([*good[:LESSONS_FOR], *bad[:GIVES_FOR]], features, log, knowledge, laying)
    part = report.StashPart(
        "", len(pieces), [row for row, _ in good], [row for row, _ in bad], not_read, [note] if note else []
    )
    return part, lessons


def _row(piece: Piece, one: Seen, make: Make, points: Points, day: datetime.date, judged_length: bool) -> report.StashRow:
    """One piece's row: its fit, its length, its points and, where it is turned down, the reason."""
    fit, got = one.row, one.got
    open_notes: list[str] = []
    if got and got.why_not and not got.width_cm:  # nobody knows its width, so nobody knows whether it is enough
        open_notes = [got.why_not]
        got = None
    others = [r for r in piece.reserved if r.make.casefold() != make.make.casefold()]
    lacks = got.needed_m.expected - got.longest_m if got and not got.why_not else 0.0
    row = report.StashRow(
        piece.name, piece.description,
        fit.verdict if fit else None, fit.score if fit else None, fit.limited_by if fit else None,
        fit.watch if fit else None, fit.watch_say if fit else None, got.serves if got else "not known",
        report.Three(got.needed_m.low, got.needed_m.expected, got.needed_m.high) if got and got.needed_m.high else None,
        max(piece.lengths_m, default=None), got.free_m if got else piece.free_m, piece.left_m,
        round(lacks, 3) if lacks > 1e-9 else None, got.width_cm or None if got else piece.width_cm, piece.prewashed,
        [f"{r.metres:g} m for {r.make}" for r in others], len(others) < len(piece.reserved), days_on_shelf(piece, day),
        piece.kept, notes=list(got.notes) if got else open_notes,
    )  # fmt: skip
    merit, row.because = _points(row, points, judged_length)
    row.merit = round(merit + (fit.score.expected if fit else 0.0), 1)
    row.why_not = _why_not(row, fit, got, piece)
    return row


def _how_far(row: report.StashRow) -> int:
    """How far from doing a piece is: it suits, it was not judged, it does not suit."""
    return 1 if row.verdict is None else 2 if row.verdict == "avoid" else 0


def _points(row: report.StashRow, points: Points, judged_length: bool) -> tuple[float, list[str]]:
    """The points beside the score, and for what."""
    found: list[tuple[float, str]] = []
    if row.reserved_here:
        found.append((points.reserved_here, "reserved for this make"))
    if judged_length and row.enough == "not known":
        found.append((points.length_open, f"its {'length' if row.longest_m is None else 'width'} is not noted"))
    elif row.enough == "maybe":
        found.append((points.length_tight, "just long enough"))
    if row.prewashed:
        found.append((points.washed, "pre-washed"))
    if row.days_on_shelf:
        years = row.days_on_shelf / YEAR
        if years >= 1:
            said = f"{years:.0f} years on the shelf" if years >= 1.5 else "a year on the shelf"
            found.append((min(points.most_for_age, points.year_on_shelf * years), said))
    return sum(value for value, _ in found), [said for _, said in found]


def _why_not(row: report.StashRow, fit: report.PickRow | None, got: Enough | None, piece: Piece) -> str:
    """Why a piece is turned down, in a line; '' where it is not."""
    if fit and fit.notes:
        return fit.notes[0]
    if fit and fit.verdict == "avoid":
        limit = f", because of its {fit.limited_by.replace('-', ' ')}" if fit.limited_by else ""
        return f"does not suit: {fit.score.expected:.0f} of 100{limit}"
    if got is None or not (got.why_not or row.short_m):
        return ""
    if got.why_not:
        return got.why_not
    said = f"{_metres(row.short_m or 0.0)} short"
    if row.reserved and max(piece.lengths_m) >= got.needed_m.expected:
        return f"{said}, as {', '.join(row.reserved)} is reserved"
    if got.free_m >= got.needed_m.expected:
        return f"{said} in one length; its {len(piece.lengths_m)} lengths together would do if every pattern piece fits one"
    return said


def _metres(value: float) -> str:
    """A shortage, rounded up to the next 5 cm so that nobody counts on less."""
    step = 0.05
    return f"{max(step, -(-value // step) * step):.2f}".rstrip("0").rstrip(".") + " m"


def _gives(
    row: report.StashRow, profile: Profile, make: Make, features: list[str], knowledge: Knowledge, laying: LayingTables
) -> None:
    """Adds to a row that is short what could give, the least change first."""
    assert row.needed_m is not None
    width, short = row.width_cm or 0.0, row.short_m or 0.0
    shrinks = profile.known["shrink_across"].range
    wide = Amount.of([after_washing(width, max(0.0, s) / 100) for s in (shrinks.low, shrinks.mid, shrinks.high)])
    needed = Amount(row.needed_m.low, row.needed_m.expected, row.needed_m.high)
    have = needed.expected - short
    hand = PiecePart(have, width, Amount(have, have, have), wide, "no", needed.each(lambda metres: max(0.0, metres - have)))
    one_way = any(profile.marks.get(f"trait.{trait}", (False, False))[0] for trait in laying.laying.one_way.sure)
    base = Ground(knowledge.folders, width_cm=width)
    lines = what_gives(hand, needed, base, [envelope_of(p) for p in make.pieces], features, one_way)
    helping = [line for line in lines if line.enough != "no" and line.do.count(",") < MOST_TOGETHER]
    row.gives = [line.do for line in helping]
    if helping:
        first = min(helping, key=lambda line: line.enough != "yes")
        do = first.do.rstrip(".")
        how = f"with {do.partition(': ')[2]}" if first.give == TOGETHER else f"if you {do[:1].lower()}{do[1:]}"
        row.why_not += f"; {'would' if first.enough == 'yes' else 'might'} do {how}"


def _lessons(
    pairs: Sequence[tuple[report.StashRow, Piece]], features: list[str], log: Sequence[Done], knowledge: Knowledge,
    laying: LayingTables,
) -> list[report.LessonReport]:  # fmt: skip
    """What the log says of each piece, on its row, and of the make's features, whatever the cloth."""
    memory = Memory.of(log, knowledge)
    if not memory.lines:
        return []
    asked = Asked(with_parts(features, knowledge))
    said: set[tuple[int, str]] = set()
    for row, piece in pairs:
        profile = profile_of_piece(piece, log, knowledge, laying)
        row.lessons = [one for one in memory.recall(snapshot(profile), piece.name, asked) if one.because in OF_CLOTH]
        said |= {(one.entry, one.line) for one in row.lessons}
    return [one for one in memory.of_features(asked) if (one.entry, one.line) not in said]
