"""The sandbox: an apprentice's notebook runs here, apart from everything of the marker's.

``engine`` talks to a warm parent (``worker``, the only code of ours in the jail): it passes sockets, never data. The
parent forks a child for each notebook in a process namespace of its own and watches it; the child closes what leads
to parent and siblings, shuts itself in, and only then runs a cell. One fork, since that of so large a process is a
sixth of a notebook's time. Root first becomes an ordinary user: limits on processes do not bind root. Whatever comes
back passes ``output_sanitizer``.

Each job has two lines. On the first the child says what its cells show, and a hostile cell may say there what it likes:
that is its own job's trouble. How the job ended is said on the second, which the child closes before the first cell; so
no cell can end, lose or forbid another's job. If whoever watched a child was killed from outside, the job runs again.

Ways, the best first (``engine_choice``): ``jail.BUBBLEWRAP``; ``jail.NAMESPACES``, the same room made by
``worker.own_room`` from the same words; ``jail.SHARED``, limits and no network but no room; and ``serial_engine``,
where a system has no safe fork. The last two do not isolate, and every ``Run`` says so, down to ``marks.csv``.

Memory: what processes hold is counted, shared memory too; what no count sees (System V, ``memfd``, shared mappings
without a file, ``/dev/zero``) is refused by ``worker.refused_calls``; folders in memory have a size.

Speed: ``worker.plain_cells`` runs a cell without IPython's way around it; ``worker.warming`` runs a lesson once as
released, so that forks find it in memory (the parent never holds worked answers: every child can read its memory). One
timer of the system's watches a notebook (``worker.watchdog``). Tried without gain: copying the pages in bulk that a
trial child wrote to (``MADV_POPULATE_WRITE``), and switches of the garbage collector.
"""
