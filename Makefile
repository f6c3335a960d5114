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

.PHONY: run test site stick bench audit endure reproduce lint generate tools browser axe

run: go ## build the site, serve it and print its address
	go run ./build site -quick -out $(OUT) -base $(BASE)
	go run ./build serve -dir $(OUT) -addr $(ADDR)

test: tools lint axe ## everything that is checked before a change goes in
	go test -timeout 40m ./...
	go test -race $(CONCURRENT)
	@if command -v node >/dev/null; then \
		echo "GOOS=js GOARCH=wasm go test (pure packages)"; \
		GOOS=js GOARCH=wasm go test -exec="$$(go env GOROOT)/lib/wasm/go_js_wasm_exec" $(PURE); \
	else \
		echo "notice: node is not installed, so that the pure packages were not tested in WebAssembly"; \
	fi

site: go ## build the site for a host: make site BASE=/some/path/
	go run ./build site -out $(OUT) -base $(BASE)

# What is started on a shop's computer, by name and system.
STICK = serve-linux=linux/amd64 serve-linux-arm=linux/arm64 serve-windows.exe=windows/amd64 serve-mac-intel=darwin/amd64 serve-mac-arm=darwin/arm64

stick: go ## the site with a one-file server for each usual system, for a memory stick
	mkdir -p build/stick
	go run ./build site -out build/stick/site -base /
	cp build/stick/site/HOSTING.txt build/stick/HOSTING.txt
	@for s in $(STICK); do \
		name=$${s%%=*}; system=$${s#*=}; echo "build/stick/$$name"; \
		CGO_ENABLED=0 GOOS=$${system%/*} GOARCH=$${system#*/} go build -trimpath -buildvcs=false -ldflags '-s -w' -o build/stick/$$name ./build/local || exit 1; \
	done

reproduce: go ## build the whole site twice, in different folders and caches, and compare bit for bit
	go test ./build/website -run TestTwoCheckoutsMakeTheSameSite -whole -count=1 -timeout 60m -v

audit: tools ## accessibility of every page in each light and on paper, and Lighthouse; needs node and npm
	cd build/audit && npm ci --ignore-scripts --no-fund --no-audit
	go test ./app/e2e -run 'TestAccessibleToAxe|TestEveryPageFitsTheHand|TestAddressesWithinTheProgram|TestLighthouse' -audit -count=1 -timeout 90m -v

endure: tools ## the long runs: 100,000 events of a monkey, 200 killed pages
	go test ./app/e2e -run 'TestMonkey|TestKilledPage' -long -count=1 -timeout 12h -v

bench: tools ## how fast it computes, how large it is, how soon it answers
	go test -run '^$$' -bench . -benchmem ./knowledge/...
	go run ./build site -out $(OUT) -base $(BASE)
	go test -run '^$$' -bench 'Ready|NewRanking' -benchtime 3x ./app/e2e
	go test -run '^$$' -bench Budgets -benchtime 1x ./app/e2e

lint: go ## formatting, vet and staticcheck
	@unformatted=$$(gofmt -l $$(find . -name '*.go' -not -path './build/out/*' -not -path './build/audit/node_modules/*')); \
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

# The tests hold pages against axe-core when it is there.
axe:
	@[ -e build/audit/node_modules/axe-core ] || { command -v npm >/dev/null && cd build/audit && npm ci --omit=optional --ignore-scripts --no-fund --no-audit --silent; } || \
		echo "notice: npm is not installed, or brings nothing here, so that no page is held against axe-core"

browser: tools
