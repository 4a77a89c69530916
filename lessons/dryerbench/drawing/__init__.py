"""Drawing: figures with knobs, the wiring diagram and the bench panel's picture."""
