"""The course's forms: kinds of questions, job cards, tasks with right and wrong models, slips, drills, a lesson's spec.

``Question`` asks for a quantity; ``Choice``, ``Choices`` and ``Order`` ask for letters, dealt in an order of each
apprentice's own; ``Readings`` for a table; ``BenchQuestion`` for acts that the marker does again; ``FaultQuestion``
for a name with the readings that single it out.
"""
