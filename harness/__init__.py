"""The electrical engine of a bike's loom; the only module that others import."""
