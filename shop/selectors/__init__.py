"""Every read across tables, as frozen dataclasses of primitives."""
