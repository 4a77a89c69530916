"""Ten minutes a day: what a person remembers of the lessons, and the short set that keeps it.

``cards`` are what can be asked: every drill, with new numbers each time, and the recall questions that open the lessons
(``warm_ups.csv``, taken out of the lessons' own text by ``legtoleg build``; a ⚠ there makes it a question of safety).
``review_log`` is the file of what was asked and how it went; ``memory`` works out from it, by the open algorithm FSRS
of the library ``fsrs``, how likely each card is still known; ``daily_set`` chooses today's cards and says why. All of
it is on the apprentice's own computer.
"""
