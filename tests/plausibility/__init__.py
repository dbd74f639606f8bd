"""What is hard to believe is told, what is usual is not: ranges, relations, moves, and slips."""
