"""Phrases of structure and coaching: the notation, the files, and finding them in the words of a class."""

from __future__ import annotations

import tomllib
from functools import cache

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from spacy.matcher import PhraseMatcher
from spacy.tokens import Doc
from spacy.vocab import Vocab

from setdown.errors import SetdownError
from setdown.lexicon import find_lexicon_folder
from setdown.lexicon.phrases import MAX_EXPANSIONS, PhraseFinder, expand_pattern, load_phrases

FOLDER = find_lexicon_folder() / "phrases"
WORD = st.text("abc", min_size=1, max_size=3)
SLOT = st.tuples(st.lists(WORD, min_size=1, max_size=3, unique=True), st.booleans())


def read_patterns() -> list[tuple[str, str]]:
    """(kind, pattern) of every pattern that is shipped."""
    found = []
    for path in sorted(FOLDER.glob("*.toml")):
        for kind, table in tomllib.loads(path.read_text(encoding="utf-8")).items():
            found += [(kind, pattern) for pattern in table["phrases"]]
    return found


def test_every_shipped_pattern_can_be_said():
    """Each stands for at least one phrase of lower-case words without punctuation."""
    patterns = read_patterns()
    assert len(patterns) > 500
    for kind, pattern in patterns:
        phrases = expand_pattern(pattern)
        assert phrases, (kind, pattern)
        for phrase in phrases:
            for word in phrase:
                assert word == word.lower().strip('.,;:!?"()'), (kind, pattern)


def test_no_pattern_stands_twice_in_a_kind():
    """A phrase that is written twice was meant to be another."""
    patterns = read_patterns()
    assert sorted(p for p in set(patterns) if patterns.count(p) > 1) == []


def test_every_kind_says_what_it_is_about():
    """For whoever reads or extends the file."""
    assert all(kind.about for kind in load_phrases(FOLDER).values())


@pytest.mark.parametrize(
    ("pattern", "phrases"),
    [
        ("go", {"go"}),
        ("and go", {"and go"}),
        ("set|put it down?", {"set it down", "set it", "put it down", "put it"}),
        ("one|two more?", {"one", "one more", "two", "two more"}),
        ("rest?", {"rest"}),
    ],
)
def test_patterns_are_written_out(pattern, phrases):
    """Either word of ``a|b``, with and without ``word?``; never a phrase of no words."""
    assert {" ".join(p) for p in expand_pattern(pattern)} == phrases


@given(st.lists(SLOT, min_size=1, max_size=4))
def test_a_pattern_stands_for_every_choice(slots):
    """As many phrases as there are choices at most, each made of one choice per place in order."""
    pattern = " ".join("|".join(choices) + ("?" if optional else "") for choices, optional in slots)
    phrases = expand_pattern(pattern)
    assert phrases == sorted(set(phrases))
    assert () not in phrases
    count = 1
    for choices, optional in slots:
        count *= len(choices) + optional
    assert 1 <= len(phrases) <= count
    assert tuple(choices[-1] for choices, _ in slots) in phrases
    needed = [set(choices) for choices, optional in slots if not optional]
    assert all(len(p) >= len(needed) and all(set(p) & n for n in needed) for p in phrases)


@pytest.mark.parametrize("pattern", ["", "  ", "a||b", "|a", "a| b", " ".join(["a|b"] * 9)])
def test_bad_patterns_raise(pattern):
    """Nothing to say, an empty choice, more phrases than anyone can have meant."""
    assert MAX_EXPANSIONS < 2**9
    with pytest.raises(ValueError, match="pattern"):
        expand_pattern(pattern)


@pytest.mark.parametrize(
    ("text", "problem"),
    [
        ("[go\n", "not TOML"),
        ("[go]\nabout = 'x'\n", r"\[go\] has no list 'phrases'"),
        ("[go]\nphrases = 'go'\n", r"\[go\] has no list 'phrases'"),
        ("go = 1\n", r"\[go\] has no list 'phrases'"),
        ("[go]\nphrases = ['a||b']\n", "empty word"),
    ],
)
def test_a_bad_file_is_named(tmp_path, text, problem):
    """The error says which file and what is wrong with it."""
    (tmp_path / "talk.toml").write_text(text, encoding="utf-8")
    with pytest.raises(SetdownError, match=problem) as caught:
        load_phrases(tmp_path)
    assert caught.value.source == str(tmp_path / "talk.toml")


def test_a_kind_stands_in_one_file(tmp_path):
    """Two tables of one name would hide each other."""
    for name in ("a.toml", "b.toml"):
        (tmp_path / name).write_text("[go]\nphrases = ['go']\n", encoding="utf-8")
    with pytest.raises(SetdownError, match="two files"):
        load_phrases(tmp_path)


@pytest.fixture
def finder(tmp_path) -> PhraseFinder:
    """A finder of two kinds."""
    text = "[go]\nphrases = ['go', 'and go', 'go go go']\n[rest]\nphrases = ['and rest', 'go']\n"
    (tmp_path / "talk.toml").write_text(text, encoding="utf-8")
    return PhraseFinder(tmp_path)


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("", []),
        ("nothing here", []),
        ("and rest", [("rest", 0, 2)]),
        ("and go", [("go", 0, 2), ("rest", 1, 2)]),
        ("go go go go", [("rest", 0, 1), ("go", 0, 3), ("rest", 1, 2), ("rest", 2, 3), ("go", 3, 4), ("rest", 3, 4)]),
        ("Go", []),
    ],
)
def test_the_longest_phrase_of_a_kind_wins(finder, text, found):
    """Kinds do not hide each other; phrases of one kind do not overlap; words are compared as they are normalised."""
    assert finder.find(text.split()) == found


@given(st.lists(st.sampled_from(sorted({word for _, pattern in read_patterns()[::9] for word in pattern.split()}))))
@settings(deadline=None)
def test_phrases_are_found_as_spacy_finds_them(words):
    """The same places as spaCy's PhraseMatcher (outside reference), once overlaps of one kind are taken out."""
    found = _shipped_finder().find(words)
    expected: list[tuple[str, int, int]] = []
    for kind, start, end in sorted(_match_with_spacy(words), key=lambda hit: (hit[0], hit[1], -hit[2])):
        if not (expected and expected[-1][0] == kind and start < expected[-1][2]):
            expected.append((kind, start, end))
    assert found == sorted(expected, key=lambda hit: (hit[1], hit[2], hit[0]))


@cache
def _shipped_finder() -> PhraseFinder:
    return PhraseFinder(FOLDER)


@cache
def _build_matcher() -> PhraseMatcher:
    matcher = PhraseMatcher(Vocab(), attr="ORTH")
    for kind in load_phrases(FOLDER).values():
        matcher.add(kind.name, [Doc(matcher.vocab, words=list(phrase)) for phrase in sorted(kind.phrases)])
    return matcher


def _match_with_spacy(words: list[str]) -> list[tuple[str, int, int]]:
    matcher = _build_matcher()
    strings = matcher.vocab.strings
    hits = matcher(Doc(matcher.vocab, words=words)) if words else []
    return [(strings[key], start, end) for key, start, end in hits]
