"""Who moves with whom."""

TOUCHES = "operation"
