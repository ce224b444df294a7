"""What the property tests of this folder share."""

from hypothesis import settings
from hypothesis import strategies as st

LAW = settings(deadline=None, derandomize=True, database=None, max_examples=200)
SINGLE = 6e-8  # half a unit in the last place of a number held in single precision, relative

HINGES = ("top-hung", "bottom-hung", "side-hung", "centre-pivot")
hinges = st.sampled_from(HINGES)
sides_mm = st.floats(200, 3000)
shares = st.floats(0.15, 1)
percents = st.floats(0, 100)
