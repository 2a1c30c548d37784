"""Measurements judged against limits and kept, and withdrawn with a reason."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Any

import harness
from diagnostics.actions.history import note_on_case
from diagnostics.actions.steps import (
    advance,
    case_row,
    demand_key,
    on_the_case_as_it_is,
)
from diagnostics.convert import LONGEST_NOTE
from diagnostics.lifecycle import CaseState, demand_unfinished
from diagnostics.models import Case, Measurement, MeasurementVoid
from diagnostics.refusals import ReadingsRefused
from harness import measurements
from shop.domain.refusals import NotFound, Refusal
from shop.domain.roles import Act
from shop.models import User


@dataclass(frozen=True, kw_only=True)
class MeasurementEntry:
    """A measurement as somebody enters it: readings by the names of its inputs."""

    kind: str
    readings: Mapping[str, Any]
    note: str = ""


def record_measurement(
    *, case_id: int, entry: MeasurementEntry, key: str, acting_user: User, at: datetime
) -> Measurement:
    """Judge what was read, and keep the readings with the judgement.

    The key names the tap: sent again, it gives back the measurement that it made.

    Raises
    ------
    Refusal
        The readings cannot be true, there is no such kind, or the case is finished.
    """
    acting_user.demand(Act.FIND_FAULTS)
    key = demand_key(key)
    _demand_short(entry.note, "note")

    def think() -> Callable[[], Measurement]:
        case = case_row(case_id)
        judged = _judged(case, entry)
        readings = {one["name"]: one["value"] for one in judged["entered"]}
        already = Measurement.objects.of_case(case_id).filter(key=key).first()
        if already is not None:
            _demand_the_same(already, entry.kind, readings)
            return lambda: already
        demand_unfinished(CaseState(case.state))

        def write() -> Measurement:
            # Moves nothing on, but holds the case's row, so that the number is ours.
            advance(case, steps=0)
            made = Measurement.objects.create(
                case=case,
                sequence=Measurement.objects.of_case(case_id).count() + 1,
                repairs_before=case.repairs_made,
                key=key,
                kind=entry.kind,
                readings=readings,
                verdict=judged["verdict"],
                judgement=judged,
                note=entry.note.strip(),
                taken_by=acting_user,
                taken_at=at,
            )
            note_on_case(
                case,
                verb="measurement.taken",
                summary=_summary(made, case),
                acting_user=acting_user,
                at=at,
            )
            return made

        return write

    return on_the_case_as_it_is(think)


def void_measurement(
    *, measurement_id: int, reason: str, acting_user: User, at: datetime
) -> MeasurementVoid:
    """Withdraw a measurement; voiding it twice gives back the first void.

    Raises
    ------
    Refusal
        No reason is given, or the case is finished.
    """
    acting_user.demand(Act.FIND_FAULTS)
    reason = reason.strip()
    if not reason:
        raise Refusal(
            "reason-missing",
            "Say what was wrong with the measurement, in a few words.",
            "reason",
        )
    _demand_short(reason, "reason")

    def think() -> Callable[[], MeasurementVoid]:
        made = _measurement(measurement_id)
        if hasattr(made, "void"):
            already: MeasurementVoid = made.void
            return lambda: already
        case = case_row(made.case_id)
        demand_unfinished(CaseState(case.state))

        def write() -> MeasurementVoid:
            advance(case, steps=0)
            void, is_new = MeasurementVoid.objects.get_or_create(
                measurement=made,
                defaults={"reason": reason, "voided_by": acting_user, "voided_at": at},
            )
            if is_new:
                note_on_case(
                    case,
                    verb="measurement.voided",
                    summary=f"Measurement {made.sequence} voided ({case.title})",
                    acting_user=acting_user,
                    at=at,
                    reason=reason,
                )
            return void

        return write

    return on_the_case_as_it_is(think)


def _judged(case: Case, entry: MeasurementEntry) -> dict[str, Any]:
    drawing = case.harness_file
    try:
        system = measurements.system_of(
            volts=drawing.nominal_volts, earth=drawing.earth
        )
        judged = measurements.judge(entry.kind, entry.readings, system)
    except harness.HarnessError as error:
        raise ReadingsRefused.from_engine(error) from error
    return dict(measurements.judgement_data(judged))


def _demand_the_same(
    already: Measurement, kind: str, readings: Mapping[str, Any]
) -> None:
    if (already.kind, already.readings) != (kind, dict(readings)):
        raise Refusal(
            "key-used",
            "This entry was sent before with other readings, and was taken down then. "
            "Load the page again to see it.",
            "key",
        )


def _demand_short(text: str, field: str) -> None:
    if len(text.strip()) > LONGEST_NOTE:
        raise Refusal(
            f"{field}-too-long", f"Keep it to {LONGEST_NOTE} characters.", field
        )


def _summary(made: Measurement, case: Case) -> str:
    title = made.judgement["title"]
    verdict = measurements.Verdict(made.verdict).label.lower()
    return f"Measurement {made.sequence}: {title.lower()}, {verdict} ({case.title})"


def _measurement(measurement_id: int) -> Measurement:
    found = Measurement.objects.select_related("void").filter(pk=measurement_id).first()
    if found is None:
        raise NotFound(
            "measurement-not-found", "There is no such measurement.", "measurement_id"
        )
    return found
