"""The documents: frozen examples of every version, the schema, and what every class of them promises."""

from __future__ import annotations

import inspect
import json
import types
from collections import defaultdict
from collections.abc import Iterator
from pathlib import Path
from typing import Annotated, Any, Union, get_args, get_origin

import jsonschema
import pytest

from tussock import units
from tussock.documents import Bundle, Trip, read_bundle, read_document
from tussock.documents.base import VERSION, Figure, In, Model
from tussock.documents.bundle import AnyDocument
from tussock.documents.migrate import migrate
from tussock.errors import Refused

FIXTURES = Path(__file__).parent / "fixtures"
SINGLE = sorted(path for path in FIXTURES.glob(f"v{VERSION}/*.json") if path.name != "bundle.json")
BUNDLES = sorted(FIXTURES.glob(f"v{VERSION}/bundle.json"))


def named(path: Path) -> str:
    return f"{path.parent.name}/{path.stem}"


def load(path: Path) -> dict[str, Any]:
    return json.loads(path.read_text(encoding="utf-8"))


def plain(document: Model) -> Any:
    """A document as it is written: what was given, nothing else."""
    return document.model_dump(mode="json", exclude_unset=True)


@pytest.fixture(scope="module")
def schema() -> dict[str, Any]:
    return Bundle.model_json_schema()


# --- frozen examples -------------------------------------------------------------------------------------


def test_there_is_an_example_of_every_kind() -> None:
    kinds = {kind.model_fields["kind"].annotation.__args__[0] for kind in _documents()}
    assert {load(path)["kind"] for path in SINGLE if path.parent.name == f"v{VERSION}"} == kinds


@pytest.mark.parametrize("path", SINGLE, ids=named)
def test_a_frozen_example_reads_back_to_the_byte(path: Path) -> None:
    document = read_document(load(path))
    if path.parent.name == f"v{VERSION}":
        again = json.dumps(plain(document), ensure_ascii=False, indent=1) + "\n"
        assert again == path.read_text(encoding="utf-8")


@pytest.mark.parametrize("path", BUNDLES, ids=named)
def test_a_frozen_bundle_is_accepted_without_a_warning(path: Path) -> None:
    accepted = read_bundle(path.read_bytes())
    assert accepted.warnings == []
    given = load(path)
    assert [plain(document) for document in accepted.bundle.documents] == given["documents"]
    assert plain(accepted.bundle.open) == given["open"]
    assert {name: plain(stamp) for name, stamp in accepted.bundle.removed.items()} == given["removed"]


@pytest.mark.parametrize("path", [*SINGLE, *BUNDLES], ids=named)
def test_the_examples_are_valid_by_the_json_schema_too(path: Path, schema: dict[str, Any]) -> None:
    data = load(path)
    if "kind" in data:
        data = {"format": "tussock", "version": VERSION, "documents": [data]}
    jsonschema.Draft202012Validator(schema).validate(data)


@pytest.mark.parametrize("path", SINGLE, ids=named)
def test_written_and_read_again_it_is_equal(path: Path) -> None:
    document = read_document(load(path))
    whole = json.loads(document.model_dump_json())
    assert read_document(whole) == document
    assert read_document(plain(document)) == document


@pytest.mark.parametrize("path", [*SINGLE, *BUNDLES], ids=named)
def test_what_was_typed_says_the_number_that_is_stored(path: Path) -> None:
    """Else a form would show a text that belongs to another number."""
    seen = 0
    for figure in _figures(load(path)):
        if figure.get("typed"):
            assert _read(figure["typed"]) == pytest.approx(figure["value"], rel=1e-12), figure
            seen += 1
    assert seen or "air" in path.stem or path.stem in ("lesson", "settings")


def _read(text: str) -> float:
    symbol = text.split(" ", 1)[1] if " " in text else "1"
    return units.parse(text, units.SI[units.unit(symbol).dimension])


