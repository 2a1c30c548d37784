"""The commands of ``python -m harness``, one module each."""
