"""The report: a cohort in numbers, as a page, tables and a workbook."""
