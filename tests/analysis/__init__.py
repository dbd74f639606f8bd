"""Tests of the questions asked of a finished costing: slopes, risk, volume, target cost, plan."""
