"""Run every compiled formula once, so that the first answer does not wait for it."""

from __future__ import annotations

import shorefast.mooring


def main() -> None:
    """Fill the cache of machine code."""
    shorefast.mooring.warm()


if __name__ == "__main__":
    main()
