"""Kernels that count no references: they may hand back numbers only."""

import importlib
import pkgutil

import numba
import pytest
from numba import types

import shorefast.mooring
from shorefast.mooring.warming import warm


def _lean():
    for found in pkgutil.iter_modules(shorefast.mooring.__path__):
        module = importlib.import_module(f"shorefast.mooring.{found.name}")
        for thing in vars(module).values():
            compiled = isinstance(thing, numba.core.registry.CPUDispatcher)
            if compiled and thing.targetoptions.get("_nrt") is False:
                yield thing


def _arrays_in(kind):
    if isinstance(kind, types.Array):
        return True
    return any(_arrays_in(part) for part in kind) if isinstance(kind, types.BaseTuple) else False


@pytest.fixture(scope="module", autouse=True)
def every_kernel_called_once():
    warm()


def test_an_array_is_never_handed_back_uncounted():
    lean = list(_lean())
    assert len(lean) > 20
    for kernel in lean:
        for signature in kernel.nopython_signatures:
            assert not _arrays_in(signature.return_type), kernel.py_func.__name__
