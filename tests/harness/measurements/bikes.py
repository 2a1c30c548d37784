"""The systems that measurements are tried on."""

from harness.measurements import SYSTEM_VOLTS, System

SIX = System(6, "positive")
TWELVE = System(12, "negative")
TWENTY_FOUR = System(24, "negative")
SYSTEMS = tuple(System(volts, "negative") for volts in SYSTEM_VOLTS)
