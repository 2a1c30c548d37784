"""The bench over HTTP for programs."""
