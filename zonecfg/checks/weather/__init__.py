"""Sensors and weather."""
