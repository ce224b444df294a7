"""Fixtures of the tests of drafts."""

from command import zonecfg  # noqa: F401  (a fixture)
