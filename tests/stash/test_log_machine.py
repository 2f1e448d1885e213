"""The log, the wardrobe and the wishes against plain lists: whatever is done in whatever order, both hold the same."""

from __future__ import annotations

import shutil
import tempfile
from copy import deepcopy
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import HealthCheck, Phase, settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, invariant, rule, run_state_machine_as_test

from advisor.errors import Unclear
from advisor.log import keeping
from advisor.log.done import Done, Observation, Snapshot
from advisor.stash import backup, pieces, store
from advisor.stash.pieces import Piece
from advisor.wardrobe import keep
from advisor.wardrobe.garments import MOST, Garment

NAMES = st.sampled_from(["linen", "Linen", "wool  coat", "wool coat", "élan"])
METRES = st.integers(1, 300).map(lambda n: n / 100)
LINES = st.lists(st.text(st.characters(blacklist_categories=["Cs", "Cc", "Z"]), min_size=1, max_size=12).filter(str.strip), max_size=3)
SHELVES = st.sampled_from(["garment", "wish"])
KNOWN = Snapshot({"weight": (100.0, 120.0)}, ("plain-weave",))


def key(name: str) -> str:
    return " ".join(name.split()).casefold()


class Log(RuleBasedStateMachine):
    """Every rule does one thing to the file and the same to the lists; what one refuses the other must refuse."""

    def __init__(self):
        super().__init__()
        self.folder = Path(tempfile.mkdtemp())
        self.path = self.folder / "stash.db"
        with store.changing(self.path, make=True):
            pass
        self.pieces: dict[str, list] = {}
        """Key → [name, metres left]."""
        self.log: dict[int, dict] = {}
        self.worn: dict[str, dict[str, list]] = {"garment": {}, "wish": {}}
        self.saved: list[tuple] = []

    def teardown(self):
        shutil.rmtree(self.folder)

    def took(self, change):
        """Whether the stash took the change."""
        try:
            with store.changing(self.path) as db:
                change(db)
        except Unclear:
            return False
        return True

    @rule(name=NAMES, metres=METRES)
    def add_piece(self, name, metres):
        new = key(name) not in self.pieces
        assert self.took(lambda db: store.add(db, Piece(name, "linen", lengths_m=(metres,)))) == new
        if new:
            self.pieces[key(name)] = [" ".join(name.split()), metres]

    @rule(name=NAMES, other=NAMES)
    def rename_piece(self, name, other):
        can = key(name) in self.pieces and (key(name) == key(other) or key(other) not in self.pieces)
        assert self.took(lambda db: store.replace_piece(db, name, replace(store.find(db, name), name=other))) == can
        if can:
            was = self.pieces.pop(key(name))
            self.pieces[key(other)] = [" ".join(other.split()), was[1]]
            for entry in self.log.values():
                if entry["of"] == key(name):
                    entry["of"] = key(other)

    @rule(name=NAMES)
    def remove_piece(self, name):
        there = key(name) in self.pieces
        assert self.took(lambda db: store.remove(db, name)) == there
        if there:
            del self.pieces[key(name)]
            for entry in self.log.values():
                if entry["of"] == key(name):
                    entry["of"] = None  # the entry stays, with the piece's name as it was when it was written

    @rule(name=NAMES, metres=METRES, lines=LINES)
    def log_a_make_and_cut(self, name, metres, lines):
        """As `log add --piece --used`: an entry and a cut, both or neither."""

        def change(db):
            entry = keeping.add(db, Done("coat", "2025-01-01", "linen", KNOWN, name, ("flounce",), metres, tuple(map(Observation, lines))))
            store.replace_piece(db, name, pieces.cut(store.find(db, name), metres, day="2025-01-01", make="coat"))
            self.number = entry.number

        there = self.pieces.get(key(name))
        can = there is not None and there[1] >= metres
        assert self.took(change) == can
        if can:
            there[1] = round(there[1] - metres, 4)
            self.log[self.number] = {"of": key(name), "then": name, "lines": list(lines)}

    @rule(lines=LINES)
    def log_a_make_of_a_cloth(self, lines):
        def change(db):
            self.number = keeping.add(db, Done("hat", "2024", "wool", KNOWN, observations=tuple(map(Observation, lines)))).number

        assert self.took(change)
        assert self.number not in self.log
        self.log[self.number] = {"of": "", "then": "", "lines": list(lines)}

    @rule(number=st.integers(1, 12), lines=LINES)
    def note(self, number, lines):
        assert self.took(lambda db: keeping.note(db, number, map(Observation, lines))) == (number in self.log)
        if number in self.log:
            self.log[number]["lines"] += lines

    @rule(number=st.integers(1, 12))
    def remove_entry(self, number):
        assert self.took(lambda db: keeping.remove(db, number)) == (number in self.log)
        self.log.pop(number, None)

    @rule(shelf=SHELVES, name=NAMES, colour=st.sampled_from(["navy", ""]), count=st.integers(1, 60))
    def put_on_the_shelf(self, shelf, name, colour, count):
        there = self.worn[shelf].get(key(name))
        can = there is None or (there[1] == colour and there[2] + count <= MOST)
        garment = Garment(name, "coat", ("winter",), colour, count, "2025-01-01")
        assert self.took(lambda db: keep.add(db, shelf, garment)) == can
        if can:
            self.worn[shelf][key(name)] = [name, colour, count] if there is None else [there[0], colour, there[2] + count]

    @rule(shelf=SHELVES, name=NAMES)
    def take_off_the_shelf(self, shelf, name):
        assert self.took(lambda db: keep.remove(db, shelf, name)) == (key(name) in self.worn[shelf])
        self.worn[shelf].pop(key(name), None)

    @rule()
    def save(self):
        self.saved.append((backup.back_up(self.path), deepcopy((self.pieces, self.log, self.worn))))

    @rule(which=st.integers(0, 3))
    def bring_back(self, which):
        if self.saved:
            copy, held = self.saved[which % len(self.saved)]
            backup.restore(self.path, copy)
            self.pieces, self.log, self.worn = deepcopy(held)

    @invariant()
    def both_hold_the_same(self):
        with store.reading(self.path) as db:
            log = {d.number: d for d in keeping.everything(db)}
            shelves = {shelf: keep.garments(db, shelf) for shelf in ("garment", "wish")}
            left = {key(p.name): p.left_m for p in store.pieces(db)}
        assert left == {k: v[1] for k, v in self.pieces.items()}
        assert set(log) == set(self.log)
        for number, mine in self.log.items():
            entry = log[number]
            assert [o.line for o in entry.observations] == [" ".join(line.split()) for line in mine["lines"]]
            assert entry.known == KNOWN
            if mine["of"]:
                assert (entry.piece, entry.gone) == (self.pieces[mine["of"]][0], False)
            elif mine["of"] is None:
                assert (entry.piece, entry.gone) == (mine["then"], True)
            else:
                assert (entry.piece, entry.gone) == ("", False)
        for shelf, mine in self.worn.items():
            assert sorted((g.name, g.colour, g.pieces) for g in shelves[shelf]) == sorted(tuple(v) for v in mine.values())


def test_the_log_and_the_wardrobe_behave_as_plain_lists_would(request):
    long = request.config.getoption("--long", default=False)
    run_state_machine_as_test(
        Log,
        settings=settings(
            max_examples=100 if long else 20, stateful_step_count=40 if long else 20, deadline=None,
            suppress_health_check=list(HealthCheck),
        ),
    )  # fmt: skip


def test_a_log_that_forgets_its_cut_is_caught(monkeypatch):
    """The lists do notice when an entry is kept and its cut is not."""
    monkeypatch.setattr(pieces, "cut", lambda piece, *a, **k: piece)
    with pytest.raises(AssertionError):
        run_state_machine_as_test(
            Log,
            settings=settings(
                max_examples=200, deadline=None, suppress_health_check=list(HealthCheck), database=None,
                phases=[Phase.generate], report_multiple_bugs=False,
            ),
        )  # fmt: skip
