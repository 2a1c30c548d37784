"""Rigs and faults as written on a command line."""

from argparse import ArgumentTypeError

import pytest

from harness.commands.arguments import fault_argument, rig_argument


def test_a_rig_with_all_that_it_can_have() -> None:
    text = "key-switch=ON, lights=DIP,engine=running,battery-lead=off"
    text += ",unplugged=tail-plug,unplugged=horn.1,removed=main-fuse"
    text += ",jumpers=horn.2:frame.e,jumpers=a.1:b.B+"
    assert rig_argument(text) == {
        "key-switch": "ON",
        "lights": "DIP",
        "engine": "running",
        "battery-lead": "off",
        "unplugged": ["tail-plug", "horn.1"],
        "removed": ["main-fuse"],
        "jumpers": [["horn.2", "frame.e"], ["a.1", "b.B+"]],
    }
    assert rig_argument("") == {}


@pytest.mark.parametrize(
    ("text", "why"),
    [
        ("key-switch", "is not switch=POSITION"),
        ("key-switch=", "is not switch=POSITION"),
        ("=ON", "is not switch=POSITION"),
        ("a=ON,a=OFF", "two positions"),
        ("jumpers=horn.2", "two terminals"),
        ("jumpers=a.1:b.1:c.1", "two terminals"),
        ("jumpers=:b.1", "two terminals"),
    ],
)
def test_rigs_that_are_not_written_so(text: str, why: str) -> None:
    with pytest.raises(ArgumentTypeError, match=why):
        rig_argument(text)


def test_faults() -> None:
    assert fault_argument("wire:7=open") == ("wire:7", "open")
    segment = "switch:key-switch.ON.30-15"
    assert fault_argument(f"{segment}=resistive:0.3") == (segment, "resistive", "0.3")
    crossed = "plug:tail-plug.1", "crossed", "plug:tail-plug.2"
    assert fault_argument("plug:tail-plug.1=crossed:plug:tail-plug.2") == crossed


@pytest.mark.parametrize(
    ("text", "why"),
    [
        ("wire:7", "is not segment=mode"),
        ("=open", "is not segment=mode"),
        ("wire:7=", "is not segment=mode"),
        ("wire:7=:3", "is not segment=mode"),
        ("wire:7=resistive:", "not a number of ohms"),
        ("wire:7=resistive:x", "not a number of ohms"),
    ],
)
def test_faults_that_are_not_written_so(text: str, why: str) -> None:
    with pytest.raises(ArgumentTypeError, match=why):
        fault_argument(text)
