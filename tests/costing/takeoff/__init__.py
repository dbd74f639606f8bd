"""Tests of quantities taken off parts: a square metre at a time, from catalogues."""
