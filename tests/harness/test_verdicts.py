"""Verdicts with their proof, and the current that each was proven at."""

from collections.abc import Mapping
from functools import cache
from typing import Any

import pytest

from harness.case import Case
from harness.model import Harness
from harness.segments import segments_of
from harness.verdicts import FAULTY
from tests.harness.small_looms import (
    BRAKE,
    DEAD_HORN,
    HIGH_RETURN,
    HORN,
    LEAD_OFF,
    ON,
    TAIL_WORKS,
    horn_and_tail,
    positive_earth,
    renamed,
)

Given = Mapping[str, object]

HORN_WORKS = DEAD_HORN | {"reads": "works"}
LIT_AT_HORN = {"rig": HORN, "tool": "test-lamp", "probe": "horn.1", "reads": "lit"}
DARK_AT_HORN = LIT_AT_HORN | {"reads": "dark"}

FEED = {
    "wire:1",
    "wire:2",
    "wire:3",
    "wire:4",
    "fuse:main-fuse",
    "switch:key-switch.ON.30-15",
    "switch:horn-button.PRESSED.1-2",
}


@cache
def bike() -> Harness:
    return horn_and_tail()


def judged(*findings: Given, h: Harness | None = None) -> dict[str, dict[str, Any]]:
    case = Case(h or bike())
    for finding in findings:
        case.add(finding)
    return case.segments()


def verdicts(found: Mapping[str, Mapping[str, Any]]) -> dict[str, str]:
    return {name: row["verdict"] for name, row in found.items()}


def test_with_nothing_found_nothing_has_been_tested() -> None:
    found = judged()
    assert set(found) == set(segments_of(bike()))
    assert set(verdicts(found).values()) == {"untested"}
    assert all(row["proof"] == [] for row in found.values())
    assert all("not been put to the test" in row["words"] for row in found.values())


def test_a_horn_that_sounds_proves_its_whole_way_at_its_own_current() -> None:
    found = judged(HORN_WORKS)
    whole_way = FEED | {"device:horn", "wire:5", "wire:13", "battery:battery"}
    assert {n for n, v in verdicts(found).items() if v == "sound"} == whole_way
    # 30 W at 12 V are 4.8 ohm: about 2.6 A from a good battery.
    for name in ("wire:3", "wire:5", "switch:horn-button.PRESSED.1-2"):
        assert found[name]["proof"] == ["f1"]
        assert found[name]["proven_amps"] == pytest.approx(2.56, abs=0.05)
        assert "proven at 2.6 A, not for more" in found[name]["words"]
    assert verdicts(found)["wire:6"] == "untested"


def test_a_lit_test_lamp_proves_a_quarter_of_an_ampere_and_says_so() -> None:
    # Contract section 5: it proves a path, not that the path can carry a headlamp.
    lit = {"tool": "test-lamp", "probe": "key-switch.30", "reads": "lit"}
    found = judged(lit)
    for name in ("wire:1", "wire:2", "fuse:main-fuse"):
        assert found[name]["verdict"] == "sound"
        assert found[name]["proven_amps"] == pytest.approx(0.26, abs=0.01)
        assert "proven for a quarter of an ampere" in found[name]["words"]
        assert "test lamp" in found[name]["words"]


def test_a_lamp_lit_before_a_dead_horn_proves_the_lamp_s_current_only() -> None:
    found = judged(DEAD_HORN, LIT_AT_HORN)
    for name in ("wire:3", "wire:4", "switch:horn-button.PRESSED.1-2"):
        assert found[name]["verdict"] == "sound"
        assert found[name]["proof"] == ["f2"]
        assert found[name]["proven_amps"] == pytest.approx(0.26, abs=0.01)


def test_a_voltmeter_alone_proves_next_to_no_current() -> None:
    full = {"rig": ON, "tool": "voltmeter", "probe": "brake-switch.1", "reads": 12.5}
    found = judged(full)
    assert found["wire:8"]["verdict"] == "sound"
    assert found["wire:8"]["proven_amps"] < 1e-5
    assert "a meter's trickle" in found["wire:8"]["words"]


