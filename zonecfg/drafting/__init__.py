"""From a window schedule to a plan: what is said is taken, what is not is listed, and nothing is guessed."""
