"""The preview: what it answers, what it notices, and how a real browser follows."""
