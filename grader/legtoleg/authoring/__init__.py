"""Authoring: from text sources to built lessons through nbgrader's generate step; the answer page; the workbook."""
