"""Tests of the electrical engine."""
