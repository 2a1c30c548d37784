"""Measurements in words, and the kinds that can be taken on a bike."""

from dataclasses import dataclass
from datetime import datetime
from typing import Any

import harness
from diagnostics.measurement_words import VERDICT_LABELS, figure
from diagnostics.models import Measurement
from diagnostics.selectors.findings import VoidView
from harness import measurements
from shop.domain.refusals import NotFound


@dataclass(frozen=True, kw_only=True)
class FigureView:
    """One number or choice, with what it is."""

    name: str
    label: str
    text: str


@dataclass(frozen=True, kw_only=True)
class HeldView:
    """A number, the limit that it was held against, and where that comes from."""

    label: str
    text: str
    verdict: str
    verdict_label: str
    limit: str
    source: str
    standing: str
    confidence: str


@dataclass(frozen=True, kw_only=True)
class MeasurementView:
    """One measurement as it was judged when it was taken."""

    measurement_id: int
    sequence: int
    repairs_before: int
    kind: str
    title: str
    verdict: str
    verdict_label: str
    says: str
    next_step: str
    entered: tuple[FigureView, ...]
    numbers: tuple[FigureView, ...]
    held: tuple[HeldView, ...]
    limit: str
    source: str
    published: bool
    remarks: tuple[str, ...]
    cautions: tuple[str, ...]
    note: str
    taken_by: str
    taken_at: datetime
    void: VoidView | None

    @property
    def read(self) -> str:
        """What was read, in one line."""
        return "; ".join(f"{one.label}: {one.text}" for one in self.entered)


@dataclass(frozen=True, kw_only=True)
class ChoiceView:
    """One of the words that an input takes."""

    name: str
    label: str


@dataclass(frozen=True, kw_only=True)
class InputView:
    """One thing to be entered; `low` and `high` are what can be true at all."""

    name: str
    label: str
    unit: str
    help: str
    low: float | None
    high: float | None
    required: bool
    takes_open: bool
    choices: tuple[ChoiceView, ...]


@dataclass(frozen=True, kw_only=True)
class LimitView:
    """A limit in words, and where it comes from."""

    words: str
    source: str


@dataclass(frozen=True, kw_only=True)
class KindView:
    """A kind of measurement: what it tells, how it is taken, what is entered."""

    name: str
    title: str
    tells: str
    steps: tuple[str, ...]
    cautions: tuple[str, ...]
    inputs: tuple[InputView, ...]
    limits: tuple[LimitView, ...]
    references: tuple[LimitView, ...]


def measurement_views(*, case_id: int) -> tuple[MeasurementView, ...]:
    """Return all measurements of a case, those voided as well."""
    rows = Measurement.objects.of_case(case_id).with_people()
    return tuple(measurement_view(row) for row in rows)


def measurement_view(row: Measurement) -> MeasurementView:
    """Return one measurement in words."""
    judged = row.judgement
    void = getattr(row, "void", None)
    return MeasurementView(
        measurement_id=row.pk,
        sequence=row.sequence,
        repairs_before=row.repairs_before,
        kind=row.kind,
        title=judged["title"],
        verdict=row.verdict,
        verdict_label=VERDICT_LABELS[row.verdict],
        says=judged["says"],
        next_step=judged["next_step"],
        entered=tuple(_figure(one) for one in judged["entered"]),
        numbers=tuple(_figure(one) for one in judged["numbers"]),
        held=tuple(_held(one) for one in judged["held"]),
        limit=judged["limit"],
        source=judged["source"],
        published=judged["published"],
        remarks=tuple(judged["remarks"]),
        cautions=tuple(judged["cautions"]),
        note=row.note,
        taken_by=row.taken_by.name,
        taken_at=row.taken_at,
        void=VoidView(
            reason=void.reason,
            voided_by=void.voided_by.name,
            voided_at=void.voided_at,
        )
        if void
        else None,
    )


def kind_views(*, volts: float, earth: str) -> tuple[KindView, ...]:
    """Return the kinds that have limits for a system, in the order to take them."""
    system = measurements.system_of(volts=volts, earth=earth)
    return tuple(kind_view(kind, system) for kind in measurements.kinds_for(system))


def kind_view_named(name: str, *, volts: float, earth: str) -> KindView:
    """Return one kind for a system.

    Raises
    ------
    NotFound
        There is no such kind, or it has no limit for these volts.
    """
    system = measurements.system_of(volts=volts, earth=earth)
    try:
        return kind_view(measurements.kind_named(name), system)
    except harness.HarnessError as error:
        raise NotFound("measurement-kind-not-found", str(error), "kind") from error


def kind_view(kind: measurements.Kind, system: measurements.System) -> KindView:
    """Return a kind as a page or a program needs it."""
    return KindView(
        name=kind.name,
        title=kind.title,
        tells=kind.tells,
        steps=kind.steps_on(system),
        cautions=kind.cautions(system),
        inputs=tuple(_input(item) for item in kind.inputs(system)),
        limits=tuple(_limit(limit) for limit in kind.limits(system)),
        references=tuple(_limit(limit) for limit in kind.references(system)),
    )


def _figure(one: dict[str, Any]) -> FigureView:
    return FigureView(
        name=one["name"],
        label=one["label"],
        text=one.get("words") or figure(one["value"], one["unit"]),
    )


def _held(one: dict[str, Any]) -> HeldView:
    number, limit = one["number"], one["limit"]
    return HeldView(
        label=number["label"],
        text=figure(number["value"], number["unit"]),
        verdict=one["verdict"],
        verdict_label=VERDICT_LABELS[one["verdict"]],
        limit=limit["sentence"],
        source=limit["source"],
        standing=limit["standing"],
        confidence=limit["confidence"],
    )


def _input(item: measurements.Input) -> InputView:
    data: dict[str, Any] = measurements.input_data(item)
    choices = tuple(ChoiceView(**choice) for choice in data.pop("choices"))
    return InputView(**data, choices=choices)


def _limit(limit: measurements.Limit) -> LimitView:
    return LimitView(words=limit.sentence, source=limit.source.sentence)
