"""Spoiled files and chance input: clean problems, and never anything else."""

import random
from collections.abc import Callable

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from harness.errors import HarnessError, Problem
from harness.files import from_source, load
from harness.reading import Source
from tests.harness.written import GOOD, problems_of

# Ways to spoil a good file. Each takes its lines and a source of chance, and returns
# lines that are known to be bad.
Lines = list[str]
Spoiler = Callable[[Lines, random.Random], Lines]


def picked(lines: Lines, chance: random.Random, *starts: str) -> int:
    return chance.choice([n for n, line in enumerate(lines) if line.startswith(starts)])


def changed(lines: Lines, at: int, line: str) -> Lines:
    return [*lines[:at], line, *lines[at + 1 :]]


NUMBERS = ("emf", "amps", "watts", "at_volts", "coil_ohms", "mm2", "awg", "metres")


def wrong_number(lines: Lines, chance: random.Random) -> Lines:
    at = picked(lines, chance, *NUMBERS, "ohms", "volts")
    bad = chance.choice(
        ["nan", "inf", "-inf", "0", "-1", "true", '"1"', "[]", "1e99", "2020-01-01"]
    )
    return changed(lines, at, lines[at].split("=")[0] + "= " + bad)


def wrong_text(lines: Lines, chance: random.Random) -> Lines:
    at = picked(lines, chance, "kind", "id", "from", "to", "colour", "earth", "place")
    bad = chance.choice(["3", "true", "[]", "{}", '"?"', '""', "0.5", '"a b"'])
    return changed(lines, at, lines[at].split("=")[0] + "= " + bad)


def wrong_key(lines: Lines, chance: random.Random) -> Lines:
    at = picked(lines, chance, *NUMBERS, "kind", "id", "from", "to", "schema", "title")
    key, rest = lines[at].split("=", 1)
    place = chance.randrange(len(key.strip()) + 1)
    return changed(
        lines, at, key[:place] + chance.choice("xq7_-") + key[place:] + "=" + rest
    )


def needed_line_gone(lines: Lines, chance: random.Random) -> Lines:
    at = picked(lines, chance, 'kind = "l', "id", "from", "to", "schema", "volts")
    return lines[:at] + lines[at + 1 :]


def doubled_line(lines: Lines, chance: random.Random) -> Lines:
    at = chance.choice(
        [n for n, line in enumerate(lines) if "=" in line and "{ n" not in line]
    )
    return [*lines[: at + 1], lines[at], *lines[at + 1 :]]


def doubled_wire(lines: Lines, chance: random.Random) -> Lines:
    at = picked(lines, chance, "[[wires]]")
    return [*lines, *lines[at : at + 5], "ohms = 1"]


def lost_device(lines: Lines, chance: random.Random) -> Lines:
    at = picked(
        lines,
        chance,
        *("[devices.ho", "[devices.m", "[devices.k", "[devices.f", "[devices.ba"),
        *("[devices.r", "[devices.t"),
    )
    return changed(lines, at, lines[at].replace("]", "-2]"))


def wire_to_itself(lines: Lines, chance: random.Random) -> Lines:
    at = picked(lines, chance, "from")
    return changed(lines, at + 1, lines[at].replace("from", "to"))


def unknown_pin(lines: Lines, chance: random.Random) -> Lines:
    fixed = [
        n
        for n, line in enumerate(lines)
        if line.startswith(("from", "to")) and "frame" not in line
    ]
    at = chance.choice(fixed)
    return changed(lines, at, lines[at].rstrip('"') + 'zz"')


def shorted(lines: Lines, _chance: random.Random) -> Lines:
    wire = '[[wires]]\nid = "s"\nfrom = "battery.pos"\nto = "frame.s"\nohms = 0.1'
    return [*lines, *wire.split("\n")]


def broken_syntax(lines: Lines, chance: random.Random) -> Lines:
    at = chance.choice([n for n, line in enumerate(lines) if "=" in line])
    bad = chance.choice(
        ["= 3", "x =", "[", "]]", '"', "x = [1", "x = {", "\x00", "x 3"]
    )
    return changed(lines, at, bad)


