"""From mentions to spans of work: boundary evidence is scored, then one best sequence is chosen for the class."""

from setdown.segment.decode import segment_mentions

__all__ = ["segment_mentions"]
