"""What to doubt when findings cannot all be true of the drawing.

Either a finding was misread or the loom is not as drawn. Nothing is renormalised away:
each doubt comes with the explanation that stands if it is right, and all of them with
the test that settles which it is.
"""

from harness.conflict.doubts import Conflict, Doubt, conflict_in

__all__ = ["Conflict", "Doubt", "conflict_in"]
