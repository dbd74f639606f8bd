"""The guide that ships with the program: what its pages say is so, and what they show runs."""
