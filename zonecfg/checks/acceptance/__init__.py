"""Accepted findings: judged by the runner, which knows all others; these files hold their help."""

STATES: tuple[str, ...] = ()
TOUCHES = "record"
