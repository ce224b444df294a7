"""Reading: faults that the document and the schema find; these files hold their help."""

STATES: tuple[str, ...] = ()  # nothing is left to judge once a file was read
TOUCHES = "record"
