"""Every read of the bench, as frozen dataclasses."""
