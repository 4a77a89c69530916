"""Ledgers: entries that are added and never changed, each chained to the one before. One way for every record.

A record says in a ``Form`` what is its own: its name (it goes into every hash), its kinds of entry, what may stand in
it once only, and the cure for damage. ``NotedLedger`` keeps the last hash in a file beside the ledger. The refresher's
record and the witness's record are such ledgers.
"""
