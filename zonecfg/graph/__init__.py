"""Graphs of cables, and the few questions asked of them."""
