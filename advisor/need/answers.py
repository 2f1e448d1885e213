"""The questions of quantity by name, each answered with one `NeedReport`.

Functions take figures in the units of their names and raise `Unclear` for what is zero, absurd or missing.
"""

from __future__ import annotations

from advisor.need.buying import make, width
from advisor.need.fastenings import buttons, loops
from advisor.need.frills import gathers, pleats
from advisor.need.haberdashery import elastic, thread, zip_
from advisor.need.laying import layout, read_piece
from advisor.need.rings import circle, flounce, sunray, turns_of
from advisor.need.strips import bias

__all__ = [
    "bias", "buttons", "circle", "elastic", "flounce", "gathers", "layout", "loops", "make", "pleats", "read_piece", "sunray", "thread",
    "turns_of", "width", "zip_",
]  # fmt: skip
