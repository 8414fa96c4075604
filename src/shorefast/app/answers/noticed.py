"""What was noticed on the way, as the last lines of an answer for people."""

from __future__ import annotations

from shorefast.basis import Basis


def with_noticed(text: str, basis: Basis) -> str:
    """The text with the findings under it; nothing more where there are none."""
    if not basis.findings:
        return text
    return "\n".join([text, "", "Noticed:", *(f"  {f.where}: {f.said}" for f in basis.findings)])
