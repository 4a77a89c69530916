"""The sandbox: an apprentice's notebook runs here, apart from everything of the marker's.

``engine`` talks to a warm parent (``worker``, the only code of ours in the jail): it passes sockets, never data. The
parent forks a child for each notebook in a process namespace of its own and watches it; the child closes what leads
to parent and siblings, shuts itself in, and only then reads. One fork, since that of so large a process is a sixth of
a notebook's time. Root first becomes an ordinary user: limits on processes do not bind root. Whatever comes back
passes ``output_sanitizer``. If whoever watched a child was killed from outside, the job runs again.
"""
