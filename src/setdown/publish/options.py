"""What the user chose for the outputs of one routine."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

Units = Literal["said", "lb", "kg", "both"]
Detail = Literal["short", "full"]


@dataclass(frozen=True, slots=True)
class PublishOptions:
    """``units``: loads as they were said, in one unit, or in both. ``line_gap_s``: chapter lines closer than this many
    seconds to the one before are left out. ``draft``: a routine that nobody reviewed may be published, marked as one.
    """

    units: Units = "said"
    detail: Detail = "full"
    line_gap_s: float = 10.0
    draft: bool = False
