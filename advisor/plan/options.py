"""What each part of each make could be cut from: every piece of the stash held against it, with a reason where it is not."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field, replace

from advisor.advise import Case, judge
from advisor.asks import Ask, read_ask
from advisor.errors import Unclear
from advisor.knowledge import Knowledge
from advisor.layers import Layer, conflicts_of
from advisor.log.done import Done
from advisor.makes import Make, NeededRow, asks_of, context_of
from advisor.need.buying import rows_for
from advisor.picking import fits_envelope
from advisor.plan.layers import layer_fit
from advisor.plan.tables import PlanTable
from advisor.profile import Profile
from advisor.sewing import hang_days
from advisor.sheets import prewash_sheet
from advisor.stash.enough import Enough, LayingTables, enough
from advisor.stash.pieces import Piece, key_of
from advisor.stash.shelf import profile_of_piece
from advisor.wardrobe.garments import WardrobeTable, family_of

AVOID = "avoid"
Fit = tuple[float, str, str]
"""Score 0 to 100, verdict, and why not ('' where it serves)."""


@dataclass(frozen=True)
class Part:
    """One part of a make's table of cloth: its lines, what is asked of its cloth, or the cloth that is named for it."""

    name: str
    rows: tuple[NeededRow, ...]
    asks: tuple[Ask, ...]
    layer: str = ""

    @property
    def table_m(self) -> float:
        """The shortest length of its lines, which is the one at the widest cloth."""
        return min(r.length_m for r in self.rows)


@dataclass(frozen=True)
class Wanted:
    """A make as it is planned: its parts (main first), its circumstances, its hours (taken, where its file says none)."""

    make: Make
    parts: tuple[Part, ...]
    context: tuple[str, ...]
    hours: float
    hours_taken: bool


@dataclass(frozen=True)
class Shelf:
    """A piece of the stash with its profile and its family of colours."""

    piece: Piece
    profile: Profile
    colour: str


@dataclass
class Option:
    """One piece for one part: whether it is enough, how well it serves, or why it is out of the question."""

    shelf: Shelf
    enough: Enough
    fit: float = 0.0
    verdict: str = AVOID
    wash_days: int = 0
    hang_days: int = 0
    wash_how: str = ""
    why_not: str = ""
    notes: list[str] = field(default_factory=list)


def wanted_of(make: Make, knowledge: Knowledge, table: PlanTable) -> Wanted:
    """A make with its parts; raises `Unclear` where its table of cloth is missing or leaves a choice open."""
    rows = rows_for(make, "", "")
    asks = tuple(asks_of(make, knowledge))
    context = tuple(context_of(make, knowledge))
    if not asks and not context:
        raise Unclear(f"make '{make.make}'", "at least one feature")
    for name in make.part_features:
        if name not in rows:
            raise Unclear(f"part '{name}' in part_features of '{make.make}'", f"one of {', '.join(rows)}")
    main = "main" if "main" in rows else next(iter(rows))
    parts = []
    for name in (main, *(n for n in rows if n != main)):
        own = make.part_features.get(name)
        asked = tuple(read_ask(text, knowledge) for text in own) if own is not None else asks
        layer = make.layers.get(name, "") if own is None and name != main else ""
        parts.append(Part(name, tuple(rows[name]), asked, layer))
    hours = make.hours if make.hours is not None else table.hours.is_
    return Wanted(make, tuple(parts), context, hours, make.hours is None)


def shelves_of(
    pieces: Iterable[Piece], log: Sequence[Done], knowledge: Knowledge, laying: LayingTables, colours: WardrobeTable
) -> tuple[list[Shelf], list[str]]:
    """The pieces that have some length and can be read, and a line for each that cannot. Pieces alike share a profile."""
    found: list[Shelf] = []
    not_read: list[str] = []
    own = {key_of(done.piece) for done in log if done.piece and not done.gone}
    alike: dict[object, Profile] = {}
    for piece in pieces:
        if not piece.lengths_m:
            continue
        key: object = (piece.description, piece.tests, piece.prewashed, piece.shrank_along_pct, piece.shrank_across_pct)
        key = piece.name if key_of(piece.name) in own else key
        try:
            if key not in alike:  # its own width and length are no part of what makes it the same cloth as another
                alike[key] = profile_of_piece(replace(piece, width_cm=None, lengths_m=()), log, knowledge, laying)
        except Unclear as error:
            not_read.append(f"{piece.name}: {error.line()}")
            continue
        found.append(Shelf(piece, alike[key], family_of(f"{piece.description} {piece.name}", colours)))
    return found, not_read


