"""How fast, how large and how much memory: yards of three sizes, and what others need for the same.

`python3 -m tests.benchmark` measures and prints a table with the targets beside what was measured;
`--help` lists its parts. Nothing here passes or fails by a time: a machine is never alone.
"""
