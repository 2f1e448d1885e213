"""From makes and what the stash holds to the problem that is solved."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date

from advisor.errors import Unclear
from advisor.knowledge import Knowledge
from advisor.log.done import Done
from advisor.log.lessons import Memory
from advisor.makes import Make
from advisor.owned import HOURS_A_WEEK
from advisor.plan.options import Option, Shelf, Wanted, clash_of, options_of, shelves_of, wanted_of
from advisor.plan.problem import BOUGHT, Choice, Cloth, Gap, Job, Pair, Problem
from advisor.plan.tables import PlanTable, Weights, plan_table
from advisor.stash.enough import laying_tables
from advisor.stash.pieces import Piece
from advisor.wardrobe.gaps import Gap as WardrobeGap
from advisor.wardrobe.gaps import gaps_of, share_filled, slots_of
from advisor.wardrobe.garments import Garment, WardrobeTable, adds_of, wardrobe_table

MOST_YEARS = 10
"""How far ahead, and how much work at once, is planned."""


@dataclass(frozen=True)
class Terms:
    """What the maker says of the plan: the day it is made, hours a week and in all, a day for makes without one, weights."""

    today: date
    weights: Weights
    hours_a_week: float | None = None
    hours: float | None = None
    by: date | None = None


@dataclass(frozen=True)
class Held:
    """What the stash's file holds."""

    pieces: Sequence[Piece] = ()
    log: Sequence[Done] = ()
    garments: Sequence[Garment] = ()
    wishes: Sequence[Garment] = ()


@dataclass(frozen=True)
class Plan:
    """All that the answer is written from."""

    terms: Terms
    table: PlanTable
    wanted: list[Wanted]
    shelves: list[Shelf]
    options: list[list[list[Option]]]
    gaps: list[WardrobeGap]
    garments: list[list[Garment]]
    problem: Problem
    origin: dict[int, Option]
    """Choice → the option it was made of; a bought one has none."""
    uneasy: Mapping[Pair, str]
    not_read: list[str]
    memory: Memory
    knowledge: Knowledge


def prepare(
    makes: Sequence[Make], held: Held, terms: Terms, knowledge: Knowledge, progress: Callable[[int, int], None] | None
) -> Plan:
    """Everything that the answer stands on; raises `Unclear` for a make that cannot be planned."""
    table, laying, colours = plan_table(knowledge), laying_tables(knowledge), wardrobe_table(knowledge)
    wanted = [wanted_of(make, knowledge, table) for make in makes]
    hours = sum(w.hours for w in wanted)
    if not hours <= (terms.hours_a_week or HOURS_A_WEEK[1]) * 52 * MOST_YEARS:
        raise Unclear(f"{hours:g} hours of work in these makes", f"at most {MOST_YEARS} years of it")
    shelves, not_read = shelves_of(held.pieces, held.log, knowledge, laying, colours)
    total, done = len(shelves) * sum(len(w.parts) for w in wanted), 0

    def step() -> None:
        nonlocal done
        done += 1
        if progress:
            progress(done, total)

    keep = table.keep + sum(len(w.parts) for w in wanted)
    options = [options_of(w, shelves, knowledge, laying, table, keep, step) for w in wanted]
    gaps = gaps_of(held.garments, slots_of(colours, held.wishes))
    garments = [adds_of(make, knowledge, colours) for make in makes]
    clashes, uneasy = _clashes(wanted, options, shelves, knowledge, table.heavier.is_)
    choices, origin = _choices(wanted, options, shelves, gaps, garments, colours, table)
    problem = Problem(
        tuple(_job(w, terms, table) for w in wanted), tuple(_cloth(s, makes) for s in shelves), tuple(choices),
        tuple(Gap(g.slot.worth, g.missing) for g in gaps), terms.weights, terms.hours,
        terms.hours_a_week / 7 if terms.hours_a_week else None, clashes, frozenset(uneasy),
    )  # fmt: skip
    return Plan(terms, table, wanted, shelves, options, gaps, garments, problem, origin, uneasy, not_read, Memory.of(held.log, knowledge), knowledge)


