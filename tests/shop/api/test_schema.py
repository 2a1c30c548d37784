"""The API is described without a gap: OpenAPI, valid and free of warnings."""

from typing import Any

from drf_spectacular.drainage import GENERATOR_STATS
from drf_spectacular.generators import SchemaGenerator
from drf_spectacular.validation import validate_schema

# The package's own functions carry no types.
generator: Any = SchemaGenerator
validate: Any = validate_schema


def test_the_description_is_valid_and_names_every_operation() -> None:
    with GENERATOR_STATS.silence():
        schema = generator().get_schema(request=None, public=True)
    validate(schema)
    operations = [
        operation
        for path in schema["paths"].values()
        for verb, operation in path.items()
        if verb in {"get", "post", "put", "patch", "delete"}
    ]
    names = [operation["operationId"] for operation in operations]
    assert len(names) == len(set(names)) >= 29
    for operation in operations:
        told = operation.get("summary") or operation.get("description")
        assert told, operation["operationId"]
        assert operation.get("tags"), operation["operationId"]


def test_the_description_raises_no_warning() -> None:
    GENERATOR_STATS.reset()
    with GENERATOR_STATS.silence():
        generator().get_schema(request=None, public=True)
    assert not GENERATOR_STATS._warn_cache
    assert not GENERATOR_STATS._error_cache
