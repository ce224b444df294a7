"""Which actuator is which window: found serials paired with the plan, rounds of movement, and what was seen of them."""
