"""The sandbox: an apprentice's notebook runs here, apart from everything of the marker's."""
