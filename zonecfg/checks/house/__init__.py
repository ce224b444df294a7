"""House: the team's own rules, judged by JSON Schema; the file holds their help."""

STATES: tuple[str, ...] = ()  # found as a file is read, with its own data in hand
TOUCHES = "operation"
