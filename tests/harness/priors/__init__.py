"""Tests of the priors."""
