# Two commands do all the set-up: `make binder` and `make test`.
# Tools go into .tools/ (not kept in git); nothing is installed outside the project folder.

SHELL       := /bin/bash
TOOLS       := $(CURDIR)/.tools
TYPST_VER   := 0.15.1
VENV        := $(TOOLS)/venv
PYTHON      := $(VENV)/bin/python
REQUIRED    := tests/outside/requirements.txt
# The HTML documents are opened in a browser where there is one.
CHROMIUM    := $(or $(RIGBINDER_CHROMIUM),$(firstword $(foreach c,chromium chromium-browser google-chrome,$(shell command -v $(c)))))
REQUIRED    += $(if $(CHROMIUM),tests/outside/requirements-browser.txt)
FUZZ_SECONDS ?= 60
# Bytecode caches of the test scripts stay out of the tree.
export PYTHONDONTWRITEBYTECODE := 1

.PHONY: binder test lint docs bench fuzz typst clean help

help:
	@echo "make binder   build rigbinder and compile specs/heron.toml to docs-out/heron (PDFs too)"
	@echo "make test     all tests, those against outside references included"
	@echo "make docs     rewrite the committed files of the demo specs: Markdown, iCalendar, drawings, CSV"
	@echo "make bench    a table of speed and memory with goals, measured side by side; some minutes on an idle machine"
	@echo "make lint     formatting and lints alone"
	@echo "make fuzz     each fuzz target for FUZZ_SECONDS (60); needs the nightly toolchain and cargo-fuzz"

binder: typst
	@cargo build --release --locked
	@set -e; typst="$$(.tools/find-typst)"; \
	  target/release/rigbinder compile specs/heron.toml --typst "$$typst"
	@echo; echo "Open docs-out/heron/handover-binder.pdf first; the packets, labels, drawings and data lie beside it."

test: typst $(VENV)/.done lint
	@$(if $(CHROMIUM),,echo "No Chromium on the path: the HTML documents are read, but not opened in a browser.")
	@set -e; export RIGBINDER_TYPST="$$(.tools/find-typst)" RIGBINDER_TEST_PYTHON="$(PYTHON)" RIGBINDER_CHROMIUM="$(CHROMIUM)" REQUIRE_TYPST=1; \
	  cargo test --locked

lint:
	@rustfmt --edition 2024 --check $$(git ls-files 'src/*.rs' 'tests/*.rs' 'benches/*.rs')
	@cargo clippy --locked --all-targets -- -D warnings
	@RUSTDOCFLAGS="-D warnings" cargo doc --locked --no-deps --quiet
	@if ! cargo deny --version >/dev/null 2>&1; then \
	  echo "SKIPPED: licences, duplicates and advisories of crates; cargo install --locked cargo-deny brings the tool."; \
	else \
	  cargo deny --locked check bans licenses sources && \
	  if cargo deny --locked fetch db >/dev/null 2>&1; then cargo deny --locked check advisories; \
	  else echo "SKIPPED: advisories of crates; their list could not be fetched."; fi; \
	fi

docs:
	@cargo build --release --locked
	@set -e; for spec in heron weekend turnstone purfling basalt ember; do target/release/rigbinder compile specs/$$spec.toml --no-pdf --quiet; done

# Seeds and words of the spec come from the specs and kinds that are there.
fuzz:
	@mkdir -p fuzz/corpus/spec && cp specs/*.toml specs/broken/*.toml fuzz/corpus/spec/
	@{ basename -s .toml templates/kinds/*.toml; \
	   grep -ohE '^\[[a-z.]*(fields|common|supply|output)\.[a-z_]+\]' templates/kinds/*.toml templates/spec/*.toml | sed 's/.*\.//; s/\]//'; \
	   cut -d'[' -f2 templates/spec/starter.toml | grep -oE '^[a-z.]+\]' | sed 's/.*/[&/'; } | sort -u | sed 's/.*/"&"/' > fuzz/corpus/spec.dict
	@set -e; for target in spec text tables quantity; do \
	  cargo +nightly fuzz run $$target -- -max_total_time=$(FUZZ_SECONDS) -timeout=30 -rss_limit_mb=2048 -max_len=8000 \
	    $$(test $$target = spec && echo -dict=fuzz/corpus/spec.dict) || exit 1; done

# Ratios side by side; see DEVELOPERS.md for what the rows mean.
bench: typst
	@set -e; export RIGBINDER_TYPST="$$(.tools/find-typst)"; cargo bench --locked --quiet --bench ratios

# A typst 0.15 named by RIGBINDER_TYPST or on the path is used as it is; otherwise it is built once into .tools/.
typst: .tools/find-typst
	@if ! .tools/find-typst >/dev/null 2>&1; then \
	  echo "Building typst-cli $(TYPST_VER) into .tools/: about 7 minutes on two cores, once."; \
	  feature=""; \
	  if ! (command -v pkg-config >/dev/null && pkg-config --exists openssl); then \
	    echo "The headers of libssl are missing, so OpenSSL is built along with it (needs perl)."; \
	    feature="--features vendor-openssl"; \
	  fi; \
	  cargo install --locked typst-cli@$(TYPST_VER) $$feature --root "$(TOOLS)" --target-dir "$(TOOLS)/build" \
	    && rm -rf "$(TOOLS)/build"; \
	fi

.tools/find-typst: Makefile
	@mkdir -p .tools
	@printf '%s\n' '#!/usr/bin/env bash' \
	  'for t in "$$RIGBINDER_TYPST" "$(TOOLS)/bin/typst" "$$(command -v typst)"; do' \
	  '  case "$$([ -n "$$t" ] && [ -x "$$t" ] && "$$t" --version 2>/dev/null)" in "typst 0.15."*) echo "$$t"; exit 0;; esac' \
	  'done' 'exit 1' > $@
	@chmod +x $@

$(VENV)/.done: $(REQUIRED)
	@python3 -m venv $(VENV)
	@$(PYTHON) -m pip install --quiet --disable-pip-version-check $(addprefix -r ,$(REQUIRED))
	@touch $@

clean:
	rm -rf target .tools