def test_the_largest_current_of_the_proof_counts() -> None:
    lit = {"tool": "test-lamp", "probe": "key-switch.30", "reads": "lit"}
    found = judged(lit, HORN_WORKS)
    assert found["wire:2"]["proof"] == ["f1", "f2"]
    assert found["wire:2"]["proven_amps"] > 2.5


def test_a_finding_on_the_feed_never_proves_the_return() -> None:
    for feed in (LIT_AT_HORN, LIT_AT_HORN | {"tool": "voltmeter", "reads": 12.3}):
        found = judged(DEAD_HORN, feed)
        assert found["wire:5"]["verdict"] == "suspect"
        assert found["wire:12"]["verdict"] == "untested"
        assert found["wire:11"]["verdict"] == "untested"
        assert found["plug:tail-plug.3"]["verdict"] == "untested"


def test_a_dead_horn_says_nothing_of_what_could_not_have_killed_it() -> None:
    found = judged(DEAD_HORN)
    for name in ("plug:tail-plug.1", "plug:tail-plug.3", "device:rear-lamp.tail"):
        assert found[name]["verdict"] == "untested"
    # A feed wire of the tail lamp could have: chafed through, it takes the fuse down.
    assert found["wire:6"]["verdict"] == "suspect"


def test_what_may_have_killed_the_horn_is_suspect_because_of_it() -> None:
    found = judged(DEAD_HORN, TAIL_WORKS)
    for name in ("device:horn", "wire:3", "wire:4", "wire:5"):
        assert found[name]["verdict"] == "suspect"
        assert found[name]["proof"] == ["f1"]
        assert found[name]["proven_amps"] is None
        assert "because of f1" in found[name]["words"]
    assert found["wire:2"]["verdict"] == "sound", (
        "the tail lamp's current came this way"
    )


def test_a_fault_that_stands_at_ninety_five_in_a_hundred_is_faulty() -> None:
    found = judged(DEAD_HORN, TAIL_WORKS, LIT_AT_HORN, HIGH_RETURN)
    assert found["wire:5"]["verdict"] == "faulty"
    assert found["wire:5"]["probability"] >= FAULTY
    assert found["wire:5"]["proof"] == ["f1", "f4"]
    assert "is faulty" in found["wire:5"]["words"]
    others = {n for n, v in verdicts(found).items() if v in {"faulty", "suspect"}}
    assert others == {"wire:5"}
    assert found["device:horn"]["verdict"] == "sound", "volts came through it"


def test_a_voltage_drop_convicts_a_contact_that_a_test_lamp_lets_pass() -> None:
    # 3 ohm at the button: a quarter of an ampere loses less than a volt there, the
    # horn's current five.
    weak = DEAD_HORN | {"reads": "weak"}
    found = judged(weak, LIT_AT_HORN | {"rig": ON, "probe": "horn-button.1"})
    assert found["switch:horn-button.PRESSED.1-2"]["verdict"] == "suspect"
    drop = {"rig": HORN, "tool": "voltmeter", "probe": "horn-button.1"}
    found = judged(weak, drop | {"clip": "horn-button.2", "reads": 4.7})
    button = found["switch:horn-button.PRESSED.1-2"]
    assert button["verdict"] == "faulty"
    assert button["proof"] == ["f1", "f2"]


def test_no_drop_over_a_contact_under_load_clears_it_of_bad_contact() -> None:
    weak = DEAD_HORN | {"reads": "weak"}
    drop = {"rig": HORN, "tool": "voltmeter", "probe": "horn-button.1"}
    found = judged(weak, drop | {"clip": "horn-button.2", "reads": 0.02})
    assert found["switch:horn-button.PRESSED.1-2"]["probability"] < 0.01


