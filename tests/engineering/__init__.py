"""The formulas against figures printed elsewhere, other programs, and the laws they must keep."""
