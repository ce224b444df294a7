"""What all tests share: the hypothesis profile. Drawn examples are the same in every run and on every machine."""

from hypothesis import HealthCheck, settings

settings.register_profile(
    "ci", derandomize=True, deadline=None, database=None, suppress_health_check=[HealthCheck.too_slow]
)
settings.load_profile("ci")
