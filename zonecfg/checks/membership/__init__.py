"""Who moves with whom."""
