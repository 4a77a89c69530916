"""Diagnosis: which faults are possible, what readings say of them, and the path to the right one.

Odds are Bayes' rule over the catalogue (``candidates``, ``likelihood``, ``evidence``). The advice is the reading with
the most bits a minute: short, not proved shortest. Of readings that tell as much it takes the menu's first, since a
processor's last digits must not decide (a test runs it as three kinds of x86). What no reading tells apart is computed
by ``ambiguity_groups``. A service call is ``service_calls.deal_call(n)``: same number, same machine. Evidence ends at
the first repair (a part, a reset, a joint).

On any machine of the family: ``machine_menu`` (what can be found out, its minutes), ``machine_cases`` (faults and the
pairs that occur, in machines whose numbers nobody knows; what each would show), ``machine_evidence`` (odds, advice,
what may be done), ``machine_paths`` (the table ``machine-paths``: make it anew when a machine, a fault or a minute
changes), ``machine_trail`` (a bench's trail as evidence), ``machine_search`` (hints, names, the advised way),
``machine_calls`` (calls for practice, and dealt ones), ``asked_to_run`` (its table: what a machine does with each
fault), ``machine_complaints`` (what is heard of each), ``machine_dealing`` and ``machine_hand_over`` (the calls of
lesson 10: plain, with a cause, not yours).
"""
