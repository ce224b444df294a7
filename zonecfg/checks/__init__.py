"""The checks: one file each, in a folder a family, found by walking."""
