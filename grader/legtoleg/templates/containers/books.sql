-- The hub's book is made by the image; the grade book of the cohort stands beside it.
create database grades;
