"""The report: a cohort in numbers, as a page, tables and a workbook.

``report_run`` is one run: ``marks_reading`` opens each marked notebook once, ``hand_in_fates`` says what came without
marks, ``cohort_statistics`` counts, ``three_parts`` says what is missing to be sent out (``call_closing`` on a page,
``supervised_calls`` in a test that a class held, as the shop decides), ``first_screen`` makes the three lists,
``report_page`` and ``report_tables`` write. The record of witnesses comes
in as ``write_report(witnesses=...)``.
"""
