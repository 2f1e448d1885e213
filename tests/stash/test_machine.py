"""The stash against a plain dictionary: whatever is done in whatever order, both hold the same."""

from __future__ import annotations

import shutil
import tempfile
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import HealthCheck, Phase, settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, invariant, rule, run_state_machine_as_test

from advisor.errors import Unclear
from advisor.stash import backup, exporting, importing, pieces, store
from advisor.stash.pieces import Cut, Piece, Reserved, Understood

NAMES = st.sampled_from(["linen", "Linen", "wool  coat", "wool coat", "silk", "élan", "x"])
METRES = st.integers(1, 400).map(lambda n: n / 100)
MAKES = st.sampled_from(["coat", "Coat", "hat"])


def key(name: str) -> str:
    return " ".join(name.split()).casefold()


class Stash(RuleBasedStateMachine):
    """Every rule does one thing to the file and the same to the dictionary; what one refuses the other must refuse."""

    def __init__(self):
        super().__init__()
        self.folder = Path(tempfile.mkdtemp())
        self.path = self.folder / "stash.db"
        with store.changing(self.path, make=True):
            pass
        self.plain: dict[str, dict] = {}
        self.known: set[tuple] = set()
        self.saved: list[tuple[Path, dict, set]] = []

    def teardown(self):
        shutil.rmtree(self.folder)

    def change(self, name, change):
        """Whether the stash took the change."""
        try:
            with store.changing(self.path) as db:
                store.replace_piece(db, name, change(store.find(db, name)))
        except Unclear:
            return False
        return True

    @rule(name=NAMES, lengths=st.lists(METRES, max_size=3))
    def add(self, name, lengths):
        try:
            with store.changing(self.path) as db:
                store.add(db, Piece(name, "linen", lengths_m=tuple(lengths)))
        except Unclear:
            assert key(name) in self.plain
            return
        assert key(name) not in self.plain
        self.plain[key(name)] = {
            "name": " ".join(name.split()),
            "lengths": list(lengths),
            "reserved": {},
            "cuts": [],
            "notes": [],
        }

    @rule(name=NAMES, metres=METRES, make=MAKES)
    def use(self, name, metres, make):
        took = self.change(name, lambda p: pieces.cut(p, metres, day="2025-01-01", make=make))
        mine = self.plain.get(key(name))
        others = sum(v for k, v in mine["reserved"].items() if k != key(make)) if mine else 0
        enough = [v for v in mine["lengths"] if v >= metres] if mine else []
        assert took == bool(enough and round(sum(mine["lengths"]) - others, 4) >= metres)
        if took:
            at = mine["lengths"].index(min(enough))
            left = round(mine["lengths"][at] - metres, 4)
            mine["lengths"][at : at + 1] = [left] if left else []
            mine["cuts"].append((metres, make))
            if key(make) in mine["reserved"]:
                mine["reserved"][key(make)] = round(mine["reserved"][key(make)] - metres, 4)
                if mine["reserved"][key(make)] <= 0:
                    del mine["reserved"][key(make)]

    @rule(name=NAMES, metres=METRES, make=MAKES)
    def reserve(self, name, metres, make):
        took = self.change(name, lambda p: pieces.reserve(p, make, metres))
        mine = self.plain.get(key(name))
        others = {k: v for k, v in mine["reserved"].items() if k != key(make)} if mine else {}
        assert took == bool(mine and round(sum(mine["lengths"]) - sum(others.values()), 4) >= metres)
        if took:
            mine["reserved"] = {**others, key(make): metres}

    @rule(name=NAMES, make=MAKES)
    def release(self, name, make):
        took = self.change(name, lambda p: pieces.release(p, make))
        assert took == (key(name) in self.plain and key(make) in self.plain[key(name)]["reserved"])
        if took:
            del self.plain[key(name)]["reserved"][key(make)]

    @rule(name=NAMES, other=NAMES)
    def rename(self, name, other):
        took = self.change(name, lambda p: replace(p, name=other))
        assert took == (key(name) in self.plain and (key(other) == key(name) or key(other) not in self.plain))
        if took:
            mine = self.plain.pop(key(name))
            self.plain[key(other)] = {**mine, "name": " ".join(other.split())}

    @rule(name=NAMES, text=st.text(max_size=20))
    def note(self, name, text):
        lines = list(pieces.lines_of([text]))
        if self.change(name, lambda p: replace(p, notes=(*p.notes, *lines))):
            self.plain[key(name)]["notes"] += lines
        else:
            assert key(name) not in self.plain

    @rule(name=NAMES)
    def remove(self, name):
        try:
            with store.changing(self.path) as db:
                store.remove(db, name)
        except Unclear:
            assert key(name) not in self.plain
        else:
            del self.plain[key(name)]

    @rule(rows=st.lists(st.tuples(NAMES, METRES), min_size=1, max_size=4, unique_by=lambda r: key(r[0])))
    def bring_in(self, rows):
        listed = self.folder / "list.csv"
        listed.write_text("name,description,lengths_m\n" + "".join(f"{n},linen,{m}\n" for n, m in rows))
        table = importing.read_table(listed)
        found, refused = importing.rows_of(table, importing.propose(table), lambda d, t: Understood())
        done = importing.take_in(self.path, found, refused)
        for name, metres in rows:
            name = " ".join(name.split())
            if (name, metres) in self.known or key(name) in self.plain:
                assert name not in [p.name for p in done.added]
                continue
            self.known.add((name, metres))
            self.plain[key(name)] = {"name": name, "lengths": [metres], "reserved": {}, "cuts": [], "notes": []}

    @rule()
    def save(self):
        from copy import deepcopy

        self.saved.append((backup.back_up(self.path), deepcopy(self.plain), set(self.known)))

    @rule(which=st.integers(0, 3))
    def bring_back(self, which):
        from copy import deepcopy

        if self.saved:
            copy, plain, known = self.saved[which % len(self.saved)]
            backup.restore(self.path, copy)
            self.plain, self.known = deepcopy(plain), set(known)

    @rule()
    def out_and_back(self):
        with store.reading(self.path) as db:
            held = store.pieces(db)
        listed = self.folder / "out.json"
        exporting.write(exporting.to_json(held), listed, over=True)
        found, _ = importing.rows_from_json(listed, lambda d, t: Understood())
        assert [r.piece for r in found] == held

    @invariant()
    def both_hold_the_same(self):
        with store.reading(self.path) as db:
            held = {key(p.name): p for p in store.pieces(db)}
        assert set(held) == set(self.plain)
        for name, mine in self.plain.items():
            piece = held[name]
            assert piece.name == mine["name"]
            assert list(piece.lengths_m) == mine["lengths"]
            assert {key(r.make): r.metres for r in piece.reserved} == mine["reserved"]
            assert list(piece.cuts) == [Cut("2025-01-01", metres, make) for metres, make in mine["cuts"]]
            assert list(piece.notes) == mine["notes"]
            assert piece.free_m >= 0
            assert all(isinstance(r, Reserved) for r in piece.reserved)


def test_the_stash_behaves_as_a_plain_dictionary_would(request):
    long = request.config.getoption("--long", default=False)
    run_state_machine_as_test(
        Stash,
        settings=settings(
            max_examples=150 if long else 25, stateful_step_count=40 if long else 20, deadline=None,
            suppress_health_check=list(HealthCheck),
        ),
    )  # fmt: skip


def test_a_machine_that_is_wrong_is_caught(monkeypatch):
    """The dictionary does notice when a cut takes too much."""
    right = pieces.cut
    monkeypatch.setattr(pieces, "cut", lambda p, m, **k: right(p, m / 2, **k))
    with pytest.raises(AssertionError):
        run_state_machine_as_test(
            Stash,
            settings=settings(
                max_examples=200,
                deadline=None,
                suppress_health_check=list(HealthCheck),
                database=None,
                phases=[Phase.generate],
                report_multiple_bugs=False,
            ),
        )
