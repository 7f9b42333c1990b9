# Everything is built from source with Go and make; modules come from the Go
# module proxy. `make demo` and `make test` are all that a newcomer needs.

GO      ?= go
VERSION ?= $(shell git describe --tags --always --dirty 2>/dev/null || echo dev)
BIN     := out/bin/rotorsieve
STATIC  := honnef.co/go/tools/cmd/staticcheck@v0.8.2
VULN    := golang.org/x/vuln/cmd/govulncheck@v1.9.0

.PHONY: build test long lint race bench forecasts test-office test-dump demo validate answers test-arm64 torture cluster-check fuzz cover vuln release clean

build:
	$(GO) build -trimpath -ldflags "-X main.version=$(VERSION)" -o $(BIN) ./cmd/rotorsieve

# How long a package's tests may take: far more than they do, for busy machines.
PATIENCE ?= 40m
test: lint
	$(GO) test -short -vet=off -timeout $(PATIENCE) ./...
	$(MAKE) race

# All tests in their long forms: more random studies, forgeries and interrupts, every rotor
# that was measured, whole commands.
long:
	$(GO) test -timeout $(PATIENCE) ./...

# The race detector where goroutines meet; short, since it is slow there.
MEETING := ^Test(RunAgainst|AuditIsKept|Cache|ResumeInterrupted|Shards|PartsResume|DumpIsTheSame|Estimate|Cancel|TooSlow|Ties)
MEETING := $(MEETING)|^Test(.*Interrupted|AuditFailed|ShardErrors|MergeErrors|Progress|Nothing|DryRun|WriteListsItsFiles)
race:
	$(GO) test -race -short -vet=off -timeout $(PATIENCE) ./sweep ./cmd/rotorsieve ./report -run '$(MEETING)'

lint:
	@unformatted=$$(gofmt -l cmd model report sweep); if [ -n "$$unformatted" ]; then echo "not gofmt: $$unformatted"; exit 1; fi
	$(GO) vet ./...
	$(GO) run $(STATIC) ./...

# Measures the rotor against the wind-tunnel data, the electrical chain against
# thrust stands and the craft against common practice, and writes the measured
# accuracy into DEVELOPERS.md, and what the stated spreads cover.
validate:
	$(GO) test ./model/rotor -count=1 -run TestValidationTable -v -update
	$(GO) test ./model -count=1 -run TestStand -v -update
	$(GO) test ./model -count=1 -run TestCoverageTable -v -update
	$(GO) test ./model -count=1 -run TestCommonCraft -v
	$(GO) test ./sweep/decide -count=1 -run TestAccuracy -v -seeds 5

# Recalculates the workbooks in LibreOffice and compares every formula.
test-office:
	command -v soffice >/dev/null || { apt-get update && apt-get install -y --no-install-recommends libreoffice-calc; }
	OFFICE=1 $(GO) test ./report -count=1 -run Office -v

# Reads dumps by another program's reader of Parquet (MIT, without dependencies), which
# npm installs below out.
HYPARQUET ?= 1.33.0
test-dump:
	npm install --silent --no-audit --no-fund --prefix out/dump-reader hyparquet@$(HYPARQUET)
	HYPARQUET=$(CURDIR)/out/dump-reader $(GO) test ./sweep -count=1 -run TestDumpReadElsewhere -v

# The random numbers of draws, on another processor than this one: an emulated one.
test-arm64:
	command -v qemu-aarch64-static >/dev/null || { apt-get update && apt-get install -y --no-install-recommends qemu-user-static; }
	GOARCH=arm64 CGO_ENABLED=0 $(GO) test ./model/draw -count=1 -exec qemu-aarch64-static -run SamePlatforms -v

# Inner loops with their allocations, and the report of the demo; then whole runs, and the loops
# beside the plain way, written into DEVELOPERS.md. LARGEST is the largest grid to measure, PEER what
# another program takes for the studies that are set beside it, in s.
LARGEST ?= 1e8
PEER ?=
bench:
	$(GO) test -run '^$$' -bench . -benchmem ./model/... ./sweep ./report/... ./cmd/rotorsieve
	$(GO) test ./cmd/rotorsieve -count=1 -run TestRunTable -table $(LARGEST) -peer '$(PEER)' -v -timeout 60m

# What dry runs tell of the studies in configs beside what these take, each so many times.
TIMES ?= 1
forecasts:
	$(GO) test ./cmd/rotorsieve -count=1 -run '^TestForecasts$$' -forecasts $(TIMES) -v -timeout 120m

demo: build
	$(BIN) sweep @configs/ridge-scout.flags --force

