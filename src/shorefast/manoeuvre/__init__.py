"""The manoeuvre: bringing her in, proving her, settling her, getting her out."""

from shorefast.manoeuvre.proving import ProofStep, Proving, proving

__all__ = ["ProofStep", "Proving", "proving"]
