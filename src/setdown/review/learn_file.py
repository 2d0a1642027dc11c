"""Proposals as entries of a coach's own lexicon (TOML), and adding them to a file without changing what is there."""

from __future__ import annotations

import json
import tempfile
import tomllib
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from setdown.errors import SetdownError
from setdown.files import read_text, write_file
from setdown.lexicon import Lexicon
from setdown.lexicon.own import read_own_lexicon
from setdown.model.timecode import format_clock
from setdown.review.learn import Instance, Proposal

MOST_SHOWN = 5  # instances that are listed with an entry
KEYS = {"movement": ("name",), "misheard": ("heard", "said"), "alias": ("said", "means")}


@dataclass(frozen=True, slots=True)
class Added:
    """What came of adding: entries that were written, and those that the file has in another meaning already."""

    added: tuple[Proposal, ...]
    refused: tuple[Proposal, ...]


def format_proposals(proposals: Sequence[Proposal]) -> str:
    """The entries as TOML, each under its evidence; valid for ``--lexicon``."""
    return "\n".join(map(_format_one, proposals))


def add_proposals(path: Path, proposals: Sequence[Proposal], lexicon: Lexicon) -> Added:
    """Write the entries at the end of an own lexicon, or into a new one. Nothing that is in the file is changed.

    An entry that the file has is passed over; one that it has in another meaning is refused.

    Raises:
        SetdownError: the file is no own lexicon, or would not be one with the entries.
        OSError: the file cannot be read or written.
    """
    before = read_text(path) if path.exists() else ""
    if before:
        read_own_lexicon(path)
    known = _list_known(tomllib.loads(before))
    added, refused = [], []
    for proposal in proposals:
        key = proposal.kind, (proposal.words or proposal.name)
        if key not in known:
            added.append(proposal)
            known[key] = proposal.name
        elif known[key] != proposal.name:
            refused.append(proposal)
    if added:
        gap = "" if not before else "\n" if before.endswith("\n") else "\n\n"
        text = before + gap + format_proposals(added)
        _check(text, path, lexicon)
        write_file(path, text.encode("utf-8"), replace=True)
    return Added(tuple(added), tuple(refused))


def _list_known(tables: dict[str, Any]) -> dict[tuple[str, str], str]:
    """What the file says already: (kind, words) -> meaning."""
    found: dict[tuple[str, str], str] = {}
    for kind, keys in KEYS.items():
        for row in tables.get(kind, ()):
            found[kind, str(row[keys[0]]).lower().removesuffix("?")] = str(row[keys[-1]]).lower().removesuffix("?")
    return found


def _check(text: str, path: Path, lexicon: Lexicon) -> None:
    with tempfile.TemporaryDirectory() as folder:
        trial = Path(folder) / path.name
        trial.write_text(text, encoding="utf-8")
        try:
            read_own_lexicon(trial).put_on(lexicon.data)
        except SetdownError as error:
            error.source = str(path)
            raise


def _format_one(proposal: Proposal) -> str:
    lines = [f"# {_tell(one)}" for one in proposal.instances[:MOST_SHOWN]]
    more = len(proposal.instances) - MOST_SHOWN
    lines += [f"# and {more} more"] if more > 0 else []
    lines += [f"# note: {proposal.note}"] if proposal.note else []
    values = (proposal.name,) if proposal.kind == "movement" else (proposal.words, proposal.name)
    pairs = zip(KEYS[proposal.kind], values, strict=True)
    lines += [f"[[{proposal.kind}]]", *(f"{key} = {json.dumps(value, ensure_ascii=False)}" for key, value in pairs)]
    return "\n".join(lines) + "\n"


def _tell(one: Instance) -> str:
    said = f'the caption has "{one.said}"' if one.said else "no words"
    at = format_clock(round(one.start * 1000))
    text = f"{one.source} at {at}: {said}; named by {one.mark.by}, {one.mark.at[:10]}"
    return "".join(c if c.isprintable() else " " for c in text)
