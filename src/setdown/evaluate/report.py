"""Scores as text: one line a class, one table over caption styles, and the rows that went wrong."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from setdown.evaluate.align import Row
from setdown.evaluate.measures import FIELDS, Measures, Pairs, read_cell

TABLE = (  # heading, measure
    ("F1", "row_f1"),
    ("seg", "seg_f1"),
    ("reps", "rec_reps"),
    ("work", "rec_work_s"),
    ("load", "rec_load"),
    ("basis", "rec_basis"),
    ("side", "rec_side"),
    ("fin", "rec_finisher"),
    ("rnd", "acc_round"),
    ("sect", "acc_section"),
    ("grp", "group_f1"),
    ("≤5s", "start_within_5s"),
    ("perfect", "perfect_rows"),
    ("saved", "effort_saved"),
)


def format_percent(value: float | None) -> str:
    """``0.873`` -> ``  87``, four characters wide; `` -- `` where there was nothing to measure."""
    return " -- " if value is None else f"{100 * value:4.0f}"


def format_line(name: str, measures: Measures) -> str:
    """One class on one line; ratios in per cent, the median error of the starts in seconds."""

    def pc(key: str) -> str:
        return format_percent(measures.get(key))

    median = measures["start_err_median"]
    start = None if median is None else round(median, 1)
    return (
        f"{name:28.28} gold {measures['gold']:3d} pred {measures['pred']:3d} | F1 {pc('row_f1')} seg {pc('seg_f1')} "
        f"| reps {pc('rec_reps')} work {pc('rec_work_s')} load {pc('rec_load')} basis {pc('rec_basis')} "
        f"side {pc('rec_side')} fin {pc('rec_finisher')} rnd {pc('acc_round')} sect {pc('acc_section')} "
        f"grp {pc('group_f1')} | start med {start}s ≤5s {pc('start_within_5s')} "
        f"| perfect {pc('perfect_rows')} saved {pc('effort_saved')}"
    )


def format_table(totals: Mapping[str, Measures]) -> str:
    """A Markdown table, one line a caption style, ratios in per cent."""
    lines = [
        "| captions | rows | " + " | ".join(heading for heading, _ in TABLE) + " | start |",
        "|---|--:|" + "--:|" * len(TABLE) + "--:|",
    ]
    for style, measures in totals.items():
        cells = [format_percent(measures.get(key)).strip() for _, key in TABLE]
        median = measures["start_err_median"]
        start = "--" if median is None else f"{median:.1f} s"
        lines.append(f"| `{style}` | {measures['gold']} | " + " | ".join(cells) + f" | {start} |")
    return "\n".join(lines)


def describe_rows(gold: Sequence[Row], pred: Sequence[Row], pairs: Pairs) -> list[str]:
    """Every gold row with the row that answers it, then the rows that answer nothing."""
    answer = dict(pairs)
    lines = []
    for i, row in enumerate(gold):
        lines.append("gold   " + _describe(row))
        lines.append("   got " + (_describe(pred[answer[i]]) if i in answer else "nothing"))
    used = set(answer.values())
    lines += ["extra  " + _describe(row) for j, row in enumerate(pred) if j not in used]
    return lines


def _describe(row: Row) -> str:
    values = " ".join(f"{field}={read_cell(row, field)}" for field in FIELDS if read_cell(row, field))
    return f"{row['start']:>7} {row['exercise']}  {values}"
