# Coldbay. `make run` opens the bay in a browser; `make test` runs everything.
# The rest is for people who change it; DEVELOPERS.md says when to use what.

SHELL := /bin/sh
.DEFAULT_GOAL := run

# PACKAGES=skip leaves the system's packages alone.
PACKAGES ?= install
# How long each fuzz target gets in `make prove`.
FUZZTIME ?= 60s
# What a release calls itself.
VERSION ?= $(shell git describe --tags --always --dirty 2>/dev/null || echo development)

# Everything that must pass without a display and without cgo.
CORE := ./sim/... ./grading/... ./scenarios/... ./assets/... ./cmd/coldbay/... ./cmd/samebitsvet/... ./.ci/testlines ./.ci/squeeze ./.ci/proved
# Everything that needs a screen. The engine starts once a package, so one at a time.
SCREEN := ./scenes/... ./cmd/bay/...
# Packages that run things side by side, or lock: tested for data races in the long campaign.
RACES := ./assets/messages ./cmd/coldbay/... ./grading/belief ./grading/dictionary ./grading/ladder ./grading/plan ./grading/score \
	./scenarios/... ./sim ./sim/bench/phrase ./sim/sparse ./sim/validate
# Packages whose results must have the same bits in the browser: tested there too.
SAMEBITS := ./sim/dmath ./sim/samebits

# Whether the desktop window can be compiled here: a C compiler and its headers.
WINDOW := $(shell command -v cc >/dev/null 2>&1 && pkg-config --exists x11 gl alsa 2>/dev/null && echo yes)
NOWINDOW := skipped for the desktop window: no C compiler, or no X11, OpenGL and ALSA headers

TESTLINES := go run ./.ci/testlines
SCREENED := env ALSA_CONFIG_PATH=$(CURDIR)/.ci/asound-null.conf LIBGL_ALWAYS_SOFTWARE=1 xvfb-run -a -s "-screen 0 1280x800x24"
BROWSERBUILD := env GOOS=js GOARCH=wasm CGO_ENABLED=0 go build -trimpath -buildvcs=false -ldflags="-s -w -X main.version=$(VERSION)"
# What the stages of the long campaign leave for its page.
PROVED := $(CURDIR)/bin/prove
DIST := cmd/coldbay/browserbay/dist

.PHONY: run test packages lint builds test-core test-samebits test-screen prove bench shots release

run:
	@go run ./cmd/coldbay

# One after another also under make -j: a test run is to be read from top to bottom.
test:
	@$(MAKE) --no-print-directory packages
	@$(MAKE) --no-print-directory lint
	@$(MAKE) --no-print-directory builds
	@$(MAKE) --no-print-directory test-core
	@$(MAKE) --no-print-directory test-samebits
	@$(MAKE) --no-print-directory test-screen
	@echo "make test: everything passed"

packages:
	@if [ "$(PACKAGES)" = skip ]; then echo "packages: left alone, as asked"; else ./.ci/packages && ./.ci/checker; fi

lint:
	@echo "== gofmt, vet, the same bits, staticcheck"
	@bad=$$(gofmt -s -l .); if [ -n "$$bad" ]; then echo "gofmt -s would change:"; echo "$$bad"; exit 1; fi
	@CGO_ENABLED=0 go vet $(CORE)
	@tool=$$(go tool -n samebitsvet) && CGO_ENABLED=0 go vet -vettool=$$tool ./sim/...
	@CGO_ENABLED=0 go tool staticcheck $(CORE)
	@GOOS=js GOARCH=wasm go vet $(SCREEN) ./cmd/coldbay/testdata/shellbay
	@tool=$$(go tool -n staticcheck) && GOOS=js GOARCH=wasm $$tool $(SCREEN)
ifeq ($(WINDOW),yes)
	@go vet $(SCREEN)
	@go tool staticcheck $(SCREEN)
else
	@echo "$(NOWINDOW)"
endif

builds:
	@echo "== builds: this system, windows, browser"
	@CGO_ENABLED=0 go build $(CORE)
	@GOOS=windows GOARCH=amd64 CGO_ENABLED=0 go build ./cmd/...
	@GOOS=js GOARCH=wasm go build $(SCREEN)
ifeq ($(WINDOW),yes)
	@go build $(SCREEN)
else
	@echo "$(NOWINDOW)"
endif

test-core:
	@echo "== tests without a display"
	@CGO_ENABLED=0 $(TESTLINES) $(CORE)

# Go's runner gives Node the whole environment, which has to be short.
test-samebits:
	@echo "== the same bits in the browser's instructions"
	@if command -v node >/dev/null 2>&1; then \
		env -i PATH="$$PATH" HOME="$$HOME" GOFLAGS="$$GOFLAGS" GOPROXY="$$(go env GOPROXY)" GOCACHE="$$(go env GOCACHE)" GOMODCACHE="$$(go env GOMODCACHE)" \
			GOOS=js GOARCH=wasm go test -exec="$$(go env GOROOT)/lib/wasm/go_js_wasm_exec" $(SAMEBITS); \
	else echo "skipped: no node in the PATH to run the browser's instructions with"; fi

