"""Tests of rehearsals."""
