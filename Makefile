# The tool and its tests. Everything runs through the go command; `make test`
# installs what else it needs.

BASE ?= /
OUT  ?= build/site
ADDR ?= localhost:8000

# Packages that compute and nothing else: they are tested in WebAssembly too,
# where numbers and goroutines have their own ways.
PURE = $$(go list ./knowledge/... | grep -v /catalogue/author)

# Packages with goroutines or locks of their own. (Those that drive the browser
# have their own process to wait for; those that spread work do it through
# build/parallel.)
CONCURRENT = ./build/parallel ./build/serve ./app/route ./app/session ./knowledge/answer ./knowledge/complaint ./knowledge/diagnosis

.PHONY: run test site bench lint generate tools browser

run: go ## build the site, serve it and print its address
	go run ./build site -quick -out $(OUT) -base $(BASE)
	go run ./build serve -dir $(OUT) -addr $(ADDR)

test: tools lint ## everything that is checked before a change goes in
	go test ./...
	go test -race $(CONCURRENT)
	@if command -v node >/dev/null; then \
		echo "GOOS=js GOARCH=wasm go test (pure packages)"; \
		GOOS=js GOARCH=wasm go test -exec="$$(go env GOROOT)/lib/wasm/go_js_wasm_exec" $(PURE); \
	else \
		echo "notice: node is not installed, so that the pure packages were not tested in WebAssembly"; \
	fi

site: go ## build the site for a host: make site BASE=/some/path/
	go run ./build site -out $(OUT) -base $(BASE)

bench: tools ## how fast it computes, how large it is, how soon it answers
	go test -run '^$$' -bench . -benchmem ./knowledge/...
	go run ./build site -out $(OUT) -base $(BASE)
	go test -run '^$$' -bench 'Ready|NewRanking' -benchtime 3x ./app/e2e
	go test -run '^$$' -bench Budgets -benchtime 1x ./app/e2e

lint: go ## formatting, vet and staticcheck
	@unformatted=$$(gofmt -l $$(find . -name '*.go' -not -path './build/out/*')); \
	if [ -n "$$unformatted" ]; then echo "not formatted by gofmt:"; echo "$$unformatted"; exit 1; fi
	go vet ./...
	go tool staticcheck ./...

generate: go ## turn the authored records into Go
	go run ./build compile

go:
	@command -v go >/dev/null || { echo "Go 1.26 or later is needed: install Debian's golang package or see the Go project's own pages."; exit 1; }
.PHONY: go

# The browser tests need Chromium, the race detector a C compiler.
tools: go
	@missing=""; \
	[ -n "$$CHROMIUM" ] || command -v chromium >/dev/null || command -v chromium-browser >/dev/null || command -v google-chrome >/dev/null || missing="chromium"; \
	command -v cc >/dev/null || command -v gcc >/dev/null || missing="$$missing gcc libc6-dev"; \
	[ -n "$$missing" ] || exit 0; \
	root=""; [ "$$(id -u)" = 0 ] || root="sudo"; \
	if ! command -v apt-get >/dev/null || { [ -n "$$root" ] && ! command -v sudo >/dev/null; }; then \
		echo "Please install:$$missing. (This can only be done here as root or with sudo, on Debian and its kin.)"; exit 1; \
	fi; \
	echo "installing $$missing"; \
	$$root apt-get update -qq && DEBIAN_FRONTEND=noninteractive $$root apt-get install -y -qq --no-install-recommends $$missing >/dev/null

browser: tools
