"""A judgement, a kind or a limit as plain data, the same as JSON.

JSON knows no infinity: an open circuit is the word ``open`` in its place.
"""

import math
from typing import TypeAlias

from harness.measurements.entries import OPEN_WORD, Input
from harness.measurements.kinds import Judgement, Kind, Number
from harness.measurements.limits import Limit
from harness.measurements.systems import System

Plain: TypeAlias = "str | float | bool | list[Plain] | dict[str, Plain] | None"


def judgement_data(judgement: Judgement) -> dict[str, Plain]:
    """Return everything that a judgement says."""
    return {
        "kind": judgement.kind,
        "title": judgement.title,
        "volts": judgement.system.volts,
        "earth": judgement.system.earth,
        "verdict": judgement.verdict.value,
        "says": judgement.says,
        "next_step": judgement.next_step,
        "entered": [
            {
                "name": entered.name,
                "label": entered.label,
                "value": _value(entered.value),
                "unit": entered.unit,
                "words": entered.words,
            }
            for entered in judgement.entered
        ],
        "numbers": [_number_data(number) for number in judgement.numbers],
        "held": [
            {
                "number": _number_data(held.number),
                "limit": limit_data(held.limit),
                "verdict": held.verdict.value,
            }
            for held in judgement.held
        ],
        "limit": judgement.limit.sentence,
        "source": judgement.source,
        "published": judgement.limit.source.is_published,
        "remarks": list(judgement.remarks),
        "cautions": list(judgement.cautions),
    }


def kind_data(kind: Kind, system: System) -> dict[str, Plain]:
    """Return what a page or a caller needs to take a measurement of this kind.

    Raises
    ------
    HarnessError
        When there is no limit for these volts.
    """
    return {
        "name": kind.name,
        "title": kind.title,
        "tells": kind.tells,
        "steps": list(kind.steps_on(system)),
        "cautions": list(kind.cautions(system)),
        "inputs": [input_data(item) for item in kind.inputs(system)],
        "limits": [limit_data(limit) for limit in kind.limits(system)],
        "references": [limit_data(limit) for limit in kind.references(system)],
    }


def limit_data(limit: Limit) -> dict[str, Plain]:
    """Return a limit with its conditions and its source."""
    when = limit.conditions
    return {
        "quantity": limit.quantity,
        "unit": limit.unit,
        "low": limit.low,
        "high": limit.high,
        "fault_below": limit.fault_below,
        "fault_above": limit.fault_above,
        "conditions": {
            "celsius": None if when.celsius is None else list(when.celsius),
            "rested_h": when.rested_h,
            "engine_rpm": when.engine_rpm,
            "words": when.words,
        },
        "sentence": limit.sentence,
        "source": limit.source.words,
        "standing": limit.source.standing.value,
        "confidence": limit.source.confidence.value,
    }


def _number_data(number: Number) -> dict[str, Plain]:
    return {
        "name": number.name,
        "label": number.label,
        "value": _value(number.value),
        "unit": number.unit,
    }


def _value(value: float | str) -> float | str:
    if isinstance(value, float) and math.isinf(value):
        return OPEN_WORD
    return value


def input_data(item: Input) -> dict[str, Plain]:
    """Return what is to be entered; a span without an end is None there."""
    return {
        "name": item.name,
        "label": item.label,
        "unit": item.unit,
        "low": item.low if math.isfinite(item.low) else None,
        "high": item.high if math.isfinite(item.high) else None,
        "help": item.help,
        "required": item.required,
        "takes_open": item.takes_open,
        "choices": [
            {"name": choice.name, "label": choice.label} for choice in item.choices
        ],
    }
