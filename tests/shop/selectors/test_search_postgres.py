"""On PostgreSQL the same is found, and what tags say is found by its index."""

import json
from pathlib import Path

import pytest

from tests.shop.processes import own_database, workshop

FINDING = """
import json
import django
django.setup()
from django.db import connection
from shop.domain.search import Wanted
from shop.selectors import search as finding
from tests.builders import (
    BikeFactory, OwnerFactory, StripTagFactory, TaskFactory, WorkOrderFactory,
)
viewer = OwnerFactory(username="searcher").as_viewer()
bike = BikeFactory(maker="Tarnfell", model="Heron", frame_number="HX 350-0417")
order = WorkOrderFactory(bike=bike, number=9001, complaint="No spark.")
StripTagFactory(work_order=order, number=57200, name="Float bowl")
TaskFactory(work_order=order, operation="True the rear wheel")
found = {
    text: [
        (group.kind, hit.is_exact)
        for group in finding.search(text=text, viewer=viewer).groups
        for hit in group.hits
    ]
    for text in ("hx3500417", "0417", "wo-9001", "float heron", "REAR WHEEL", "zzq")
}
plans = {}
if connection.vendor == "postgresql":
    with connection.cursor() as cursor:
        cursor.execute("SET enable_seqscan = off")
    for kind in ("strip_tag", "task"):
        noun = finding.searched_noun(kind)
        rows = finding._found(noun, Wanted.of("zzq"), viewer, {})
        plans[kind] = rows.order_by().explain()
print(json.dumps({"found": found, "plans": plans}))
"""
EXPECTED = {
    "hx3500417": [["bike", True]],
    # A part of the frame number also brings what lies in bags of that bike.
    "0417": [
        ["work_order", False],
        ["bike", False],
        ["strip_tag", False],
        ["task", False],
    ],
    "wo-9001": [["work_order", True]],
    "float heron": [["strip_tag", False]],
    "REAR WHEEL": [["task", False]],
    "zzq": [],
}


def test_on_a_sqlite_file(tmp_path: Path) -> None:
    told = json.loads(workshop(tmp_path).python("-c", FINDING))
    assert told["found"] == EXPECTED


@pytest.mark.postgres
def test_on_postgresql(tmp_path: Path, postgres_url: str) -> None:
    with own_database(postgres_url, "search") as url:
        room = workshop(tmp_path, LOOM_DATABASE_URL=url)
        told = json.loads(room.python("-c", FINDING))
    assert told["found"] == EXPECTED
    assert "striptag_search_text" in told["plans"]["strip_tag"]
    assert "task_search_text" in told["plans"]["task"]
