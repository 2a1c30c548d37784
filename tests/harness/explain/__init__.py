"""Tests of explanations in plain sentences."""
