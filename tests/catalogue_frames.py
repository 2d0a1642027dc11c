"""The annotated classes as pandas tables, made from the gold sheets and the CSV files of the lexicon alone.

What the catalogue finds and counts is compared with what pandas makes of these tables. Nothing of the catalogue's code
is used here, nor of the measures'.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from pathlib import Path

import pandas as pd

from gold_routines import GoldClass

LEXICON = Path(__file__).resolve().parent.parent / "lexicon"
KG_IN_LB = 0.45359237  # NIST Special Publication 811 (2008), Appendix B
EASING = ["mobility", "stretch", "pose", "breathing"]


@dataclass(frozen=True)
class Frames:
    """``classes`` by name; ``sets`` with their class, movement and its pattern; ``uses`` one row a set and muscle."""

    classes: pd.DataFrame
    sets: pd.DataFrame
    movements: pd.DataFrame
    muscles: pd.DataFrame

    def uses(self, *, grouped: bool) -> pd.DataFrame:
        """A row for each set and muscle: ``first`` where it works first, else it helps; each muscle once for a set."""
        parts = []
        group = self.muscles["group"].where(self.muscles["group"] != "", self.muscles.index.to_series())
        for column, first in (("primary", True), ("secondary", False)):
            long = self.movements[column].str.split(";").explode()
            long = long[long != ""]
            if grouped:
                long = long.map(lambda id: group.get(id, id))
            parts.append(pd.DataFrame({"movement": long.index, "muscle": long.to_numpy(), "first": first}))
        roles = pd.concat(parts).groupby(["movement", "muscle"], as_index=False)["first"].any()
        return self.sets.merge(roles, on="movement")


def make_frames(gold: tuple[GoldClass, ...]) -> Frames:
    """The tables of some classes."""
    files = sorted((LEXICON / "movements").glob("*.csv"))
    movements = pd.concat([pd.read_csv(file, keep_default_na=False, dtype=str) for file in files]).set_index("id")
    movements["family"] = movements["family"].where(movements["family"] != "", movements.index.to_series())
    muscles = pd.read_csv(LEXICON / "muscles.csv", keep_default_na=False, dtype=str).set_index("id")
    classes = pd.DataFrame(
        [
            {
                "name": one.name,
                "title": one.routine.title,
                "instructor": one.routine.source.instructor,
                "date": one.routine.source.date,
                "status": one.routine.status,
                "minutes": one.routine.source.duration_s / 60,
                "kit": frozenset(piece.id for piece in one.routine.equipment),
                "said": [re.findall(r"[^\W_]+", line.lower()) for line in _list_captions(one.vtt)],
            }
            for one in gold
        ]
    ).set_index("name")
    sets = pd.DataFrame([_read_row(one, row, place) for one in gold for place, row in enumerate(one.rows)])
    sets["pattern"] = sets["movement"].map(movements["pattern"]).fillna("")
    sets["family"] = sets["movement"].map(movements["family"]).fillna("")
    return Frames(classes, sets, movements, muscles)


def _read_row(one: GoldClass, row: dict[str, str], place: int) -> dict[str, object]:
    made = one.routine.iter_sets()[place][2]
    low, _, high = row["reps"].partition("-")
    number = low.isdigit()
    load = float(row["load"]) if row["load"] else None
    factor = {"lb": KG_IN_LB, "kg": 1.0}.get(row["unit"])
    return {
        "class": one.name,
        "place": place,
        "movement": made.exercise.id or made.exercise.name.lower(),
        "known": bool(made.exercise.id),
        "section": row["section"],
        "arrangement": row["arrangement"],
        "side": row["side"],
        "lo": float(low) if number else None,
        "hi": float(high or low) if number else None,
        "kg": load * factor if load is not None and factor else None,
        "finisher": row["finisher"],
        "start": round(float(row["start"]), 3),
    }


def _list_captions(vtt: str) -> list[str]:
    return [block.split("\n", 1)[1] for block in vtt.split("\n\n")[1:] if "\n" in block]
