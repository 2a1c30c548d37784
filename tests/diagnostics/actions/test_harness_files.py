"""A drawing is taken whole, with every problem told, or not at all."""

import pytest

from diagnostics.actions.harness_files import MOST_BYTES, upload_harness
from diagnostics.models import HarnessFile
from diagnostics.refusals import HarnessFileRefused
from shop.domain.refusals import NotAllowed, Refusal
from shop.models import HistoryEntry
from tests.builders import MORNING, StorekeeperFactory, UserFactory
from tests.diagnostics.builders import BENCH_TOML, a_library_file

pytestmark = pytest.mark.django_db


def upload(content: bytes, **changes: str) -> HarnessFile:
    words = {"maker": "Tarnfell", "model": "Heron 350", "years": "1961", **changes}
    return upload_harness(
        **words, content=content, acting_user=UserFactory.create(), at=MORNING
    )


def test_a_good_drawing_is_kept_word_for_word() -> None:
    file = a_library_file()
    assert file.text == BENCH_TOML
    assert (file.title, file.nominal_volts, file.earth) == (
        "Bench example: horn and rear lamp",
        12,
        "negative",
    )
    assert (file.wire_count, file.device_count) == (13, 9)
    assert HistoryEntry.objects.of_subject("harness_file", file.pk).count() == 1


def test_every_problem_is_told_with_its_line_and_nothing_is_saved() -> None:
    bad = BENCH_TOML.replace('to = "horn.1"', 'to = "hron.1"').replace(
        'colour = "GYBK"', 'colour = "GXBK"'
    )
    with pytest.raises(HarnessFileRefused) as refused:
        upload(bad.encode())
    lines = {problem.line for problem in refused.value.problems}
    wanted = {
        number
        for number, line in enumerate(bad.splitlines(), start=1)
        if "hron" in line or "GXBK" in line
    }
    assert wanted <= lines
    assert all(p.what and p.mend for p in refused.value.problems)
    assert HarnessFile.objects.count() == 0
    assert HistoryEntry.objects.count() == 0


def test_the_same_bytes_are_refused_and_the_first_is_named() -> None:
    a_library_file()
    with pytest.raises(Refusal, match="Tarnfell Heron 350 1961") as refused:
        upload(BENCH_TOML.encode(), model="Heron 500")
    assert refused.value.code == "harness-file-known"
    assert HarnessFile.objects.count() == 1


@pytest.mark.parametrize(
    ("content", "words"),
    [
        (b"", "empty"),
        (b"   \n", "empty"),
        (b"title = '\xff'", "UTF-8"),
        (b"#" * (MOST_BYTES + 1), "2 MiB"),
    ],
)
def test_what_is_no_text_of_a_loom_is_refused(content: bytes, words: str) -> None:
    with pytest.raises(HarnessFileRefused) as refused:
        upload(content)
    assert words in refused.value.problems[0].what
    assert HarnessFile.objects.count() == 0


def test_a_byte_that_is_no_text_is_told_with_its_line() -> None:
    with pytest.raises(HarnessFileRefused) as refused:
        upload(b"schema = 1\ntitle = '\xff'")
    assert refused.value.problems[0].line == 2


@pytest.mark.parametrize("field", ["maker", "model"])
def test_a_drawing_names_its_bike(field: str) -> None:
    with pytest.raises(Refusal) as refused:
        upload(BENCH_TOML.encode(), **{field: "  "})
    assert refused.value.field == field
    with pytest.raises(Refusal) as refused:
        upload(BENCH_TOML.encode(), **{field: "x" * 81})
    assert refused.value.field == field


def test_a_storekeeper_adds_no_drawings() -> None:
    with pytest.raises(NotAllowed):
        upload_harness(
            maker="Tarnfell",
            model="Heron 350",
            years="",
            content=BENCH_TOML.encode(),
            acting_user=StorekeeperFactory.create(),
            at=MORNING,
        )
