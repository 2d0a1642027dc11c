"""The closed lists of the lexicon's tables, for the linter and the schema; the README of the data describes them."""

from __future__ import annotations

PATTERNS = (
    "squat",
    "hinge",
    "lunge",
    "horizontal_push",
    "vertical_push",
    "horizontal_pull",
    "vertical_pull",
    "elbow_flexion",
    "elbow_extension",
    "shoulder_isolation",
    "knee_flexion",
    "knee_extension",
    "hip_abduction",
    "hip_adduction",
    "hip_flexion",
    "calf",
    "carry",
    "grip",
    "neck",
    "trunk_flexion",
    "trunk_extension",
    "trunk_rotation",
    "trunk_stability",
    "jump",
    "locomotion",
    "dance_step",
    "striking",
    "combination",
    "balance",
    "mobility",
    "stretch",
    "pose",
    "breathing",
)
SIDED = ("both", "one", "alternating", "either")
COUNTED = ("reps", "time", "breaths", "distance")
BASES = ("", "per_hand", "total")
UNIT_KINDS = ("mass", "time", "length", "share", "count")
LOADED = ("yes", "no")

MOVEMENT_ID = r"[a-z0-9]+(-[a-z0-9]+)*"
TABLE_ID = r"[a-z0-9]+([-_][a-z0-9]+)*"
UBERON_ID = r"UBERON:\d{7}"

# One of each in the base unit of its kind (kg, s, m). Pound, ounce and stone: NIST SP 811 (2008), Appendix B.8/B.9, and
# UCUM 2.2; yard, foot, inch and mile follow from the international yard of 0.9144 m, which NIST SP 811 gives too.
FACTORS = {
    "kg": 1.0,
    "g": 0.001,
    "lb": 0.45359237,
    "oz": 0.028349523125,
    "stone": 6.35029318,
    "s": 1.0,
    "min": 60.0,
    "h": 3600.0,
    "m": 1.0,
    "km": 1000.0,
    "cm": 0.01,
    "mile": 1609.344,
    "yard": 0.9144,
    "feet": 0.3048,
    "inch": 0.0254,
    "pct1rm": 0.01,
}
