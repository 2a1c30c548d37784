"""Seams: another app adds to a work order without the shop knowing it."""

from collections.abc import Sequence

import pytest

from shop.domain.roles import Role, Viewer
from shop.seams import Caution, Panel, Paragraph, Registry, ReportSection, Table

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
