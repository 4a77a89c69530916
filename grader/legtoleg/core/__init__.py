"""Core: where the course stands on this computer, files written whole, page templates, what every notebook holds."""
