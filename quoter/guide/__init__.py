"""The guide: written topics, and the reference that is made from the program itself."""
