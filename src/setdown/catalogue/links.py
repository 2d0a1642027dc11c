"""A link that opens the recording of a class at a moment.

``#t=SECONDS`` is the temporal dimension of the W3C recommendation "Media Fragments URI 1.0 (basic)" (2012), section
4.2.1; browsers and many players understand it. Only addresses of the web and files are linked: what stands in a
class's ``media`` is text from outside.
"""

from __future__ import annotations

from pathlib import PurePosixPath, PureWindowsPath
from urllib.parse import quote, urlsplit, urlunsplit

from setdown.catalogue.query import Answer

SCHEMES = ("http", "https", "file")


def link_moment(answer: Answer, start_ms: int) -> str:
    """The link, empty when the class has no recording or its address is of another kind."""
    return link_media(answer.media, answer.source, start_ms)


def link_media(media: str, source: str, start_ms: int) -> str:
    """The link to a recording; a relative path is one from the folder of ``source``."""
    address = find_address(media, source)
    if not address:
        return ""
    parts = urlsplit(address)
    at = f"t={max(start_ms, 0) / 1000:.3f}".rstrip("0").rstrip(".")
    kept = [part for part in parts.fragment.split("&") if part and not part.startswith("t=")]
    return urlunsplit(parts._replace(fragment="&".join([*kept, at])))


def find_address(media: str, source: str) -> str:
    """The address of a recording, empty when there is none that may be linked."""
    media = media.strip()
    if not media or any(ord(c) < 32 for c in media):
        return ""
    try:
        scheme = urlsplit(media).scheme.lower()
    except ValueError:
        return ""
    if scheme in SCHEMES and "://" in media:
        return quote(media, safe="/:?#[]@!$&'()*+,;=%~")
    if scheme and len(scheme) > 1 and ":" in media.split("/")[0]:
        return ""  # javascript:, data: and their like
    if PureWindowsPath(media).is_absolute():
        return PureWindowsPath(media).as_uri()
    folder = source.rpartition("/")[0]
    if "://" in folder:
        return quote(f"{folder}/{media}", safe="/:~") if folder.split("://")[0] in SCHEMES else ""
    path = PurePosixPath(folder or "/") / media
    return path.as_uri() if path.is_absolute() else quote(str(path))
