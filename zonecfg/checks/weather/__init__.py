"""Sensors and weather."""

TOUCHES = "weather"
