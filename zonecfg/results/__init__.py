"""The plain values that travel from one floor to the next."""
