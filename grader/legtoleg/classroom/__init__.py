"""The classroom: a cohort at the browser. ``legtoleg class DIR`` runs it; homes and marks stay on this disk.

Five siblings under one ``supervisor``, none a child of another, each started again when it ends: the *door*, the
*hub* (JupyterHub), the *service*, the *bench* and, for root, the *warm parent*. Only the door has a port. All else
listens on unix sockets, so that a seat needs no network. The door is an own one on aiohttp and not
configurable-http-proxy: that one needs Node, which no shop has, and takes about twice the memory; a door that speaks
the hub's API of routes is small enough to read in one sitting, keeps its routes in a file, and gives seats a *gate*:
the hub's API and nothing else, so no seat can guess at log-ins.

A *seat* is one apprentice's Jupyter server. Root with bubblewrap gives each its own user, files and process table and
no network; an ordinary user with bubblewrap the same but for the user; elsewhere seats are plain processes, and the
command says so. In each seat's folder of sockets lies one of the class service: who asks is told by the socket, no
token is needed. The bench has one in the same folder.

Root's seats are forks of the warm parent (``warm_seats``): the hub starts the jail with nothing in it but what holds
it (``warm_start``), and a fork enters it, becomes the seat's user for good and is the server; the server's kernels
are forks of its nursery. What holds the jail is told the server's number and ends with it. A parent that is away for
half a minute makes seats start cold. What a module reads from the environment when it is imported is the parent's:
say it as a word of the server (``server_words``).

A hand-in is kept in ``received/`` and noted in ``class/receipts.jsonl`` before the answer goes out; ``taking_in`` then
takes it through collecting. What comes back is the cohort's own folder ``feedback``, shown to the seat read-only.

A supervised test is the bench service's (``sealed_*``). ``sealed_book`` keeps tests, acts, ends in one SQLite file, to
which rows are only added; ``sealed_dealing`` deals machines by a name that is an HMAC, so any lesson's card can be
dealt in secret; ``sealed_sight`` says what may leave; ``sealed_room`` takes acts, each with its number: the same number
and details give the stored answer; ``sealed_asking`` reads them, an act by code or a press on the page. The panel of a
press is the lessons' own: a ``SealedDesk`` for each request, on the bench that lives here, with the look that the page
sends along. To add a kind of test: ``KINDS``, ``jobs_of``, ``TITLES``. What is new on the bench
leaves only when ``sealed_sight`` names it, and what happens silently belongs into its ``SILENT``.

Beyond one computer (``container_*``, ``templates/containers``) seats are containers by the hub's own spawners. They see
the same parts of the cohort's folder as the same user, and ask through ``seat_gate``: the hub tells whose token it is.
The image of a seat holds no marker.
"""
