"""Figures that look like a slip of the pen: a unit, a comma, a digit."""

TOUCHES = "record"
