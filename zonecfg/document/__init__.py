"""Text to data and back: reading with the place of every node, and catalogue files."""
