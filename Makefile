# The whole set-up is one stamp file, .venv/.ok: a private Python environment from a hashed lock, our own package in
# editable form, and the typefaces built into it. Every other target stands on it. `make help` lists them.

SHELL := /bin/bash
.SHELLFLAGS := -eu -o pipefail -c
.ONESHELL:
.DEFAULT_GOAL := help

PYTHON ?= python3
V := .venv
PY := $(V)/bin/python
UV := $(V)/bin/uv
UV_PIN := uv==0.13.9

# uv would otherwise fetch interpreters of its own; the interpreter is the one that is here.
export UV_PYTHON_DOWNLOADS := never
export PIP_DISABLE_PIP_VERSION_CHECK := 1
export PIP_ROOT_USER_ACTION := ignore

WEB := $(shell find web -type f -not -path '*/node_modules/*' -not -path '*/__pycache__/*' 2>/dev/null)

PO := $(wildcard src/fluewright/locale/*/LC_MESSAGES/*.po)

.PHONY: help setup demo serve test check bench ci cover docs words lock clean browser server broker

help:  ## say what there is
	@grep -hE '^[a-z]+:.*##' $(MAKEFILE_LIST) | sed -E 's/:.*## /\t/' | expand -t 10

setup: $(V)/.ok  ## everything that the other targets need

demo: $(V)/.ok  ## an invented boiler house as a sheet, HTML and PDF; then an invented shop in the browser, with a live boiler
	@$(V)/bin/fluewright demo
	if [ -t 1 ]; then
	  echo
	  echo "An invented shop to work in, in your browser:"
	  $(V)/bin/fluewright serve --demo --live
	else
	  echo
	  echo "An invented shop to work in, in your browser: make serve"
	fi

serve: $(V)/.ok  ## the pages over an invented shop, at an address of this machine only
	@$(V)/bin/fluewright serve --demo

test: $(V)/.ok browser server broker  ## all tests
	@$(PY) -m pytest

check: $(V)/.ok  ## lint, format, types, who imports whom
	@$(V)/bin/ruff check .
	$(V)/bin/ruff format --check .
	$(V)/bin/mypy
	$(V)/bin/lint-imports --no-logo
	$(PY) -c 'import hatch_build; hatch_build.types()'

bench: $(V)/.ok  ## measured speed, beside peers and the physical limit
	@$(PY) -m benchmarks

ci: check test  ## what has to hold before anything is taken in

cover: $(V)/.ok  ## which lines no test runs
	@$(PY) -m pytest --cov --cov-report=term-missing:skip-covered

docs: $(V)/.ok  ## write the reference and the table of errors anew from the program
	@$(PY) docs/generate.py

words: $(V)/.ok  ## gather what the program says into the catalogs, and compile every language
	@$(PY) scripts/words.py

lock: $(V)/.ok  ## resolve the dependencies anew: names, versions, markers and hashes, no host
	@$(UV) pip compile -q --upgrade --universal --generate-hashes --no-header --no-annotate --group dev \
	  -o requirements.lock pyproject.toml

clean:  ## remove what was built
	@rm -rf $(V) build dist web/node_modules src/fluewright/static .mypy_cache .ruff_cache .pytest_cache \
	  .hypothesis .import_linter_cache .coverage src/fluewright/locale/*/LC_MESSAGES/*.mo

$(V)/.ok: requirements.lock pyproject.toml hatch_build.py $(WEB) $(PO)
	@if ! $(PYTHON) -c 'import sys; sys.exit(sys.version_info < (3, 11))'; then
	  echo "make: the Python found is $$($(PYTHON) --version 2>&1)" >&2
	  echo "  expected  Python 3.11 or later" >&2
	  echo "  because   the program reads its rule and fuel files with a part of Python that came with 3.11" >&2
	  echo "  do        install a later Python, then: make PYTHON=/path/to/python3 setup" >&2
	  exit 1
	fi
	if ! $(PYTHON) -c 'import ensurepip, venv' 2>/dev/null; then
	  if [ "$$(id -u)" = 0 ] && command -v apt-get >/dev/null; then
	    echo "make: this Python cannot make environments yet; installing the system package python3-venv"
	    apt-get update -qq && DEBIAN_FRONTEND=noninteractive apt-get install -y -qq python3-venv >/dev/null
	  fi
	  if ! $(PYTHON) -c 'import ensurepip, venv' 2>/dev/null; then
	    echo "make: $(PYTHON) came without the module ensurepip" >&2
	    echo "  expected  a Python that can make an environment (python3 -m venv)" >&2
	    echo "  because   all that is installed for this program stays in the folder $(V)" >&2
	    echo "  do        on Debian or Ubuntu: sudo apt-get install python3-venv, then the same make again" >&2
	    exit 1
	  fi
	fi
	$(PYTHON) -m venv $(V)
	echo "make: installing from the hashed lock"
	if $(PY) -m pip install -q $(UV_PIN) \
	  && $(UV) pip sync -q --python $(PY) --require-hashes --compile-bytecode requirements.lock; then
	  echo "make: installing fluewright, building its typefaces"
	  $(UV) pip install -q --python $(PY) --no-deps -e .
	else
	  echo "make: uv cannot be had here; going on with pip, which takes a little longer"
	  $(PY) -m pip install -q --require-hashes -r requirements.lock
	  echo "make: installing fluewright, building its typefaces"
	  $(PY) -m pip install -q --no-deps -e .
	fi
	$(PY) -m compileall -q src  # a cold command takes 100 ms instead of 150 where Python may not keep its own
	touch $@

# Pages are looked at in a real browser and PDFs as pictures. Without them those tests say why they are skipped.
browser:
	@missing=""
	command -v chromium >/dev/null || missing="chromium"
	command -v pdftoppm >/dev/null || missing="$$missing poppler-utils"
	if [ -n "$$missing" ] && [ "$$(id -u)" = 0 ] && command -v apt-get >/dev/null; then
	  echo "make: installing for the tests of pages and PDFs:$${missing:+ }$$missing"
	  apt-get update -qq && DEBIAN_FRONTEND=noninteractive apt-get install -y -qq --no-install-recommends $$missing \
	    >/dev/null || echo "make: could not be installed; the tests that need it will be skipped"
	elif [ -n "$$missing" ]; then
	  echo "make: not here, so some tests will be skipped: $$missing"
	fi

# The journal is tried on PostgreSQL too: a server of the tests' own, started by them, so no service is started here.
server:
	@if ! ls /usr/lib/postgresql/*/bin/initdb >/dev/null 2>&1 && ! command -v initdb >/dev/null; then
	  if [ "$$(id -u)" = 0 ] && command -v apt-get >/dev/null; then
	    echo "make: installing for the tests of the journal: postgresql"
	    apt-get update -qq && DEBIAN_FRONTEND=noninteractive apt-get install -y -qq --no-install-recommends postgresql-common \
	      >/dev/null && sed -i 's/^#*create_main_cluster.*/create_main_cluster = false/' /etc/postgresql-common/createcluster.conf \
	      && DEBIAN_FRONTEND=noninteractive apt-get install -y -qq --no-install-recommends postgresql >/dev/null \
	      || echo "make: could not be installed; the tests that need it will be skipped"
	  else
	    echo "make: not here, so some tests will be skipped: postgresql"
	  fi
	fi

# Samples over MQTT are tried with a real broker, started by the tests on an address of this machine only.
broker:
	@if ! command -v mosquitto >/dev/null && [ ! -x /usr/sbin/mosquitto ]; then
	  if [ "$$(id -u)" = 0 ] && command -v apt-get >/dev/null; then
	    echo "make: installing for the tests of live sources: mosquitto"
	    apt-get update -qq \
	      && DEBIAN_FRONTEND=noninteractive apt-get install -y -qq --no-install-recommends mosquitto mosquitto-clients \
	      >/dev/null || echo "make: could not be installed; the tests that need it will be skipped"
	  else
	    echo "make: not here, so some tests will be skipped: mosquitto"
	  fi
	fi
