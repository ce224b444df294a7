"""A spell of weather played through links and actions, event by event."""
