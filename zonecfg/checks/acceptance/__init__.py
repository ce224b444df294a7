"""Accepted findings."""
