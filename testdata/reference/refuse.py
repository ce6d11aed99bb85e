"""The one way this model says no."""


class NotCovered(Exception):
    """A day that the reference model would answer wrongly, and so does not
    answer. `reasons` lists all that was found, one line each."""

    def __init__(self, reasons):
        super().__init__("; ".join(reasons))
        self.reasons = list(reasons)
