"""The corruption tool: the same every time, nothing at strength 0, worse with strength, and each kind does its own."""

from __future__ import annotations

import itertools
import subprocess
import sys
from pathlib import Path

import pytest

from corrupt.captions import Captions, format_vtt, format_words_json, list_words, take_captions
from corrupt.curve import format_curves, list_mixtures
from corrupt.degrade import BLOCKS_S, KINDS, degrade, measure_word_errors
from corrupt.soundalike import list_soundalikes, load_misheard, plain, split_compound
from setdown.read import parse_transcript

SAMPLES = Path(__file__).resolve().parents[2] / "samples"
STRENGTHS = (0.25, 0.5, 0.75, 1.0)
WORD_KINDS = ("sound-alikes", "compounds", "numbers", "dropped", "doubled", "repeats", "made-up")
LINES = """
Right, goblet squat: ten of them, twelve kilos. Ready, and go!
One, two, three. Keep your chest up, push through your heels.
Four, five, halfway there. Shoulder press is next, no deadlift today.
Six, seven. Breathe out on the way up. Eight, nine, and ten.
And rest. Shake it out, drink some water, then push-ups.
"""


@pytest.fixture(scope="module")
def said() -> Captions:
    """Sixty captions with a silence after every fifth."""
    lines = [line for _ in range(12) for line in LINES.strip().splitlines()]
    blocks, now = [], 1.0
    for n, line in enumerate(lines):
        blocks.append(
            f"{int(now) // 60:02d}:{now % 60:06.3f} --> {int(now + 4) // 60:02d}:{(now + 4) % 60:06.3f}\n{line}"
        )
        now += 4.1 + (20 if n % 5 == 4 else 0)
    return take_captions(parse_transcript(("WEBVTT\n\n" + "\n\n".join(blocks)).encode(), name="class.vtt"))


def list_texts(captions: Captions) -> list[str]:
    return [w.text for w in list_words(captions)]


@pytest.mark.parametrize("kind", [*KINDS, "all"])
def test_strength_nought_is_the_identity_and_a_seed_is_a_promise(said, kind):
    """Nothing changes at 0; the same seed gives the same bytes, another seed others."""
    kinds = tuple(KINDS) if kind == "all" else (kind,)
    assert degrade(said, 0.0, 1, kinds) == said
    made = [format_words_json(degrade(said, 0.7, seed, kinds)) for seed in (1, 1, 2)]
    assert made[0] == made[1] != format_words_json(said)
    assert made[0] != made[2] or kind == "blocks"


@pytest.mark.parametrize("seed", range(1, 6))
@pytest.mark.parametrize("kind", [*WORD_KINDS, "all"])
def test_more_strength_means_more_wrong_words(said, kind, seed):
    """The word error rate never falls with strength, and at full strength there is some."""
    kinds = WORD_KINDS if kind == "all" else (kind,)
    rates = [measure_word_errors(said, degrade(said, s, seed, kinds)) for s in STRENGTHS]
    assert rates == sorted(rates)
    assert rates[-1] > 0
    assert rates[-1] > rates[0] or kind == "repeats"


def test_word_errors_counted_by_hand(said):
    """One word of three other, one missing, one too many; case and punctuation are no errors."""

    def take(text: str) -> Captions:
        return take_captions(parse_transcript(f"WEBVTT\n\n00:01.000 --> 00:04.000\n{text}\n".encode(), name="x.vtt"))

    assert measure_word_errors(take("Squat, now! Go."), take("squat now go")) == 0
    assert measure_word_errors(take("squat now go"), take("squad now")) == pytest.approx(2 / 3)
    assert measure_word_errors(take("squat now go"), take("and squat now go")) == pytest.approx(1 / 3)


