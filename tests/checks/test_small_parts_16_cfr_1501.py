"""16 CFR 1501.4: articles for children under three must not hold parts that fit the test cylinder. Buttons are answered with that age and
the local code."""

from __future__ import annotations

from advisor.need import answers
from advisor.need.ground import ground


def test_buttons_come_without_the_age_or_the_code():
    (caution,) = answers.buttons(ground(), diameter_mm=15).cautions
    assert "under three" in caution and "local code" in caution
