"""The shop's record: entries, their chain, standings and dues."""
