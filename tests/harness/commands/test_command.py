"""Columns for a terminal."""

from harness.commands.command import table


def test_columns_are_as_wide_as_their_widest_cell() -> None:
    rows = [("horn.1", "12.10", "V"), ("key-switch.30", "0.05", "")]
    assert table(rows, right=" r").split("\n") == [
        "  horn.1         12.10  V",
        "  key-switch.30   0.05",
    ]


def test_no_rows_no_lines() -> None:
    assert table([]) == ""
