"""The stage as a function: tagged words and spans of work in, the routine with its queries out."""

from __future__ import annotations

from setdown.assemble.build import build_routine
from setdown.assemble.context import lay_out
from setdown.assemble.decide import decide_class
from setdown.assemble.queries import raise_queries
from setdown.assemble.ranker import load_ranker_weights
from setdown.lexicon import Lexicon
from setdown.model.mention import TaggedTranscript
from setdown.model.routine import Routine
from setdown.model.segment import Segmentation


def assemble_routine(tagged: TaggedTranscript, segmentation: Segmentation, lexicon: Lexicon) -> Routine:
    """Decide every field of every span, then write it down with evidence, origins, confidences and queries."""
    context = lay_out(tagged, segmentation, lexicon)
    decide_class(context, load_ranker_weights())
    routine, sets = build_routine(context)
    routine.queries = raise_queries(context, sets)
    return routine
