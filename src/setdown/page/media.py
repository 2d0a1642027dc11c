"""The recording, and of what kind it is. It is sent in parts (RFC 9110, 14), so that a player can jump."""

from __future__ import annotations

import mimetypes
from dataclasses import dataclass
from pathlib import Path

from setdown.errors import SetdownError

# Python's own table differs from system to system.
TYPES = {
    ".mp4": "video/mp4",
    ".m4v": "video/mp4",
    ".mov": "video/quicktime",
    ".webm": "video/webm",
    ".mkv": "video/x-matroska",
    ".ogv": "video/ogg",
    ".mp3": "audio/mpeg",
    ".m4a": "audio/mp4",
    ".aac": "audio/aac",
    ".wav": "audio/wav",
    ".flac": "audio/flac",
    ".ogg": "audio/ogg",
    ".oga": "audio/ogg",
    ".opus": "audio/ogg",
}


@dataclass(frozen=True, slots=True)
class Recording:
    """A file that the browser plays. ``element`` is the HTML element for it."""

    path: Path
    media_type: str

    @property
    def element(self) -> str:
        return "video" if self.media_type.startswith("video/") else "audio"


def find_recording(file: str) -> Recording:
    """The recording in a file.

    Raises:
        SetdownError: there is no such file, or its name does not say that it is video or audio.
        OSError: it cannot be read.
    """
    path = Path(file)
    if not path.is_file():
        raise SetdownError("there is no such recording", source=file, expected="a video or audio file")
    kind = TYPES.get(path.suffix.lower()) or mimetypes.guess_type(path.name)[0] or ""
    if not kind.startswith(("video/", "audio/")):
        raise SetdownError(
            "this is neither video nor audio by its name", source=file, expected="for example .mp4 or .m4a"
        )
    with path.open("rb"):
        return Recording(path.resolve(), kind)