def _figures(node: Any) -> Iterator[dict[str, Any]]:
    if isinstance(node, dict):
        if "origin" in node and "value" in node:
            yield node
        for child in node.values():
            yield from _figures(child)
    elif isinstance(node, list):
        for child in node:
            yield from _figures(child)


def test_every_field_of_every_class_is_used_by_some_example() -> None:
    """So that no field can change its shape without a frozen example that notices."""
    used: dict[type[Model], set[str]] = defaultdict(set)
    for path in SINGLE:
        if path.parent.name == f"v{VERSION}":
            for found in _walk(read_document(load(path))):
                for name in found.model_fields_set:
                    used[_source(type(found), name)].add(name)
    for path in BUNDLES:
        bundle = read_bundle(path.read_bytes()).bundle
        for found in (bundle.open, *bundle.removed.values()):
            used[type(found)] |= found.model_fields_set
    lacking = {
        f"{kind.__name__}.{name}"
        for kind in _classes()
        if kind is not Bundle
        for name in kind.model_fields
        if name not in used[_source(kind, name)]
    }
    assert lacking == set()


def _source(kind: type[Model], name: str) -> type[Model]:
    """The class that declares a field: fields of `Entry` need not be filled in every kind of entry."""
    return next(one for one in kind.__mro__ if name in inspect.get_annotations(one))


def _walk(node: Any) -> Iterator[Model]:
    if isinstance(node, Model):
        yield node
        for name in node.model_fields_set:
            yield from _walk(getattr(node, name))
    elif isinstance(node, dict):
        for child in node.values():
            yield from _walk(child)
    elif isinstance(node, list):
        for child in node:
            yield from _walk(child)


def _documents() -> tuple[type[Model], ...]:
    return get_args(get_args(AnyDocument)[0])


def _classes() -> set[type[Model]]:
    """Every class that a bundle may hold."""
    found: set[type[Model]] = set()
    waiting: list[Any] = [Bundle]
    while waiting:
        here = waiting.pop()
        if isinstance(here, type) and issubclass(here, Model):
            if here not in found:
                found.add(here)
                waiting += [field.annotation for field in here.model_fields.values()]
        else:
            waiting += [part for part in get_args(here) if not isinstance(part, (str, int))]
    return found


# --- what every class promises ---------------------------------------------------------------------------


def _declared(kind: type[Model]) -> Iterator[tuple[str, In]]:
    for name, field in kind.model_fields.items():
        yield from ((f"{kind.__name__}.{name}", part) for part in _ins([*field.metadata, field.annotation]))


def _ins(parts: list[Any]) -> Iterator[In]:
    for part in parts:
        if isinstance(part, In):
            yield part
        elif get_origin(part) is Annotated or get_origin(part) in (list, dict, tuple, Union, types.UnionType):
            yield from _ins(list(get_args(part)))


def test_every_dimension_has_its_si_unit_and_a_range_that_is_one() -> None:
    declared = [one for kind in _classes() for one in _declared(kind)]
    assert len(declared) > 100
    # degrees of latitude and longitude are the one exception to SI
    known = units.SI | {"latitude": "deg", "longitude": "deg"}
    for name, part in declared:
        assert known.get(part.dimension) == part.unit, name
        assert part.low is None or part.high is None or part.low < part.high, name


def test_every_figure_says_its_dimension() -> None:
    """A bare figure could be typed in any unit: a form would not know which."""
    bare = [
        f"{kind.__name__}.{name}"
        for kind in _classes()
        for name, field in kind.model_fields.items()
        if _mentions_figure(field.annotation) and not list(_ins([*field.metadata, field.annotation]))
    ]
    assert bare == []


def _mentions_figure(annotation: Any) -> bool:
    return annotation is Figure or any(_mentions_figure(part) for part in get_args(annotation))


#: lists that are edited as a whole: their order and number are their meaning
WHOLE = {
    "WeighedOnScales.scales",
    "Envelope.vertices",
    "OwnerLimits.mass_caps",
    "FlapSetting.correction",
    "Ground.segments",
    "FixedPitch.blades",
    "ConstantSpeed.efficiency",
}


