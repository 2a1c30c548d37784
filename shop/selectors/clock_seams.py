"""Nobody calls a work order ready while somebody is clocked on to it."""

from shop.seams import registry
from shop.selectors.clocks import clock_blockers

registry.register_blockers("clocks", clock_blockers)