SPOILERS: list[Spoiler] = [
    wrong_number,
    wrong_text,
    wrong_key,
    needed_line_gone,
    doubled_line,
    doubled_wire,
    lost_device,
    wire_to_itself,
    unknown_pin,
    shorted,
    broken_syntax,
]


@pytest.mark.parametrize("seed", range(220))
def test_a_spoiled_file_gives_clean_problems_and_nothing_else(seed: int) -> None:
    chance = random.Random(seed)
    spoil = SPOILERS[seed % len(SPOILERS)]
    text = "\n".join(spoil(GOOD.split("\n"), chance))
    assert text != GOOD
    problems = problems_of(text)
    assert problems, f"{spoil.__name__} {seed} was let through"
    check_clean(problems, text)


def check_clean(problems: tuple[Problem, ...], text: str) -> None:
    last = text.count("\n") + 1
    for problem in problems:
        assert problem.what
        assert problem.where
        assert problem.mend
        assert problem.line is not None
        assert 1 <= problem.line <= last
        assert "\n" not in str(problem)
        assert str(problem).isprintable()
        assert "Traceback" not in str(problem)
        assert "<class" not in str(problem)
    assert [p.line for p in problems] == sorted(p.line or 0 for p in problems)
    assert len(set(problems)) == len(problems)


@pytest.mark.parametrize("seed", range(40))
def test_two_faults_in_one_file_are_both_told(seed: int) -> None:
    # two faults that cannot hide each other: a number and an unknown place
    chance = random.Random(seed)
    once = wrong_number(GOOD.split("\n"), chance)
    alone = problems_of("\n".join(once))
    both = "\n".join(once).replace('place = "headlamp-shell"', 'place = "nowhere"')
    assert len(problems_of(both)) >= len(alone) + 1
    assert any("nowhere" in p.what for p in problems_of(both))


@settings(max_examples=300, deadline=None)
@given(st.binary(max_size=300) | st.text(max_size=300).map(lambda t: t.encode("utf-8")))
def test_any_bytes_at_all_load_or_are_refused(
    tmp_path_factory: pytest.TempPathFactory, content: bytes
) -> None:
    path = tmp_path_factory.getbasetemp() / "any.toml"
    path.write_bytes(content)
    with pytest.raises(HarnessError) as caught:
        load(path)
    assert caught.value.problems


@settings(max_examples=500, deadline=None)
@given(st.data())
def test_a_good_text_cut_and_patched_loads_or_is_refused(data: st.DataObject) -> None:
    start = data.draw(st.integers(0, len(GOOD)))
    end = data.draw(st.integers(start, min(len(GOOD), start + 60)))
    patch = data.draw(
        st.text(max_size=8)
        | st.sampled_from(["[[", "]]", "'''", '"""', "{", "}", "\n", "=", ".", "#"])
        | st.sampled_from([GOOD[i : i + 25] for i in range(0, len(GOOD), 25)])
    )
    text = GOOD[:start] + patch + GOOD[end:]
    problems = problems_of(text)
    check_clean(problems, text)


KEYS = [
    *("kind", "id", "from", "to", "ohms", "filaments", "joins", "positions", "links"),
    *("between", "pins", "cavities", "place", "name", "watts", "x"),
]
VALUES = st.recursive(
    st.none()
    | st.booleans()
    | st.integers()
    | st.floats()
    | st.text(max_size=5)
    | st.sampled_from(["battery", "horn.1", "frame", "switch", "RDWH", "1"]),
    lambda inner: (
        st.lists(inner, max_size=3)
        | st.dictionaries(
            st.sampled_from(KEYS),
            inner,
            max_size=4,
        )
    ),
    max_leaves=12,
)


@settings(max_examples=400, deadline=None)
@given(
    st.dictionaries(
        st.sampled_from(["schema", "volts", "earth", "places", "devices", "wires"])
        | st.sampled_from(["title", "extends", "remove_wires", "note"]),
        VALUES,
        max_size=6,
    )
)
def test_tables_of_any_shape_load_or_are_refused(data: dict[str, object]) -> None:
    with pytest.raises(HarnessError) as caught:
        from_source(Source(data, lambda _path: 1))
    check_clean(caught.value.problems, "one line")
