"""Between plan and building: the worksheet that goes to site, and what comes back on it."""