def test_elements_of_lists_have_names_for_stamps_or_are_edited_as_a_whole() -> None:
    for kind in _classes() - {Bundle}:
        for name, field in kind.model_fields.items():
            for element in _elements(field.annotation):
                whole = f"{kind.__name__}.{name}" in WHOLE
                assert whole != (element.key in element.model_fields), f"{kind.__name__}.{name}"


def _elements(annotation: Any) -> Iterator[type[Model]]:
    if get_origin(annotation) is list:
        yield from _models(get_args(annotation)[0])
    else:
        for part in get_args(annotation):
            yield from _elements(part)


def _models(annotation: Any) -> Iterator[type[Model]]:
    if isinstance(annotation, type) and issubclass(annotation, Model):
        yield annotation
    else:
        for part in get_args(annotation):
            yield from _models(part)


@pytest.mark.parametrize("path", SINGLE, ids=named)
def test_stamps_point_at_what_is_there(path: Path) -> None:
    document = read_document(load(path))
    for pointer in document.stamps:
        assert _follow(document, pointer) is not None, pointer
    for pointer in document.removed:
        assert _follow(document, pointer) is None, pointer


def _follow(node: Any, pointer: str) -> Any:
    """What a stamp's pointer names: fields by name, elements of lists by their key."""
    for part in pointer.split("/")[1:]:
        if isinstance(node, list):
            node = next((one for one in node if getattr(one, type(one).key) == part), None)
        else:
            node = getattr(node, part, None)
    return node


def test_the_schema_carries_dimension_unit_and_range(schema: dict[str, Any]) -> None:
    field = schema["$defs"]["Vertex"]["properties"]["mass"]
    assert (field["dimension"], field["unit"], field["low"], field["high"]) == ("mass", "kg", 0, 20_000)
    length = schema["$defs"]["Segment"]["properties"]["length"]
    assert length["above"] is True
    tags = schema["properties"]["documents"]["items"]["discriminator"]["mapping"]
    assert set(tags) == {load(path)["kind"] for path in SINGLE}


# --- versions --------------------------------------------------------------------------------------------


@pytest.mark.parametrize("version", [2, 99, 10**30])
def test_a_newer_version_is_refused_in_words(version: int) -> None:
    with pytest.raises(Refused) as refusal:
        read_document(load(SINGLE[0]) | {"version": version})
    assert refusal.value.code == "newer_version"
    assert refusal.value.path == "/version"
    with pytest.raises(Refused) as refusal:
        read_bundle({"format": "tussock", "version": version, "documents": []})
    assert refusal.value.code == "newer_version"


@pytest.mark.parametrize("version", [-1, -7])
def test_an_older_version_without_a_way_is_refused(version: int) -> None:
    with pytest.raises(Refused) as refusal:
        migrate({"version": version}, "")
    assert refusal.value.code == "not_supported"


@pytest.mark.parametrize("version", ["1", 1.0, True, None, [1]])
def test_a_version_is_a_whole_number(version: Any) -> None:
    with pytest.raises(Refused) as refusal:
        read_document(load(SINGLE[0]) | {"version": version})
    assert (refusal.value.code, refusal.value.path) == ("wrong_type", "/version")


# --- finding things in a bundle --------------------------------------------------------------------------


def test_a_bundle_finds_by_class_and_id() -> None:
    bundle = read_bundle(BUNDLES[0].read_bytes()).bundle
    assert bundle.of(Trip, "week") is bundle.by_id["week"]
    assert bundle.of(Trip, "dabchick") is None
    assert bundle.of(Trip, None) is None
    assert bundle.items["tent-one"].name == "Tent"


def test_a_trip_without_settings_gets_those_of_the_method_and_no_reserve() -> None:
    bundle = read_bundle(BUNDLES[0].read_bytes()).bundle
    trip = bundle.of(Trip, "week").model_copy(update={"settings": None})
    assert bundle.settings_of(trip).reserve is None
    assert bundle.settings_of(trip).takeoff_safety == 1.33