def test_each_kind_does_what_it_says(said):
    """At full strength: what each of them leaves, and what it must not touch."""
    words = list_texts(said)
    full = {kind: degrade(said, 1.0, 3, (kind,)) for kind in KINDS}
    assert [w.lower().strip(".,!:") for w in words] == list_texts(full["punctuation"])
    heard = " ".join(list_texts(full["sound-alikes"]))
    assert any(" ".join(way) in heard for way in load_misheard()["goblet", "squat"])
    now = {w.number: w.text for w in list_words(full["sound-alikes"])}
    assert any(now.get(w.number) in list_soundalikes(plain(w.text)) for w in list_words(said))
    assert len(list_words(full["dropped"])) < len(words) < len(list_words(full["doubled"]))
    assert set(list_texts(full["dropped"])) <= set(words) >= set(list_texts(full["doubled"]))
    compounds = list_texts(full["compounds"])
    assert "dead" in compounds and "lift" in compounds
    assert compounds.count("deadlift") < words.count("deadlift") / 2
    kept = sum(t.strip(".,:").lower() in ("ten", "twelve") for t in list_texts(full["numbers"]))
    assert kept < sum(t.strip(".,:").lower() in ("ten", "twelve") for t in words)
    assert any("watching" in c.text or c.text in ("you", "bye") for c in full["made-up"])
    loops = [c.text for seed in range(5) for c in degrade(said, 1.0, seed, ("loops",))]
    assert any(len(list(run)) >= 3 for _, run in itertools.groupby(loops))
    moved = full["times"]
    assert list_texts(moved) == words
    assert [c.start for c in moved] == sorted(c.start for c in moved)
    assert [c.start for c in moved] != [c.start for c in said]


@pytest.mark.parametrize(("strength", "limit"), [*zip((0.3, 0.6, 1.0), BLOCKS_S, strict=True)])
def test_blocks_hold_their_length(said, strength, limit):
    """Blocks of at most 20, 40 and 60 seconds, most of them nearly full, with all words in order."""
    blocks = degrade(said, strength, 1, ("blocks",))
    assert list_words(blocks) == list_words(said)
    lengths = sorted(c.end - c.start for c in blocks)
    assert lengths[-1] <= limit
    assert lengths[len(lengths) // 2] > limit / 2


def test_what_is_written_is_read_again(said):
    """Both forms give the words and, to a hundredth of a second, the times back."""
    heard = degrade(said, 0.5, 4, ("sound-alikes", "dropped", "times"))
    for text, name in ((format_vtt(heard), "x.vtt"), (format_words_json(heard), "x.words.json")):
        again = take_captions(parse_transcript(text.encode(), name=name))
        assert list_texts(again) == list_texts(heard)
        assert [c.start for c in again] == pytest.approx([c.start for c in heard], abs=0.01)


def test_wrong_orders_are_refused(said):
    """A strength beyond 1, a kind that does not exist."""
    with pytest.raises(ValueError, match=r"1\.5 is not from 0 to 1"):
        degrade(said, 1.5)
    with pytest.raises(ValueError, match="unknown kinds: noise"):
        degrade(said, 0.5, 1, ("noise",))


def test_sound_alikes_share_their_code():
    """By Double Metaphone: 'knight' and 'night' (an example of its author's, from memory) sound the same."""
    from metaphone import doublemetaphone

    assert doublemetaphone("knight") == doublemetaphone("night")
    for word in ("weight", "press", "knees"):
        others = list_soundalikes(word)
        assert others and word not in others
        assert {doublemetaphone(o)[0] for o in others} == {doublemetaphone(word)[0]}
    assert list_soundalikes("12") == ()


@pytest.mark.parametrize(
    ("word", "parts"), [("push-up", ("push", "up")), ("deadlift", ("dead", "lift")), ("plank", None), ("go", None)]
)
def test_compounds(word, parts):
    """Hyphens and words of two words; nothing else."""
    assert split_compound(word) == parts


def test_table_of_curves():
    """One row a mixture; with all kinds, the two mixtures of them."""
    assert [*list_mixtures(["numbers"])] == ["numbers"]
    assert [*list_mixtures([*KINDS])] == [*KINDS, "all but blocks", "all"]
    assert format_curves({"numbers": {0.0: 0.8, 1.0: 0.664}}, {"numbers": 0.05}).splitlines() == [
        "| corruption | 0.00 | 1.00 | words wrong |",
        "|---|--:|--:|--:|",
        "| numbers | 80 | 66 | 5 % |",
    ]


def test_command(tmp_path):
    """From a sample to a worse one, with the error rate told."""
    tool = Path(__file__).with_name("degrade.py")
    sample = sorted(SAMPLES.glob("*.vtt"))[0]
    out = tmp_path / "worse.vtt"
    command = [sys.executable, str(tool), str(sample), str(out), "--strength", "0.6", "--kind", "dropped"]
    ran = subprocess.run(command, capture_output=True, check=True, encoding="utf-8")
    assert "of the words wrong" in ran.stdout
    assert 0 < out.stat().st_size < sample.stat().st_size * 1.5
