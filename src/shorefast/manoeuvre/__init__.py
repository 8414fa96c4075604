"""The manoeuvre: bringing her in, proving her, settling her, getting her out."""

from shorefast.manoeuvre.marks import Mark, Transit
from shorefast.manoeuvre.outcomes import Outcome
from shorefast.manoeuvre.proof_steps import ProofStep
from shorefast.manoeuvre.proving import Proving, proving

__all__ = ["Mark", "Outcome", "ProofStep", "Proving", "Transit", "proving"]
