"""Tests of what to doubt when findings cannot all be true."""
