"""Output folders change as one: whole builds, nothing of anybody else's, whatever stops a run.

Read `outputs.py` first. `manifest.py` says what is ours in a folder, `ours.py` whether it may be
replaced, `staging.py` how one folder gets from a build to the next, `kept.py` whether a build would
change anything.
"""
