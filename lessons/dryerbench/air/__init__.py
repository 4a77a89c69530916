"""Air: ducts, moist air, heat switches, thermistors, and the drying cycle that links them."""