def _job(wanted: Wanted, terms: Terms, table: PlanTable) -> Job:
    by = wanted.make.wanted_by or terms.by
    if by is not None and abs((by - terms.today).days) > MOST_YEARS * 366:
        raise Unclear(f"the day {by} for '{wanted.make.make}'", f"a day within {MOST_YEARS} years of {terms.today}")
    shares = table.shares
    return Job(
        wanted.make.make, wanted.hours * shares.cut, wanted.hours * shares.sew, wanted.hours * shares.finish,
        (by - terms.today).days if by else None, tuple(p.name for p in wanted.parts),
    )  # fmt: skip


def _own(shelf: Shelf, make: str) -> float:
    """Metres of a piece that are reserved for a make."""
    return sum(r.metres for r in shelf.piece.reserved if r.make.casefold() == make.casefold())


def _cloth(shelf: Shelf, makes: Sequence[Make]) -> Cloth:
    places = {m.make.casefold(): n for n, m in enumerate(makes)}
    piece = shelf.piece
    own = {places[r.make.casefold()]: r.metres for r in piece.reserved if r.make.casefold() in places}
    return Cloth(piece.name, piece.lengths_m, round(piece.reserved_m - sum(own.values()), 4), own)


def _choices(
    wanted: Sequence[Wanted], options: Sequence[Sequence[Sequence[Option]]], shelves: Sequence[Shelf],
    gaps: Sequence[WardrobeGap], garments: Sequence[Sequence[Garment]], colours: WardrobeTable, table: PlanTable,
) -> tuple[list[Choice], dict[int, Option]]:  # fmt: skip
    """Every way to cut every part: the safe length where there is one, the usual one as a tight choice, or bought."""
    choices: list[Choice] = []
    origin: dict[int, Option] = {}
    place_of = {id(s): n for n, s in enumerate(shelves)}
    for job, make in enumerate(wanted):
        whole = sum(p.table_m for p in make.parts)
        for part, told in enumerate(make.parts):
            share = 1.0 if part == 0 else told.table_m / whole
            for option in options[job][part]:
                if option.why_not:
                    continue
                need = option.enough.needed_m
                adds = _fills(garments[job], option.shelf.colour, gaps, colours) if part == 0 else ()
                for length, metres in enumerate(option.shelf.piece.lengths_m):
                    there = min(metres, option.enough.free_m)
                    for reckoned, tight in ((need.high, False), (need.expected, True)):
                        if reckoned <= there + 1e-9 and not (tight and need.high - need.expected < 0.005):
                            origin[len(choices)] = option
                            choices.append(
                                Choice(job, part, place_of[id(option.shelf)], length, reckoned, told.table_m, option.fit, share, tight,
                                       option.wash_days, option.hang_days, adds, bool(_own(option.shelf, make.make.make)))
                            )  # fmt: skip
            if part:
                choices.append(
                    Choice(job, part, BOUGHT, 0, told.table_m, told.table_m, 0.0, share, wash_days=round(table.bought_days.is_))
                )
    return choices, origin


def _fills(
    garments: Sequence[Garment], colour: str, gaps: Sequence[WardrobeGap], table: WardrobeTable
) -> tuple[tuple[tuple[int, float], ...], ...]:
    found = []
    for garment in garments:
        sewn = replace(garment, colour=colour or garment.colour)
        shares = [(n, share_filled(sewn, gap.slot, table.unknown.is_)) for n, gap in enumerate(gaps) if gap.missing]
        found.append(tuple((n, share) for n, share in shares if share))
    return tuple(found)


def _clashes(
    wanted: Sequence[Wanted], options: Sequence[Sequence[Sequence[Option]]], shelves: Sequence[Shelf], knowledge: Knowledge,
    heavier: float,
) -> tuple[frozenset[Pair], dict[Pair, str]]:
    """Pairs of main cloth and other cloth that surely do not go together, and what is to be minded of the others."""
    sure = set()
    uneasy = {}
    place_of = {id(s): n for n, s in enumerate(shelves)}
    for job, make in enumerate(wanted):
        for part, told in enumerate(make.parts[1:], 1):
            for main in (o for o in options[job][0] if not o.why_not):
                for other in (o for o in options[job][part] if not o.why_not and o.shelf is not main.shelf):
                    said, surely = clash_of(main.shelf, told, other.shelf, make, knowledge, heavier)
                    pair = ((job, 0, place_of[id(main.shelf)]), (job, part, place_of[id(other.shelf)]))
                    if surely:
                        sure.add(pair)
                    elif said:
                        uneasy[pair] = said
    return frozenset(sure), uneasy
