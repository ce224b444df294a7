"""What a rehearsal plays is one order of many: it never leaves the bounds of the figures, which take the worst."""

from hypothesis import given, settings
from hypothesis import strategies as st
from plans import site_of
from sites import site_data

from zonecfg.figures import Figures
from zonecfg.figures.network import Volt
from zonecfg.rehearsal.simulate import played
from zonecfg.rehearsal.weather import weather


@settings(max_examples=60, deadline=None)
@given(
    st.integers(0, 100_000),
    st.sampled_from([6, 15, 30]),
    st.integers(1, 4),
    st.booleans(),
    st.randoms(use_true_random=False),
)
def test_no_current_is_larger_and_no_voltage_lower(seed, actuators, at_once, fire, chance):
    data = site_data(actuators, seed=seed)
    for kind in data["types"]["controllers"].values():
        kind["moves_at_once"] = at_once
    data["groups"] = dict(chance.sample(list(data["groups"].items()), len(data["groups"])))
    rain = [s for s, own in data["sensors"].items() if data["types"]["sensors"][own["type"]]["measures"] == "rain"]
    site = site_of(data)
    figures = Figures(site)
    told = played(
        figures, weather(site, wet=[f"{s}@1..20" for s in rain[:2]], fire_minute=3 if fire else None), "s.yaml"
    )
    for peak in told.peaks:
        if peak.current_a is not None:
            assert peak.current_a <= figures.power.supplies[peak.supply].peak_a * (1 + 1e-9)
    volts = [v for a in site.actuators if isinstance(v := figures.power.voltage(a), Volt)]
    if told.lowest is not None and volts:
        assert told.lowest.voltage_v >= figures.power.voltage(told.lowest.actuator).volt - 1e-9
        assert told.lowest.voltage_v >= min(v.volt for v in volts) - 1e-9
