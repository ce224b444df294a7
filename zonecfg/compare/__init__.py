"""What differs between two states of a site, and what it means."""
