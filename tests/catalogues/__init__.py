"""Catalogues that tests read, and how to write small ones for one test."""
