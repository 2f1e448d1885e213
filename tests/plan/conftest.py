"""What the tests of plan and wardrobe share: invented makes, a small stash, and the commands as they are typed."""

from __future__ import annotations

from datetime import date

import pytest

from advisor.cli import run
from advisor.makes import parse_make
from advisor.plan.building import Held, Terms
from advisor.plan.planning import plan_for
from advisor.plan.tables import plan_table
from advisor.stash import store
from advisor.stash.pieces import Piece

BLOUSE = """
make: Blouse (invented)
features: [blouse, narrow hem]
season: summer
care: 30 machine wash
cloth_needed: [{width_cm: 140, length_m: 1.8}]
hours: 7
"""
SKIRT = """
make: Circle skirt (invented)
features: [circle skirt, narrow hem]
season: summer
care: 30 machine wash
cloth_needed: [{width_cm: 140, length_m: 2.4}]
hours: 7
"""
SHIRT = """
make: Shirt (invented)
features: [shirt, shirt collar]
care: 40 machine wash
cloth_needed:
  - {width_cm: 150, length_m: 1.6}
  - {width_cm: 150, length_m: 0.4, part: contrast}
part_features: {contrast: [shirt collar]}
hours: 10
"""


@pytest.fixture
def makes():
    """Makes by name, with lines added to their files."""
    texts = {"blouse": BLOUSE, "skirt": SKIRT, "shirt": SHIRT}
    return lambda name, more="": parse_make(texts[name] + more)


@pytest.fixture
def pieces():
    """Cloths that suit summer makes, by name."""
    return {
        "long lawn": Piece("long lawn", "cotton lawn, 75 gsm, white", 140, (5.2,), prewashed=True),
        "challis": Piece("challis", "viscose challis, 110 gsm, green", 140, (2.9,)),
        "poplin": Piece("poplin", "cotton poplin, 120 gsm, blue", 150, (2.1,)),
        "melton": Piece("melton", "wool melton, 500 gsm, grey", 150, (4.0,)),
    }


@pytest.fixture
def plan(knowledge):
    """The plan for makes and pieces, seven hours a week from the first of a month that begins on a Tuesday."""
    weights = plan_table(knowledge).weights

    def planning(makes, pieces, *, garments=(), wishes=(), log=(), **terms):
        said = {"hours_a_week": 7.0, "weights": weights, "today": date(2026, 12, 1)} | terms
        return plan_for(makes, Held(pieces, log, garments, wishes), Terms(**said), knowledge)

    return planning


@pytest.fixture
def stash(tmp_path, pieces):
    """A stash's file with the pieces in it."""
    path = tmp_path / "stash.db"
    with store.changing(path, make=True) as db:
        for piece in pieces.values():
            store.add(db, piece)
    return path


@pytest.fixture
def files(tmp_path):
    """The makes as files, by name."""
    found = {}
    for name, text in {"blouse": BLOUSE, "skirt": SKIRT, "shirt": SHIRT}.items():
        found[name] = tmp_path / f"{name}.yaml"
        found[name].write_text(text, encoding="utf-8")
    return {name: str(path) for name, path in found.items()}


@pytest.fixture
def typed(capfd, knowledge):
    """Runs a command line: (exit code, what it printed, its fault), with what C libraries print too."""

    def typing(*words):
        code = run([str(w) for w in words])
        told = capfd.readouterr()
        return code, told.out, told.err

    return typing
