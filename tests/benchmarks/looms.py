"""Which looms the long measurements take: the smaller ones, or all on request.

``LOOMS_MEASURED=every`` takes all; the gate has not the time.
"""

import os

from tests.harness.library import EVERY_LOOM, WREN

SMALLER = (
    WREN,
    "quillow-sprat-125.toml",
    "rothaugh-courier-350.toml",
    "tarnholm-otter-175.toml",
    "hallbeck-drover-500.toml",
)
MEASURED = EVERY_LOOM if os.environ.get("LOOMS_MEASURED") == "every" else SMALLER
