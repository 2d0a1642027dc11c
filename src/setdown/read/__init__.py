"""Reading timed transcripts: WebVTT, SubRip, TTML, recogniser JSON, text blocks.

``base.py`` says how a format is added; ``compose.py`` lists the steps that follow for all of them.
"""

from setdown.read.compose import parse_transcript, read_transcript
from setdown.read.detect import FORMATS

__all__ = ["FORMATS", "parse_transcript", "read_transcript"]
