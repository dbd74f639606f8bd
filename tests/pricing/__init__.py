"""Prices, margins and configured boats."""
