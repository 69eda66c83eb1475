# demo: the worked job, from a filled-in strip sheet to priced workbooks in exports/
# test: the same set-up, then every check that CI has
# check: format, lint, types, import rules     bench: timings     lock: pin anew
PYTHON ?= python3
VENV   := .venv
BIN    := $(VENV)/bin
PIP    := $(BIN)/python -m pip --disable-pip-version-check --quiet
RUN_SET  := $(VENV)/.run-set
TEST_SET := $(VENV)/.test-set

.PHONY: demo test check format bench lock clean

demo: $(RUN_SET)
	$(BIN)/kitting demo

# The pure rooms are traced, and must be covered by their own tests. The store, the sheets and the doors
# are tried for real by the rest, which would take half as long again traced.
PURE := measure engineering catalog job buying

test: check
	$(BIN)/python -m pytest -n auto $(PURE:%=tests/%) $(PURE:%=--cov=kitting.%) --cov-report=term:skip-covered --cov-fail-under=95
	$(BIN)/python -m pytest -n auto --dist worksteal $(PURE:%=--ignore=tests/%)

check: $(TEST_SET)
	$(BIN)/ruff format --check .
	$(BIN)/ruff check .
	$(BIN)/lint-imports --no-cache
	$(BIN)/mypy

format: $(TEST_SET)
	$(BIN)/ruff format .
	$(BIN)/ruff check --fix .

bench: $(TEST_SET)
	$(BIN)/python -m tests.benchmarks

$(VENV)/bin/python:
	@$(PYTHON) -c 'import sys; sys.exit(sys.version_info < (3, 11) and "Python 3.11 or newer is needed: make PYTHON=python3.12 demo")'
	$(PYTHON) -m venv $(VENV)

# Not compiled ahead: what is used is when it is first used, and much of the set never is.
$(RUN_SET): $(VENV)/bin/python requirements/run.txt pyproject.toml
	@echo "Setting up (once): the pinned set into $(VENV)"
	$(PIP) install --no-compile --require-hashes -r requirements/run.txt
	$(PIP) install --no-deps --no-build-isolation --no-index -e .
	@touch $@

$(TEST_SET): $(RUN_SET) requirements/tests.txt requirements/nodeps.txt
	$(PIP) install --no-compile --require-hashes -r requirements/tests.txt
	$(PIP) install --no-compile --require-hashes --no-deps -r requirements/nodeps.txt
	@touch $@

# needs the `uv` command
LOCK := uv pip compile --quiet --universal --python-version 3.11 --generate-hashes --no-annotate --no-header --no-strip-extras
lock:
	$(LOCK) pyproject.toml requirements/build.in -o requirements/run.txt
	$(LOCK) pyproject.toml requirements/build.in requirements/tests.in -o requirements/tests.txt
	$(LOCK) --no-deps requirements/nodeps.in -o requirements/nodeps.txt

clean:
	rm -rf $(VENV) build dist .mypy_cache .ruff_cache .coverage
