# Two commands for a stranger: `make demo` and `make test`. Both see to the system packages first.
SHELL := /bin/bash
CARGO ?= cargo

# Debian and Ubuntu packages: FFmpeg's libraries and command, what its bindings are generated
# with, a C compiler for linking, and Python for the outside checks.
PACKAGES := build-essential pkg-config clang libclang-dev ffmpeg \
	libavcodec-dev libavformat-dev libavutil-dev libswscale-dev python3 python3-venv

# What tests of the desk's page need besides: a browser, and Node to drive it. Named by command,
# because Node often comes from elsewhere than the distribution.
BROWSER := chromium:chromium node:nodejs npm:npm

.PHONY: demo test bench bench-accuracy bench-pan lint packages browser python node

demo: packages
	$(CARGO) run --quiet -- demo exports/demo

test: packages browser python node
	GROUNDLINE_PYTHON="$$(bash tests/outside/python-path)" $(CARGO) test

bench: packages browser node
	$(CARGO) bench --profile dev --bench decode --bench sheet --bench pictures --bench weeks --bench reel
	$(CARGO) build --quiet && bash tests/desk/bench-desk

# Minutes of work: the 420 scenes alone took four on two cores. Writes exports/accuracy.md and its pictures.
bench-accuracy: packages python
	GROUNDLINE_PYTHON="$$(bash tests/outside/python-path)" $(CARGO) bench --profile dev --bench accuracy

# Rendered hand-held clips, followed and measured: some twenty minutes. Writes exports/accuracy-pan.md.
bench-pan: packages python
	GROUNDLINE_PYTHON="$$(bash tests/outside/python-path)" $(CARGO) bench --profile dev --bench pan

lint:
	$(CARGO) fmt --check
	$(CARGO) clippy --all-targets -- -D warnings

# Installs what is missing where it may; elsewhere says the one command that does, and stops.
define install
	if [ $${#missing[@]} -gt 0 ]; then \
		if [ "$$(id -u)" = 0 ]; then \
			apt-get update -qq && DEBIAN_FRONTEND=noninteractive apt-get install -y -qq --no-install-recommends "$${missing[@]}"; \
		else \
			echo "error: missing packages; install them with" >&2; \
			echo "  sudo apt-get install -y $${missing[*]}" >&2; exit 1; \
		fi; \
	fi
endef

packages:
	@missing=(); \
	if command -v dpkg-query >/dev/null; then \
		for name in $(PACKAGES); do \
			dpkg-query -W -f='$${Status}' $$name 2>/dev/null | grep -q 'ok installed' || missing+=($$name); \
		done; \
	elif ! pkg-config --exists libavcodec libavformat libavutil libswscale; then \
		echo "error: the FFmpeg development libraries are missing: install them, clang and pkg-config" >&2; exit 1; \
	fi; \
	$(install)

browser:
	@missing=(); \
	for pair in $(BROWSER); do \
		command -v "$${pair%%:*}" >/dev/null || missing+=("$${pair##*:}"); \
	done; \
	$(install)

# The reference libraries of the outside checks, in a virtual environment of their own.
python: packages
	@bash tests/outside/make-python

# What the tests of the desk's page need from npm, in a folder of their own.
node: browser
	@bash tests/desk/make-node
