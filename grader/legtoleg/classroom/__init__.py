"""The classroom: a cohort at the browser. ``legtoleg class DIR`` runs it; homes and marks stay on this disk.

Three siblings under one ``supervisor``, none a child of another, each started again when it ends: the *door*, the
*hub* (JupyterHub) and the *service*. Only the door has a port. All else listens on unix sockets, so that a seat needs
no network. The door is an own one on aiohttp and not configurable-http-proxy: that one needs Node, which no shop has,
and takes about twice the memory; a door that speaks the hub's API of routes is small enough to read in one sitting,
keeps its routes in a file, and gives seats a *gate*: the hub's API and nothing else, so no seat can guess at log-ins.

A *seat* is one apprentice's Jupyter server. Root with bubblewrap gives each its own user, files and process table and
no network; an ordinary user with bubblewrap the same but for the user; elsewhere seats are plain processes, and the
command says so. In each seat's folder of sockets lies one of the class service: who asks is told by the socket, no
token is needed. Another service (a bench that is sealed) gets a socket in the same folder.

A hand-in is kept in ``received/`` and noted in ``class/receipts.jsonl`` before the answer goes out; ``taking_in`` then
takes it through collecting. What comes back is the cohort's own folder ``feedback``, shown to the seat read-only.
"""
