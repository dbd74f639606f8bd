"""Output folders: what changes in them, what never does, and who may write."""
