"""Everything that goes out of a routine: plan, page, sheet, chapters, captions, metadata track, linked data, figures.

``publish_routine`` makes the documents; nothing here writes a file. All fixed text is in ``strings/``; text from a
transcript is made inert in ``inert``, whatever it is put into.
"""

from __future__ import annotations

from setdown.publish.options import PublishOptions
from setdown.publish.outputs import OUTPUTS, Document, publish_routine

__all__ = ["OUTPUTS", "Document", "PublishOptions", "publish_routine"]