# Runs the studies of the README and holds its tables and its picture against them;
# `go test ./cmd/rotorsieve -run TestAnswers -answers write` renews them.
answers:
	$(GO) test ./cmd/rotorsieve -count=1 -run TestAnswers -answers check -v

# The long form of the test that kills runs at random instants.
torture:
	$(GO) test ./cmd/rotorsieve -count=1 -run TestKilled -kills 200 -v -timeout 3h

# A study as a Slurm job array on this machine, against a single run; needs root.
cluster-check:
	.ci/cluster-check

# Each fuzz target for a bounded time; `make test` runs their seeds. What makes one
# fail is kept under testdata/fuzz of its package, and is a seed from then on. An input
# is made smaller in a hundred tries at most: a minute each would leave no time to fuzz.
# Go's fuzzer now and then reports the end of its own time as a failure, without an input
# that failed ("context deadline exceeded"): that is its end, not a finding.
FUZZTIME ?= 10s
fuzz:
	@set -e; for file in $$(grep -rl '^func Fuzz' --include='*_test.go' cmd model report sweep); do \
		for target in $$(sed -n 's/^func \(Fuzz[A-Za-z0-9]*\)(.*/\1/p' $$file); do \
			echo "fuzz $$target in $$(dirname $$file)"; \
			$(GO) test ./$$(dirname $$file) -run '^$$' -fuzz "^$$target\$$" -fuzztime $(FUZZTIME) -fuzzminimizetime 100x >out/fuzz.log 2>&1 \
				|| { ! grep -q 'Failing input' out/fuzz.log && grep -q '^ *context deadline exceeded$$' out/fuzz.log; } \
				|| { cat out/fuzz.log; exit 1; }; \
		done; \
	done

# Coverage of the packages that compute, by their own tests and each other's.
COVERED ?= 85
cover:
	$(GO) test -short ./model/... ./sweep -coverpkg ./model/...,./sweep -coverprofile out/cover.out >/dev/null
	@for part in model sweep; do \
		{ head -n 1 out/cover.out; grep "^rotorsieve/$$part/" out/cover.out; } >out/cover-$$part.out; \
		$(GO) tool cover -func out/cover-$$part.out | awk -v part=$$part -v want=$(COVERED) \
			'END { sub("%", "", $$NF); printf "coverage of %s: %s %%, at least %s %% wanted\n", part, $$NF, want; exit $$NF < want }' || exit 1; \
	done

# Known vulnerabilities in what the program calls; skipped where the database
# cannot be reached.
vuln:
	@mkdir -p out; if $(GO) run $(VULN) ./... >out/vuln.log 2>&1; then cat out/vuln.log; \
	elif grep -qE 'dial tcp|no such host|connection refused|Forbidden|timeout' out/vuln.log && ! grep -q '^Vulnerability #' out/vuln.log; then \
		echo "vuln: skipped, the database cannot be reached"; \
	else cat out/vuln.log; exit 1; fi

# What is given away: one file for each system, the manual page, licences and checksums.
# Nothing in them depends on when, where or by whom they are built.
RELEASE := out/release
release: build
	rm -rf $(RELEASE)
	mkdir -p $(RELEASE)
	@set -e; for os in linux darwin windows; do for arch in amd64 arm64; do \
		name=rotorsieve-$(VERSION)-$$os-$$arch; [ $$os = windows ] && name=$$name.exe; \
		echo "build $$name"; \
		CGO_ENABLED=0 GOOS=$$os GOARCH=$$arch $(GO) build -trimpath -buildvcs=false \
			-ldflags "-s -w -buildid= -X main.version=$(VERSION)" -o $(RELEASE)/$$name ./cmd/rotorsieve; \
	done; done
	$(BIN) man >$(RELEASE)/rotorsieve.1
	@{ echo "Licences of Go and of the modules linked into rotorsieve"; echo; cat "$$($(GO) env GOROOT)/LICENSE"; \
	for os in linux darwin windows; do \
		GOOS=$$os $(GO) list -deps -f '{{with .Module}}{{if not .Main}}{{.Path}} {{.Version}} {{.Dir}}{{end}}{{end}}' ./cmd/rotorsieve; \
	done | sort -u | while read -r path version dir; do \
		printf '\n\n== %s %s\n\n' "$$path" "$$version"; cat "$$dir"/LICENSE* $$(ls "$$dir"/licenses/ftl.txt 2>/dev/null || true); \
	done; } >$(RELEASE)/LICENSES.txt
	@cd $(RELEASE) && if command -v sha256sum >/dev/null; then sha256sum *; else shasum -a 256 *; fi >../SHA256SUMS && mv ../SHA256SUMS .
	@cat $(RELEASE)/SHA256SUMS

clean:
	rm -rf out/bin out/release
