"""Scores as text: one line a class, one table over caption styles, and the rows that went wrong."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from setdown.evaluate.align import Row
from setdown.evaluate.calibration import EVERY_FIELD, Trust, bin_values, measure_calibration
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


def format_trust(trust: Trust) -> list[str]:
    """Calibration error of every field and of the row, and triage, on a line each; nothing when nothing was judged."""
    lines = []
    if trust.judged:
        parts = [
            f"{name} {measure_calibration(trust.judged[name]):.3f}" for name in EVERY_FIELD if name in trust.judged
        ]
        lines.append("calibration error  " + "  ".join(parts))
    if trust.wrong or trust.right:
        wrong, right = format_percent(trust.share_wrong_asked).strip(), format_percent(trust.share_right_asked).strip()
        lines.append(
            f"triage  a must or should query stands on {wrong} % of {trust.wrong} wrong rows"
            f" and on {right} % of {trust.right} right rows"
        )
    return lines


def format_reliability(trust: Trust) -> list[str]:
    """For every field the bins of confidence that hold values: how many, their mean confidence, how many are right."""
    lines = []
    for name in EVERY_FIELD:
        judged = trust.judged.get(name)
        if not judged:
            continue
        lines.append(f"{name}: {len(judged)} values, calibration error {measure_calibration(judged):.3f}")
        lines += [
            f"  {b.low:.1f}-{b.high:.1f}  {b.size:5d}  confidence {b.confidence:.2f}  right {b.right:.2f}"
            for b in bin_values(judged)
            if b.size
        ]
    return lines


def describe_trust(trust: Trust) -> dict[str, object]:
    """The same as plain data: ``calibration_error`` by field (0 to 1) and ``triage``."""
    return {
        "calibration_error": {
            name: measure_calibration(trust.judged[name]) for name in EVERY_FIELD if name in trust.judged
        },
        "triage": {
            "wrong_rows": trust.wrong,
            "wrong_rows_asked": trust.share_wrong_asked,
            "right_rows": trust.right,
            "right_rows_asked": trust.share_right_asked,
        },
    }
