"""Score decided classes by style with the scorer's own measures."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from training.classes import AnnotatedClass

from setdown.assemble.context import ClassContext, lay_out
from setdown.assemble.decide import decide_class
from setdown.assemble.loads import load_key
from setdown.assemble.timing import time_draft
from setdown.evaluate import score_rows, total_measures
from setdown.evaluate.report import describe_rows, format_line
from setdown.lexicon import Lexicon
from setdown.lexicon.profiles import ProfileModel
from setdown.model.segment import Segmentation

Result = tuple[AnnotatedClass, Segmentation, Mapping[str, Mapping[str, float]], ProfileModel | None]


def make_rows(context: ClassContext) -> list[dict[str, str]]:
    """The decided drafts as sheet rows (the fields that are scored)."""
    rows = []
    for d in context.drafts:
        start, end, _ = time_draft(context, d)
        load = d.value("load")
        entry = context.lexicon.movements.get(d.value("exercise") or "")
        has = load is not None and load.value is not None
        rows.append(
            {
                "start": f"{start / 1000:.1f}",
                "end": f"{end / 1000:.1f}",
                "section": d.section,
                "group": str(d.group),
                "round": str(d.round),
                "exercise": entry.name if entry else "unnamed",
                "side": d.value("side") or "",
                "reps": str(d.value("reps")) if d.value("reps") else "",
                "work_s": str(d.value("work_s") or ""),
                "load": load_key(load).split(" ")[0] if has else "",
                "unit": (load.unit or "") if has else "",
                "basis": (d.value("basis") or "") if has else "",
                "finisher": d.value("finisher") or "",
            }
        )
    return rows


def score_classes(results: Sequence[Result], lexicon: Lexicon, styles: Sequence[str], rows: bool = False) -> None:
    """Print one line per style (and per class of the last style with ``rows``)."""
    for style in styles:
        measures = []
        for item, segmentation, weights, profiles in results:
            if item.style != style:
                continue
            context = lay_out(item.tagged, segmentation, lexicon, profiles)
            decide_class(context, weights)
            made = make_rows(context)
            m, pairs = score_rows(item.gold, made)
            measures.append(m)
            if rows:
                print(format_line(f"{item.name}{style}", m))
                for line in describe_rows(item.gold, made, pairs):
                    print("   ", line)
        if measures:  # a recogniser did not hear every class
            print(format_line(f"ALL{style}", total_measures(measures)))
