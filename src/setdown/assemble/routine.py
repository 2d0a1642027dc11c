"""The stage as a function: tagged words and spans of work in, the routine with its queries out."""

from __future__ import annotations

from setdown.assemble.build import build_routine
from setdown.assemble.confidence import load_calibration
from setdown.assemble.context import ClassContext, lay_out
from setdown.assemble.decide import decide_class
from setdown.assemble.queries import raise_queries
from setdown.assemble.ranker import load_ranker_weights
from setdown.assemble.trust import ask_about_rows, rate_rows
from setdown.lexicon import Lexicon
from setdown.model.mention import TaggedTranscript
from setdown.model.routine import Routine, Set
from setdown.model.segment import Segmentation


def assemble_routine(tagged: TaggedTranscript, segmentation: Segmentation, lexicon: Lexicon) -> Routine:
    """Decide every field of every span, then write it down with evidence, origins, confidences and queries."""
    return assemble_with_drafts(tagged, segmentation, lexicon)[0]


def assemble_with_drafts(
    tagged: TaggedTranscript, segmentation: Segmentation, lexicon: Lexicon
) -> tuple[Routine, list[Set], ClassContext]:
    """The routine, its sets in order, and the context with every decision (to explain them)."""
    context = lay_out(tagged, segmentation, lexicon)
    decide_class(context, load_ranker_weights())
    calibration = load_calibration()
    routine, sets = build_routine(context, calibration)
    doubts = rate_rows(context, sets, calibration)
    routine.queries = ask_about_rows(sets, raise_queries(context, sets), doubts, calibration.row)
    return routine, sets, context
