"""Each command's pipeline as one readable function: the Python API."""
