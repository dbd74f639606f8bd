"""The catalogue's reading and checks: what is understood, and what each fault says of itself."""
