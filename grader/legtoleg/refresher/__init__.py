"""The refresher's room: who is due, a short test of their own, and a record that stands up."""