def options_of(
    wanted: Wanted,
    shelves: Sequence[Shelf],
    knowledge: Knowledge,
    laying: LayingTables,
    table: PlanTable,
    keep: int,
    step: Callable[[], None] = lambda: None,
) -> list[list[Option]]:
    """For each part every piece, the best first, then those that cannot serve, the least short first.

    Only a piece that is long enough is judged, and only the `keep` best of those are asked how long they dry and hang.
    """
    found = []
    for number, part in enumerate(wanted.parts):
        layer = _layer(part, knowledge)
        fits: dict[int, Fit] = {}
        options = [_option(wanted, part, layer, shelf, number == 0, knowledge, laying, fits, step) for shelf in shelves]
        good = sorted((o for o in options if not o.why_not), key=lambda o: (-o.fit, o.enough.needed_m.high, o.shelf.piece.name))
        for option in good[keep:]:
            option.why_not = f"{keep} others suit better"
        for option in good[:keep]:
            _days(option, wanted, part, number == 0, knowledge, table)
        rest = sorted((o for o in options if o.why_not), key=lambda o: (o.enough.short_m.low, -o.fit))
        found.append([*good[:keep], *rest])
    return found


def _layer(part: Part, knowledge: Knowledge) -> Profile | None:
    if not part.layer:
        return None
    from advisor.advise import profile_of

    return profile_of(part.layer, knowledge)


def _case(wanted: Wanted, part: Part, profile: Profile) -> Case:
    return Case(profile, part.asks, tuple(dict.fromkeys([*profile.described.context, *wanted.context])))


def _option(
    wanted: Wanted, part: Part, layer: Profile | None, shelf: Shelf, main: bool, knowledge: Knowledge, laying: LayingTables,
    fits: dict[int, Fit], step: Callable[[], None],
) -> Option:  # fmt: skip
    """One piece for one part; `fits` holds what was judged before, by the profile that alike pieces share."""
    got = enough(shelf.piece, shelf.profile, part.rows, wanted.make, knowledge, laying, widest=main)
    option = Option(shelf, got, notes=list(got.notes))
    step()
    if got.why_not:
        option.why_not = got.why_not
    elif got.needed_m.expected > got.longest_m + 1e-9:
        option.why_not = _short(got, shelf.piece)
    else:
        known = id(shelf.profile)
        if known not in fits:
            fits[known] = _fit(wanted, part, layer, shelf.profile, knowledge)
        option.fit, option.verdict, option.why_not = fits[known]
    return option


def _fit(wanted: Wanted, part: Part, layer: Profile | None, profile: Profile, knowledge: Knowledge) -> Fit:
    if layer is not None:
        fit, verdict = layer_fit(layer, profile, knowledge)
        return fit, verdict, f"too unlike the '{part.layer}' that the make names" if verdict == AVOID else ""
    against = fits_envelope(profile, wanted.make)
    if against:
        return 0.0, AVOID, against[0]
    judgement = judge(_case(wanted, part, profile), knowledge)
    fit, limit = judgement.score.expected, judgement.limited_by
    if judgement.verdict != AVOID:
        return fit, judgement.verdict, ""
    return fit, AVOID, f"avoid, {fit:.0f} of 100" + (f": {limit.id.replace('-', ' ')}" if limit else "")


def _short(got: Enough, piece: Piece) -> str:
    """Why no length serves: reserved for others, only together, or short by so much."""
    lacks = got.needed_m.expected - got.longest_m
    said = f"{lacks:.2f} m short" if lacks >= 0.01 else "a little short"
    if max(piece.lengths_m) >= got.needed_m.expected:
        makes = ", ".join(f"'{r.make}'" for r in piece.reserved)
        return f"{said}: {piece.reserved_m:g} m are reserved for {makes}"
    if got.free_m >= got.needed_m.expected:
        return f"{said}: long enough only in its {len(piece.lengths_m)} lengths together"
    return said


def _days(option: Option, wanted: Wanted, part: Part, main: bool, knowledge: Knowledge, table: PlanTable) -> None:
    case = _case(wanted, part, option.shelf.profile)
    sheet = prewash_sheet(case, knowledge, wanted.make.care)
    option.notes += [note for note in sheet.cloth.notes if note not in option.notes]
    if sheet.needed and not option.shelf.piece.prewashed:
        option.wash_days = table.wash_days[sheet.method] + round(table.wash_days_again.is_ * (sheet.times - 1))
        option.wash_how = knowledge.methods[sheet.method].names[0]
    if main:
        option.hang_days = hang_days(case, knowledge)


def clash_of(
    one: Shelf, part: Part, other: Shelf, wanted: Wanted, knowledge: Knowledge, heavier: float
) -> tuple[str, bool]:
    """(what is wrong, surely) between the main cloth and that of another part; ('', False) where they go together."""
    role = part.name
    outer = Layer("main cloth", one.piece.description, one.profile)
    inner = Layer(role, other.piece.description, other.profile)
    found = [c for c in conflicts_of(outer, [inner], knowledge, None, wanted.context) if c.kind in ("wash", "bleed", "shrinkage")]
    sure = next((c for c in found if c.certainty == "sure" and c.kind != "shrinkage"), None)
    if sure:
        return sure.say, True
    if found:
        return f"{found[0].say} {found[0].do}", False
    main, second = one.profile.known["weight"].range, other.profile.known["weight"].range
    if not part.layer and second.mid > heavier * main.mid:
        return f"The {role} is much heavier than the main cloth ({second.mid:.0f} and {main.mid:.0f} g/m²).", False
    return "", False
