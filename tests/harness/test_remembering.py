"""What was worked out is remembered within a budget of bytes."""

from harness.remembering import Remembered


def kept(most_bytes: int) -> Remembered[str, bytes]:
    return Remembered(most_bytes=most_bytes, size_of=len)


def test_a_value_is_worked_out_once() -> None:
    asked = []

    def work_out() -> bytes:
        asked.append(1)
        return b"loom"

    values = kept(10)
    assert values.get("a", work_out) == values.get("a", work_out) == b"loom"
    assert len(asked) == 1


def test_the_longest_unused_goes_first() -> None:
    values = kept(6)
    for name in ("one", "two"):
        values.get(name, name.encode)
    values.get("one", bytes)
    values.get("six", b"six".decode().encode)
    assert "two" not in values
    assert "one" in values


def test_the_last_value_stays_even_when_it_is_too_large() -> None:
    values = kept(2)
    values.get("long", lambda: b"much too long")
    assert "long" in values
    values.get("next", lambda: b"x")
    assert "long" not in values
