"""Does this cloth suit this garment? An advisor for the decision before the scissors.

The calls are `check`, `press`, `prewash` and `pick`; each returns a report (see `advisor.report`) and raises
`Unclear` for what cannot be understood. They are safe to call from several threads.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from advisor.errors import Unclear

if TYPE_CHECKING:
    from advisor.advise import check, pick, press, prewash

__all__ = ["Unclear", "check", "pick", "press", "prewash"]
__version__ = "0.1.0"


def __getattr__(name: str) -> Any:
    """Loads the calls when they are first used, so that importing the package costs nothing."""
    if name in __all__:
        from advisor import advise

        return getattr(advise, name)
    raise AttributeError(f"module 'advisor' has no attribute '{name}'")
