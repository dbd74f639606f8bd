"""What a hostile day does to the program: kills, crowds, planted secrets, enormous files.

`python3 -m tests.trials` runs all of it at length and prints what was tried and what failed, a line
a trial; words after it choose trials by name, `--short` runs the short form. The test run does the
short form. A module here that has `TRIALS` is found by itself.
"""
