"""Files as suppliers and banks send them, read into lists: what comes out, and every refusal."""
