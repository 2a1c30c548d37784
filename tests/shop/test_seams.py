"""Seams: another app adds to a work order without the shop knowing it."""

from collections.abc import Sequence
from datetime import UTC, datetime

import pytest

from shop.domain.roles import Role, Viewer
from shop.seams import (
    Caution,
    Loom,
    Panel,
    Paragraph,
    Registry,
    ReportSection,
    Table,
    TimelineKind,
)

VIEWER = Viewer(user_id=1, name="Mo", role=Role.TECHNICIAN)


def late(*, work_order_id: int) -> Sequence[ReportSection]:
    return [ReportSection("late", "Late", 70, (Paragraph(f"of {work_order_id}"),))]


def early(*, work_order_id: int) -> Sequence[ReportSection]:
    return [ReportSection("early", "Early", 20, (Caution("Isolate the battery."),))]


def panel(*, work_order_id: int, viewer: Viewer) -> Panel | None:
    return Panel(key="cases", title=f"Cases for {viewer.name}")


def nothing(*, work_order_id: int, viewer: Viewer) -> Panel | None:
    return None


def reasons(*, work_order_id: int) -> Sequence[str]:
    return ["The case is open."]


def test_with_nothing_registered_the_shop_works_alone() -> None:
    registry = Registry()
    assert registry.panels(work_order_id=1, viewer=VIEWER) == ()
    assert registry.sections(work_order_id=1) == ()
    assert registry.blockers(work_order_id=1) == ()


def test_sections_stand_in_their_order_not_in_that_of_registering() -> None:
    registry = Registry()
    registry.register_sections("a", late)
    registry.register_sections("b", early)
    assert [s.key for s in registry.sections(work_order_id=1)] == ["early", "late"]


def test_who_has_nothing_to_show_shows_no_panel() -> None:
    registry = Registry()
    registry.register_panel("a", nothing)
    registry.register_panel("b", panel)
    shown = registry.panels(work_order_id=1, viewer=VIEWER)
    assert [p.title for p in shown] == ["Cases for Mo"]


def test_one_key_belongs_to_one_maker() -> None:
    registry = Registry()
    registry.register_panel("cases", panel)
    registry.register_panel("cases", panel)
    with pytest.raises(ValueError, match="registered already"):
        registry.register_panel("cases", nothing)


def test_what_was_registered_can_be_taken_away() -> None:
    registry = Registry()
    registry.register_blockers("cases", reasons)
    assert registry.blockers(work_order_id=1) == ("The case is open.",)
    registry.unregister("cases")
    assert registry.blockers(work_order_id=1) == ()
    registry.register_blockers("cases", reasons)
    registry.clear()
    assert registry.blockers(work_order_id=1) == ()


def test_a_ragged_table_is_refused() -> None:
    with pytest.raises(ValueError, match="1 cells"):
        Table(caption="Findings", head=("Test", "Reading"), rows=(("lamp",),))


def test_kinds_of_the_time_line_stand_in_their_order() -> None:
    registry = Registry()
    for key, order in (("late", 90), ("early", 10)):
        registry.register_timeline_kind(TimelineKind(key, key, (key,), order))
    assert [kind.key for kind in registry.timeline_kinds()] == ["early", "late"]
    registry.unregister("late")
    assert [kind.key for kind in registry.timeline_kinds()] == ["early"]


HERON = Loom(text="Heron", href="/loom", used_at=datetime(2026, 3, 2, tzinfo=UTC))


def heron_only(*, bike_id: int) -> Loom | None:
    return HERON if bike_id == 1 else None


def test_who_knows_no_drawing_names_none() -> None:
    registry = Registry()
    registry.register_looms("bench", heron_only)
    assert registry.looms(bike_id=1) == (HERON,)
    assert registry.looms(bike_id=2) == ()
