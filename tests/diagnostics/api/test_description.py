"""The OpenAPI description knows the bench, without a warning."""

from typing import Any

from drf_spectacular import generators, validation

# The library carries no types.
generator: Any = generators.SchemaGenerator
validate: Any = validation.validate_schema

WANTED = {
    "/api/harness-files": {"get", "post"},
    "/api/harness-files/{harness_file_id}": {"get"},
    "/api/cases": {"get", "post"},
    "/api/cases/{case_id}": {"get"},
    "/api/cases/{case_id}/advice": {"get"},
    "/api/cases/{case_id}/beliefs": {"get"},
    "/api/cases/{case_id}/beliefs/{step}": {"get"},
    "/api/cases/{case_id}/complaint": {"get", "post"},
    "/api/cases/{case_id}/findings": {"get", "post"},
    "/api/cases/{case_id}/give-up": {"post"},
    "/api/cases/{case_id}/proof": {"get", "post"},
    "/api/cases/{case_id}/reopen": {"post"},
    "/api/cases/{case_id}/repairs": {"get", "post"},
    "/api/findings/{finding_id}/put-back": {"post"},
    "/api/findings/{finding_id}/retest": {"post"},
    "/api/findings/{finding_id}/void": {"post"},
}


def test_every_door_of_the_bench_is_described() -> None:
    description = generator().get_schema(request=None, public=True)
    validate(description)
    found = {path: set(verbs) for path, verbs in description["paths"].items()}
    assert {path: found.get(path) for path in WANTED} == WANTED
