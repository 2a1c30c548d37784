"""Many segments on paper, in a few words."""

from diagnostics.segment_lists import in_runs, in_short


def test_wires_come_first_and_in_the_order_people_count() -> None:
    assert in_short(["plug:tail-plug.2", "wire:10", "wire:9", "plug:tail-plug.1"]) == (
        "Wires 9, 10. Plug cavities: tail plug 1, 2."
    )


def test_a_contact_keeps_its_position_and_pins() -> None:
    assert in_short(["switch:key-switch.ON.30-15", "fuse:main-fuse"]) == (
        "Switch contacts: key switch ON 30-15. Fuses: main fuse."
    )


def test_the_battery_needs_no_number() -> None:
    assert in_short(["battery:battery"]) == "Battery."


def test_nothing_is_nothing() -> None:
    assert in_short([]) == ""
    assert in_runs([]) == ""


def test_three_in_a_row_make_a_run_and_two_do_not() -> None:
    assert in_runs([9, 1, 2, 3, 6, 8, 8]) == "1\N{EN DASH}3, 6, 8, 9"
