"""Core: where the course stands on this computer, and files written whole."""
