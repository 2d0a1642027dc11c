"""Setdown: from the timed transcript of a spoken exercise class to a validated routine.

The Python API is small on purpose::

    import setdown
    routine = setdown.extract("class.vtt")      # -> setdown.Routine

Heavy imports (numpy, pydantic) happen on first use, so that ``setdown version`` stays quick.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from setdown.model.routine import Routine
    from setdown.pipeline import extract

__version__ = "0.1.0"
__all__ = ["Routine", "__version__", "extract"]


def __getattr__(name: str) -> Any:
    if name == "extract":
        from setdown.pipeline import extract

        return extract
    if name == "Routine":
        from setdown.model.routine import Routine

        return Routine
    raise AttributeError(f"module 'setdown' has no attribute {name!r}")
