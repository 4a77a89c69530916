"""The ``legtoleg`` command."""
