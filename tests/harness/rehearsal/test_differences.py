"""How far apart readings are: one and the same scale for every tool."""

import numpy as np
import pytest

from harness.findings import Test, Tool
from harness.rehearsal.differences import places
from harness.rig import Rig
from tests.harness.small_looms import horn_and_tail

H = horn_and_tail()


def at(tool: Tool, *shown: float, device: str = "") -> list[float]:
    test = Test(Rig(), tool, device=device)
    found: list[float] = places(H, test, np.array(shown)).tolist()
    return found


@pytest.mark.parametrize(
    ("tool", "same", "other"),
    [
        ("voltmeter", (12.0, 12.3), (12.0, 13.5)),
        ("ohmmeter", (10.0, 11.5), (10.0, 20.0)),
        ("ohmmeter", (0.0, 0.3), (5.0, np.inf)),
        ("ammeter", (2.0, 2.2), (2.0, 3.0)),
        ("test-lamp", (12.0, 11.0), (12.0, 0.0)),
    ],
)
def test_four_widths_or_another_word_is_one_apart(
    tool: Tool, same: tuple[float, float], other: tuple[float, float]
) -> None:
    near, far = at(tool, *same), at(tool, *other)
    assert abs(near[0] - near[1]) < 1.0 < abs(far[0] - far[1])


def test_a_fuse_and_a_lamp_are_each_seen_in_their_own_words() -> None:
    intact, blown = at("eye", 0.0, 1.0, device="main-fuse")
    assert abs(intact - blown) > 1.0
    dead, works = at("eye", 0.0, 1.0, device="horn")
    assert abs(dead - works) > 1.0
