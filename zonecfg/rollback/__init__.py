"""Going back: what would stand, in which order to get there, and what each way costs."""
