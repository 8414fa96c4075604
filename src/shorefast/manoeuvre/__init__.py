"""The manoeuvre: bringing her in, proving her, settling her, getting her out."""

from shorefast.manoeuvre.marks import Mark, Transit
from shorefast.manoeuvre.outcomes import Outcome
from shorefast.manoeuvre.proof_steps import ProofStep
from shorefast.manoeuvre.proving import Proving, proving
from shorefast.manoeuvre.settling import OffAt, Pretension, Settling, settling

__all__ = [
    "Mark",
    "OffAt",
    "Outcome",
    "Pretension",
    "ProofStep",
    "Proving",
    "Settling",
    "Transit",
    "proving",
    "settling",
]
