"""A cohort: its folder, its book, its kits and hand-ins, and the marking of all of them."""
