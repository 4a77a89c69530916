"""The course's forms: kinds of questions, job cards, tasks, slips, drills, and the sheet of a lesson."""
