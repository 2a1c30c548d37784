import pytest
from django.test import Client

from shop.domain.roles import Role
from shop.web.api_docs import described, groups_of
from tests.shop.web.pages import as_role, words

pytestmark = pytest.mark.django_db

SMALL = {
    "paths": {
        "/api/bikes": {
            "post": {
                "tags": ["bikes"],
                "description": "Add a bike.\nIts owner must exist.",
                "parameters": [
                    {"name": "q", "schema": {"type": "string"}, "required": False}
                ],
                "requestBody": {
                    "content": {
                        "application/json": {
                            "schema": {"$ref": "#/components/schemas/Bike"}
                        }
                    }
                },
                "responses": {"201": {"description": "Added."}},
            }
        }
    },
    "components": {
        "schemas": {
            "Bike": {
                "type": "object",
                "required": ["maker"],
                "properties": {
                    "maker": {"type": "string"},
                    "earth": {"allOf": [{"$ref": "#/components/schemas/Earth"}]},
                    "plugs": {
                        "type": "array",
                        "items": {"$ref": "#/components/schemas/Plug"},
                    },
                },
            },
            "Earth": {"enum": ["negative", "positive"]},
            "Plug": {
                "type": "object",
                "properties": {"ways": {"type": "integer", "nullable": True}},
            },
        }
    },
}


def test_an_operation_is_told_in_words_with_its_fields() -> None:
    (group,) = groups_of(SMALL)
    (operation,) = group.operations
    assert (operation.verb, operation.address) == ("POST", "/api/bikes")
    assert operation.summary == "Add a bike."
    assert operation.description == "Its owner must exist."
    assert [(row.name, row.kind, row.is_required) for row in operation.parameters] == [
        ("q", "text", False)
    ]
    assert [(row.name, row.kind, row.depth) for row in operation.body] == [
        ("maker", "text", 0),
        ("earth", "one of negative, positive", 0),
        ("plugs", "list of object", 0),
        ("ways", "integer or null", 1),
    ]
    assert [row.is_required for row in operation.body] == [True, False, False, False]
    assert [(row.status, row.description) for row in operation.answers] == [
        ("201", "Added.")
    ]


def test_every_address_of_the_api_is_on_the_page() -> None:
    page = words(as_role(Role.TECHNICIAN).get("/api/docs"))
    addresses = {o.address for group in described() for o in group.operations}
    assert "/api/work-orders/{work_order_id}" in addresses
    for address in addresses:
        assert address in page


def test_machines_get_the_same_as_a_file() -> None:
    answer = as_role(Role.TECHNICIAN).get("/api/schema?format=json")
    assert answer.status_code == 200
    assert '"openapi":"3.' in answer.content.decode().replace(" ", "")


def test_both_are_for_people_of_the_shop() -> None:
    assert Client().get("/api/docs").status_code == 302
    assert Client().get("/api/schema").status_code in {401, 403}
