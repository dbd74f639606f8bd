"""The pages: what they show, what they must not show, and how they behave in a real browser."""
