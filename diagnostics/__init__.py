"""The bench: harness library, cases, findings and what they prove."""
