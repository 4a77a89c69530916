"""Authoring: from the text sources to built lessons, the answer page and the workbook."""