def test_a_fuse_seen_intact_is_sound_and_one_seen_blown_is_not() -> None:
    look = {"tool": "eye", "device": "main-fuse"}
    assert judged(look | {"reads": "intact"})["fuse:main-fuse"]["verdict"] == "sound"
    dead = {"rig": ON, "tool": "eye", "device": "rear-lamp.tail", "reads": "dead"}
    blown = judged(look | {"reads": "blown"}, dead)
    assert blown["fuse:main-fuse"]["verdict"] in {"suspect", "faulty"}


def test_a_finding_that_is_likelier_a_slip_than_not_proves_nothing() -> None:
    # Lit without a battery: it proves no wire, and the belief takes it for a slip.
    live = {"rig": LEAD_OFF, "tool": "test-lamp", "probe": "horn.1", "reads": "lit"}
    found = judged(DEAD_HORN, TAIL_WORKS, live)
    assert all("f3" not in row["proof"] for row in found.values())
    # Dark before the button, lit behind it, with the horn at work.
    dark = {"rig": HORN, "tool": "test-lamp", "probe": "key-switch.15", "reads": "dark"}
    found = judged(HORN_WORKS, TAIL_WORKS, LIT_AT_HORN, dark)
    assert all("f4" not in row["proof"] for row in found.values())
    assert found["wire:3"]["verdict"] == "sound"


CASES: tuple[tuple[Given, ...], ...] = (
    (DEAD_HORN, TAIL_WORKS, LIT_AT_HORN),
    (DEAD_HORN, TAIL_WORKS, LIT_AT_HORN, HIGH_RETURN),
    (DEAD_HORN, DARK_AT_HORN),
    ({"rig": BRAKE, "tool": "eye", "device": "rear-lamp.stop", "reads": "dead"},),
)


def mirrored(finding: Given) -> Given:
    """Return a finding as the bike turned round gives it: volts the other way."""
    reads = finding["reads"]
    return {**finding, "reads": -reads} if isinstance(reads, float) else finding


@pytest.mark.parametrize("findings", CASES)
def test_positive_earth_gives_the_same_verdicts(findings: tuple[Given, ...]) -> None:
    one = judged(*findings)
    two = judged(*map(mirrored, findings), h=positive_earth(bike()))
    assert verdicts(one) == verdicts(two)
    for name, row in one.items():
        assert two[name]["probability"] == pytest.approx(row["probability"], abs=1e-6)
        assert two[name]["proof"] == row["proof"]
        assert two[name]["stretch"] == row["stretch"]


NEW_DEVICES = {"horn": "a-horn", "frame": "zz-frame", "key-switch": "lock"}
NEW_WIRES = {"1": "x9", "5": "a5", "12": "0"}


def relabelled(finding: Given) -> Given:
    """Return a finding in the new ids."""
    out: dict[str, object] = dict(finding)
    rig = finding.get("rig", {})
    assert isinstance(rig, Mapping)
    out["rig"] = {NEW_DEVICES.get(k, k): v for k, v in rig.items()}
    for key in ("probe", "device"):
        if key in finding:
            owner, dot, rest = str(finding[key]).partition(".")
            out[key] = NEW_DEVICES.get(owner, owner) + dot + rest
    return out


@pytest.mark.parametrize("findings", CASES)
def test_other_ids_change_no_probability(findings: tuple[Given, ...]) -> None:
    other = renamed(bike(), devices=NEW_DEVICES, wires=NEW_WIRES)
    one = judged(*findings)
    two = judged(*map(relabelled, findings), h=other)

    def new_name(name: str) -> str:
        kind, _, rest = name.partition(":")
        if kind == "wire":
            return f"wire:{NEW_WIRES.get(rest, rest)}"
        owner, dot, part = rest.partition(".")
        return f"{kind}:{NEW_DEVICES.get(owner, owner)}{dot}{part}"

    assert {new_name(name) for name in one} == set(two)
    for name, row in one.items():
        again = two[new_name(name)]
        assert again["verdict"] == row["verdict"], name
        # Pairs that are only estimated are kept in single precision.
        assert again["probability"] == pytest.approx(row["probability"], abs=1e-7)
