"""The traced number: its arithmetic, its refusals, its graph and its explanation."""
