"""Self-cover button kits (hobby page, common practice): 11, 15, 19, 22, 29 and 38 mm, about 18, 24, 30, 36, 45 and 60 L. Common uses: shirt front 16 to 20 L (10.2 to 12.7 mm),
jacket 32 L (20.3 mm), coat 40 to 45 L (encyclopaedia text and button guide)."""

from __future__ import annotations

import pytest

from advisor.knowledge import shipped_folder
from advisor.need import tables
from advisor.need.units import ligne_from_mm, mm_from_ligne

KITS = {11: 18, 15: 24, 19: 30, 22: 36, 29: 45, 38: 60}


def test_a_kit_size_is_missing_or_made_up():
    assert tables.read_table(tables.Closures, [shipped_folder()]).kit_sizes_mm.value == [*KITS]


@pytest.mark.parametrize(("mm", "ligne"), KITS.items())
def test_a_kit_is_of_another_ligne(mm, ligne):
    assert ligne_from_mm(mm) == pytest.approx(ligne, abs=1.5)


@pytest.mark.parametrize(("ligne", "mm"), [(16, 10.2), (32, 20.3), (40, 25.4), (45, 28.6)])
def test_a_use_is_of_another_size(ligne, mm):
    assert mm_from_ligne(ligne) == pytest.approx(mm, abs=0.05)
