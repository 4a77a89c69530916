"""A refresher test: composed, packed, taken in, marked and recorded."""
