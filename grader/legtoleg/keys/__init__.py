"""Keys: the reference answers, one file a lesson; nothing here is ever in a kit."""