test-screen:
	@echo "== tests with a screen"
ifeq ($(WINDOW),yes)
	@if command -v xvfb-run >/dev/null 2>&1; then $(SCREENED) $(TESTLINES) -p 1 $(SCREEN); \
	else echo "skipped: no xvfb-run in the PATH to give the window a screen"; fi
else
	@echo "$(NOWINDOW)"
endif

# The long campaign, an hour or more: every test in its long form and in random order, data races, every fuzz target. Its results go
# into testdata/PROVE.md.
prove:
	@EXTRA="tshark qemu-user libsundials-dev" $(MAKE) --no-print-directory packages
	@rm -rf $(PROVED) && mkdir -p $(PROVED)
	@echo "== the long forms"
	@COLDBAY_PROVE=yes CGO_ENABLED=0 $(TESTLINES) -into $(PROVED)/long.json -count=1 -shuffle=on -timeout 60m $(CORE)
	@echo "== data races"
	@$(TESTLINES) -into $(PROVED)/race.json -count=1 -shuffle=on -race -timeout 60m $(RACES)
	@echo "== the same bits on another architecture"
	@GOARCH=arm64 CGO_ENABLED=0 $(TESTLINES) -into $(PROVED)/arm64.json -count=1 -exec qemu-aarch64 $(SAMEBITS)
	@echo "== with a screen"
	@$(SCREENED) $(TESTLINES) -into $(PROVED)/screen.json -count=1 -shuffle=on -p 1 -timeout 60m $(SCREEN)
	@echo "== fuzzing"
	@FUZZED=$(PROVED)/fuzz.txt ./.ci/fuzz $(FUZZTIME) $(CORE)
	@go run ./.ci/proved $(PROVED) testdata/PROVE.md
	@echo "make prove: everything passed; testdata/PROVE.md is written"

bench:
	@CGO_ENABLED=0 go test -run '^$$' -bench . -benchmem $(CORE)
	@$(SCREENED) go test -p 1 -run '^$$' -bench . -benchmem $(SCREEN)

# Pictures of the bay for the documents and for looking at.
shots:
	@COLDBAY_SHOTS=$(CURDIR)/assets/shots CGO_ENABLED=0 go test -count=1 -run 'Browser|Play|Shot' ./cmd/coldbay
	@COLDBAY_SHOTS=$(CURDIR)/assets/shots $(SCREENED) go test -count=1 -p 1 -run Shot $(SCREEN)

# One file a system that carries the browser bay and needs no Go, and the bay as a window of its own where that can be built here:
# for Windows from anywhere, for this system with a C compiler. For macOS the window has to be built on a Mac.
release:
	@mkdir -p $(DIST) bin
	@$(BROWSERBUILD) -o $(DIST)/bay.wasm ./cmd/bay
	@go run ./.ci/squeeze $(DIST)/bay.wasm
	@rm $(DIST)/bay.wasm
	@cp "$$(go env GOROOT)/lib/wasm/wasm_exec.js" $(DIST)/wasm_exec.js
	@go vet -tags release ./cmd/coldbay/...
	@for system in linux/amd64 linux/arm64 windows/amd64 darwin/amd64 darwin/arm64; do \
		os=$${system%/*}; arch=$${system#*/}; ext=; [ $$os = windows ] && ext=.exe; \
		GOOS=$$os GOARCH=$$arch CGO_ENABLED=0 go build -trimpath -tags release -ldflags="-s -w -X main.buildVersion=$(VERSION)" \
			-o bin/coldbay-$$os-$$arch$$ext ./cmd/coldbay || exit 1; \
		echo "bin/coldbay-$$os-$$arch$$ext"; \
	done
	@GOOS=windows GOARCH=amd64 CGO_ENABLED=0 go build -trimpath -ldflags="-s -w -H=windowsgui -X main.version=$(VERSION)" -o bin/bay-windows-amd64.exe ./cmd/bay
	@echo "bin/bay-windows-amd64.exe"
ifeq ($(WINDOW),yes)
	@go build -trimpath -ldflags="-s -w -X main.version=$(VERSION)" -o bin/bay-$$(go env GOOS)-$$(go env GOARCH) ./cmd/bay
	@echo "bin/bay-$$(go env GOOS)-$$(go env GOARCH)"
else
	@echo "$(NOWINDOW)"
endif
	@COLDBAY_RELEASE=$(CURDIR)/bin/coldbay-$$(go env GOOS)-$$(go env GOARCH) CGO_ENABLED=0 $(TESTLINES) -count=1 -run TestBuiltRelease -v ./cmd/coldbay
