"""All patterns as one matcher over the tokens of a class.

The patterns become one graph of elements, and sets of places in it become the states of an automaton. A state, and its
way on for the symbols of a token, is only worked out when a class gets there, and then kept: a class of an hour meets a
small part of all the wordings that the patterns stand for. So the cost of a class is one walk per token, nearly always
ended at its first or second step.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from setdown.tag.quantities.pattern import Match, Rule, Way, parse_pattern
from setdown.tag.quantities.stream import Stream

_MOST_KEPT = 1 << 17  # ways from state to state that are remembered

#: A place in the graph, and where the covered words begin and end, in tokens from the start of the match; -1: not yet.
Place = tuple[int, int, int]


class State:
    """What may come next behind some tokens, and which patterns they complete.

    ``depth`` is how many tokens led here; ``complete`` holds (rule, begin, end) of the complete ones, in order of the
    rules; ``after`` the places behind each symbol; ``ways`` the states behind each set of symbols met so far.
    """

    __slots__ = ("after", "complete", "depth", "ways")

    def __init__(self, depth: int, complete: list[Place], after: dict[str, list[Place]]) -> None:
        self.depth = depth
        self.complete = complete
        self.after = after
        self.ways: dict[tuple[str, ...], State | None] = {}


class Grammar:
    """All rules, compiled. ``lexicon`` maps each word that patterns mention to the symbols it can match."""

    def __init__(
        self, rules: Iterable[Rule], classes: Mapping[str, frozenset[str]], closed: frozenset[str] = frozenset()
    ) -> None:
        self.rules = tuple(rules)
        self._elements: list[str] = []  # of each node of the graph; empty where ways part, and where a pattern ends
        self._next: list[tuple[int, ...]] = []  # the nodes behind it
        self._rule_at: dict[int, int] = {}  # the rules whose patterns end at a node
        self._reached: dict[int, list[Place]] = {}
        beginnings = [self._add_rule(number, rule) for number, rule in enumerate(self.rules)]
        self._check_classes(classes, beginnings)
        self.lexicon = _list_symbols(set(self._elements), classes, closed)
        places = [place for nodes in beginnings for node in nodes for place in self._reach(node)]
        self._states: dict[tuple[int, tuple[Place, ...]], State] = {}
        self._root = self._make_state(0, places)
        self._kept = 0

    def find(self, stream: Stream) -> list[Match]:
        """Every match of every pattern, in the order of their first tokens, then of their last."""
        if self._kept > _MOST_KEPT:
            self._forget()
        symbols, size, root = stream.symbols, len(stream), self._root
        found: list[Match] = []
        for start, here in enumerate(symbols):
            state = root.ways[here] if here in root.ways else self._go_on(root, here)
            at = start + 1
            while state is not None:
                for number, begin, end in state.complete:
                    found.append(_make_match(stream, self.rules[number], start, at, start + begin, start + end))
                if at == size:
                    break
                here = symbols[at]
                state = state.ways[here] if here in state.ways else self._go_on(state, here)
                at += 1
        return found

    def _add_rule(self, number: int, rule: Rule) -> list[int]:
        """Puts the patterns of a rule into the graph; the nodes where they begin."""
        self._rule_at[len(self._elements)] = number
        last = self._add_node("", ())
        return [self._add_ways(parse_pattern(pattern), last) for pattern in rule.patterns]

    def _add_ways(self, ways: list[Way], last: int) -> int:
        beginnings: list[int] = []
        for way in ways:
            node = last
            for element in reversed(way):
                node = self._add_node(element, (node,)) if isinstance(element, str) else self._add_ways(element, node)
            beginnings.append(node)
        return beginnings[0] if len(beginnings) == 1 else self._add_node("", tuple(beginnings))

    def _add_node(self, element: str, behind: tuple[int, ...]) -> int:
        self._elements.append(element)
        self._next.append(behind)
        return len(self._elements) - 1

    def _check_classes(self, classes: Mapping[str, frozenset[str]], beginnings: list[list[int]]) -> None:
        for node, element in enumerate(self._elements):
            if element[:1] == "@" and element[1:] not in classes:
                rule = next(r for r, nodes in zip(self.rules, beginnings, strict=True) if node <= max(nodes))
                raise ValueError(f"no word class {element!r} (rule {rule.name!r})")

    def _reach(self, node: int) -> list[Place]:
        """The elements and ends that can be next from a node. 0 as begin or end: a brace is passed on the way there."""
        known = self._reached.get(node)
        if known is None:
            element = self._elements[node]
            if element in ("{", "}"):
                (behind,) = self._next[node]
                opens, closes = (0, -1) if element == "{" else (-1, 0)
                known = [(n, max(begin, opens), max(end, closes)) for n, begin, end in self._reach(behind)]
            elif element or not self._next[node]:
                known = [(node, -1, -1)]
            else:
                known = [place for behind in self._next[node] for place in self._reach(behind)]
            self._reached[node] = known
        return known

    def _go_on(self, state: State, symbols: tuple[str, ...]) -> State | None:
        """The state behind a token with these symbols; ``None`` when no pattern goes on."""
        depth = state.depth + 1
        after = state.after
        places: list[Place] = []
        for symbol in symbols:
            for node, begin, end in after.get(symbol, ()):
                for behind, opens, closes in self._reach(node):
                    places.append((behind, depth if opens == 0 else begin, depth if closes == 0 else end))
        following = self._make_state(depth, places) if places else None
        state.ways[symbols] = following
        self._kept += 1
        return following

    def _make_state(self, depth: int, places: list[Place]) -> State:
        key = depth, tuple(sorted(set(places)))
        state = self._states.get(key)
        if state is None:
            complete: set[Place] = set()
            after: dict[str, list[Place]] = {}
            for node, begin, end in key[1]:
                if node in self._rule_at:
                    complete.add((self._rule_at[node], max(begin, 0), end if end >= 0 else depth))
                else:
                    (behind,) = self._next[node]
                    after.setdefault(self._elements[node], []).append((behind, begin, end))
            state = self._states[key] = State(depth, sorted(complete), after)
        return state

    def _forget(self) -> None:
        self._states.clear()
        self._root.ways.clear()
        self._kept = 0


def _list_symbols(
    elements: set[str], classes: Mapping[str, frozenset[str]], closed: frozenset[str]
) -> dict[str, tuple[str, ...]]:
    """What each word that a pattern mentions can match: itself, its classes, and unless it is closed any word."""
    symbols: dict[str, list[str]] = {}
    for element in sorted(elements):
        if element[:1] == "@":
            for word in classes[element[1:]]:
                symbols.setdefault(word, []).append(element)
        elif element not in ("", "_", "{", "}") and element[0] != "#":
            symbols.setdefault(element, []).append(element)
    for word in closed:
        symbols.setdefault(word, [])
    return {word: tuple(own) if word in closed else (*own, "_") for word, own in symbols.items()}


def _make_match(stream: Stream, rule: Rule, outer_start: int, outer_end: int, start: int, end: int) -> Match:
    number = stream.number
    tokens = [t for t in range(start, end) if number[t] >= 0]
    return Match(stream, rule, start, end, outer_start, outer_end, [stream.numbers[number[t]] for t in tokens], tokens)
