"""Tests of the guide: written topics, and the reference made from the program."""
