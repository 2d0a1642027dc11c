"""The folder of a demonstration: invented classes that are shipped with the package, and what is made of them."""

from __future__ import annotations

from importlib import resources
from pathlib import Path

from setdown.errors import SetdownError
from setdown.files import write_file

NOTE = "ABOUT-THIS-FOLDER"  # no ending that the catalogue takes for a transcript
# What a file is called in the folder, and the sample that it is.
FILES = {
    "class.vtt": "quayside-strength.vtt",
    "class.meta.toml": "quayside-strength.meta.toml",
    "recordings/kettlebell.srt": "allotment-kettlebell.srt",
    "recordings/kettlebell.meta.toml": "allotment-kettlebell.meta.toml",
    "recordings/stretch.txt": "slipway-stretch.txt",
    "recordings/stretch.meta.toml": "slipway-stretch.meta.toml",
}
MADE = ("class.routine.*", "class.csv", "catalogue.setdown*", "out/class.*")  # by the commands of the demonstration
NOTE_TEXT = """This folder was made by "setdown demo". Its classes and people are invented.

class.vtt             captions of a short class
class.meta.toml       what is known about it: title, instructor, day
recordings/           two more classes, in other formats
class.routine.json    the routine that was set down from class.vtt, reviewed
class.csv             its set sheet, for a spreadsheet
out/                  what was published of it
catalogue.setdown     the index of all three

The examples of "setdown COMMAND --help" can be tried in here.
"setdown demo" with --replace makes these files anew, and leaves any other in peace.
"""


def find_samples() -> Path:
    """The folder of the samples: ``_samples`` inside the installed package, or the checkout's top-level ``samples``.

    Raises:
        SetdownError: they are in neither.
    """
    packaged = Path(str(resources.files("setdown"))) / "_samples"
    checkout = Path(__file__).resolve().parents[3] / "samples"
    for folder in (packaged, checkout):
        if all((folder / sample).is_file() for sample in FILES.values()):
            return folder
    raise SetdownError("the sample classes are missing", source=str(packaged), hint="Install Setdown again")


def prepare_folder(folder: Path, *, replace: bool = False) -> None:
    """Write the sample classes into a new or empty folder; with ``replace`` also into one of an earlier demonstration.

    Of the latter, what the demonstration made is removed first; nothing else is touched. A folder that holds anything
    but a demonstration is never written into.

    Raises:
        SetdownError: it is a file, holds something else, or an earlier demonstration and ``replace`` is false.
        OSError: it cannot be written.
    """
    samples = find_samples()
    if "\0" in str(folder) or not _is_text(str(folder)):
        raise SetdownError("this name cannot be shown", source=str(folder), expected="text", hint="Give another name")
    if folder.exists() and not folder.is_dir():
        raise SetdownError("this is a file", source=str(folder), expected="a new folder", hint="Give another name")
    if folder.is_dir() and any(folder.iterdir()):
        if not _is_ours(folder):
            hint = f"Name one that is not there yet, such as {folder / 'setdown-demo'}"
            raise SetdownError("this folder holds other files", source=str(folder), expected="a new folder", hint=hint)
        if not replace:
            hint = "Add --replace to make it anew: edits of its class are lost"
            raise SetdownError("this demonstration is there already", source=str(folder), hint=hint)
        for pattern in MADE:
            for old in folder.glob(pattern):
                if old.is_file() or old.is_symlink():
                    old.unlink()
    (folder / "recordings").mkdir(parents=True, exist_ok=True)
    write_file(folder / NOTE, NOTE_TEXT.encode("utf-8"), replace=replace)
    for name, sample in FILES.items():
        lines = (samples / sample).read_bytes().splitlines(keepends=True)
        # The recordings of the samples are not shipped, so no link shall lead to them.
        data = b"".join(line for line in lines if not (name.endswith(".toml") and line.startswith(b"media")))
        write_file(folder / name, data, replace=replace)


def _is_text(name: str) -> bool:
    """Whether the name is text at all: bytes that are no UTF-8 reach us as lone surrogates."""
    try:
        name.encode("utf-8")
    except UnicodeEncodeError:
        return False
    return True


def _is_ours(folder: Path) -> bool:
    note = folder / NOTE
    return note.is_file() and note.read_bytes().startswith(NOTE_TEXT.encode("utf-8").splitlines()[0])
