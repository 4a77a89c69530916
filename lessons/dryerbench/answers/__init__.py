"""Answers: the trade's units, what was typed and how it is read, what is asked about, how far off still counts.

``parser.read`` takes text in one strict form (sign, number, exponent, a spelling from the table in ``units``) or a
pint quantity, whose parts ``quantities`` looks at by exact type only. Nothing typed is evaluated or shown to pint's
parser: it reads "22.5 amps" as attometers a second. What is not certain goes to ``clarification``, which asks one
line and offers a suggestion only if the parser accepts it. pint's disk cache stays off: it is a pickle that a
notebook could write.

To add a unit or a spelling: ``units.UNITS``; its size into ``test_units``; its pattern into the oracle of
``test_parser``; an example into ``answer_examples.csv``. A spelling that can mean two things (K, m, mohm) stays out.
"""
