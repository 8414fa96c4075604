# Shorefast on a bare machine: git, make and Python 3.11 to 3.13 are enough.
#
#   make demo      the three bays, judged and drawn into build/demo
#   make test      every test
#   make check     form, types, layers, sizes and every test: what CI runs
#   make bench     the figures of docs/performance.md
#   make campaign  the long runs; DATA=FOLDER adds real files from outside
#   make fmt       lay the code out

PYTHON ?= python3
VENV := .venv
BIN := $(VENV)/bin
READY := $(VENV)/ready
WARM := $(VENV)/warm
DATA ?=

.PHONY: demo test check bench campaign fmt ready
.DELETE_ON_ERROR:

demo: $(WARM)
	$(BIN)/shorefast demo --out build/demo

test: $(WARM)
	$(BIN)/python -m pytest -n 2 --dist loadfile

check: $(READY)
	$(BIN)/ruff format --check .
	$(BIN)/ruff check .
	$(BIN)/mypy
	$(MAKE) test

bench: $(WARM)
	$(BIN)/python tools/bench.py

campaign: $(WARM)
	$(BIN)/python tools/campaign.py $(DATA)
	$(if $(DATA),SHOREFAST_DATA=$(abspath $(DATA)) $(BIN)/python -m pytest -q tests/campaign)

fmt: $(READY)
	$(BIN)/ruff format .
	$(BIN)/ruff check --fix .

ready: $(READY)

# The environment: made once, and again when what it should hold has changed.
$(READY): requirements/all.txt pyproject.toml
	@$(PYTHON) -c 'import sys; sys.exit(not (3, 11) <= sys.version_info[:2] <= (3, 13))' || \
	  { echo "Shorefast needs Python 3.11, 3.12 or 3.13: name one with make PYTHON=..." >&2; exit 1; }
	@$(PYTHON) -c 'import ensurepip, venv' 2>/dev/null || \
	  { echo "This Python cannot make an environment: install the Debian package python3-venv." >&2; exit 1; }
	test -x $(BIN)/python || $(PYTHON) -m venv $(VENV)
	$(BIN)/python -m pip install --quiet --disable-pip-version-check 'uv==0.13.*'
	$(BIN)/uv pip install --quiet -p $(BIN)/python --compile-bytecode -r requirements/all.txt
	$(BIN)/uv pip install --quiet -p $(BIN)/python --no-deps -e .
	@touch $@

# Machine code of every kernel, made anew when the source has changed.
$(WARM): $(READY) $(shell find src -name '*.py')
	@$(BIN)/python -m compileall -q src
	$(BIN)/python -m shorefast.app.warm
	@touch $@
