"""The functional core: plain functions and dataclasses, no framework."""
