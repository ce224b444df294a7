"""Pure formulas: plain numbers in, plain numbers out, one topic a module."""
