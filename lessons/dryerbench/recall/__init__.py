"""Ten minutes a day: what a person remembers of the lessons, and the short set that keeps it.

``cards`` are what can be asked: every drill, with new numbers each time; more sums, dealt the same way (``sums``); the
recall questions that open the lessons (``warm_ups.csv``, taken out of the lessons' own text by ``legtoleg build``; a ⚠
there makes it a question of safety); and the safety ideas that these leave out (``ideas.csv``, written by hand).
``leads.csv`` says once for each graded question which cards practice it; the marker's note of what was missed names
these. A new graded question needs its line there, and one of safety a card of safety: tests say so.
``review_log`` is the file of what was asked and how it went; ``memory`` works out from it, by the open algorithm FSRS
of the library ``fsrs``, how likely each card is still known and what asking it adds; ``daily_set`` chooses today's
cards by what a minute of each adds over the coming week, and says why. ``tests/.../simulated_forgetter.py`` prints what
that keeps in 60 days beside a fixed order in the same minutes. All of it is on the apprentice's own computer.
"""
