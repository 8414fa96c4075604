"""Shorefast."""
