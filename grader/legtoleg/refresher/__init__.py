"""The refresher: who is due, a short test of their own, and a record that holds up.

An entry is its kind, whom it is about, its day at the shop, when it was entered, and data. Its body is canonical JSON
(RFC 8785); its hash is the SHA-256 of the canonical ``{form, number, before, body}``, so anybody can compute it.
``Ledger.append`` follows the whole chain and adds the row in one transaction; the column ``once`` is unique, so two
computers cannot record one test twice. Entries hold ids, never names. ``last-hash.txt`` is written after the entry:
it finds a ledger whose end was cut off, not one replaced together with the note.

A standing is worked out for a day from the entries up to that day. Months by ``relativedelta``; the last good day
counts; a call is due at once. A test is a lesson's questions under another id, so numbers and orders are new and no
key is stored; the page of results is written before the entry. The badge (Open Badges 3.0 as a VC-JWT, EdDSA by the
shop's own key) was not run through a conformance suite; the schema of xAPI statements is ours, from memory of the
standard.

To add a topic: a row in ``refresher_topics.csv`` (basis, source, how it is known; ``months`` empty where no rule has
a period) and questions in ``refresher_questions.csv``; a critical topic needs a safety question with minutes. A new
kind of entry: ``KINDS``, ``words_of``, ``topics_of``; ``FORM`` changes when the hash does.
"""
