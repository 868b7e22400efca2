# Skegworth. `make run` opens the program on the example shop; `make test` tries everything.

# One set of build flags everywhere: a second set would build the window library again, for minutes.
TAGS    := -tags migrated_fynedo
GO      := LANG=en_US.UTF-8 go
BINARY  := bin/skegworth

# The measuring programs: the pattern ./... passes over everything in testdata.
MEASURES := ./testdata/peers ./testdata/speed ./testdata/sheets ./testdata/largeshop ./testdata/dist ./testdata/vulns ./testdata/safe ./testdata/safe/fuzz
BAND     := bin/band

.PHONY: run build test bench bench-band bench-offer bench-ask bench-safe fuzz dist vuln need-run need-test need-bench

run: build
	@$(BINARY) open --example

build: need-run
	@echo "building $(BINARY); the first time takes some minutes"
	@$(GO) build $(TAGS) -o $(BINARY) ./app

test: need-test
	@unformatted=$$("$$(go env GOROOT)/bin/gofmt" -l app valuation costing data testdata) || exit 1; \
	test -z "$$unformatted" || { echo "not formatted: $$unformatted"; exit 1; }
	@$(GO) vet $(TAGS) ./... $(MEASURES)
	@$(GO) test $(TAGS) -timeout 30m ./...

# Every benchmark, as ratios worth comparing only within one run.
bench: need-test
	@$(GO) test $(TAGS) -run NONE -bench . -benchmem ./...

# The band beside what a statistician would reach for: how often it holds, how narrow it is and how quick,
# each figure with its bar; some minutes. A bar that is not met stops none of the others.
bench-band: need-bench
	@mkdir -p $(BAND)
	@LC_ALL=C Rscript testdata/peers/peers.R $(BAND) 60 20260101 all > /dev/null
	@$(GO) run $(TAGS) ./testdata/peers -peers $(BAND) -all
	-@cd valuation && $(GO) test $(TAGS) -run TestHistories -worlds 500
	-@$(GO) test $(TAGS) -count 1 -v -run 'Longley|Windsor|Ames|Conjugate|LeftOut|Ratio' ./valuation ./valuation/hedonic | grep '^--- '
	@$(GO) run $(TAGS) ./testdata/speed $(BAND)

# How far top prices of 20,000 outcomes lie from those of ten million, limit by limit, and how long a
# keystroke takes; many minutes.
bench-offer: need-test
	@$(GO) test $(TAGS) ./costing/offer -timeout 3h -count 1 -v -run TestTopPriceBar -questions 60 -against 10000000
	@$(GO) test $(TAGS) ./costing/offer -run NONE -bench 'Changed|FourExits|LotOfTen'

# How often bands of days to sell hold on simulated shops, and how long a curve of 200 asks takes in a shop
# of 500 sales, in processor time; some minutes.
bench-ask: need-test
	@$(GO) test $(TAGS) ./costing/asking -count 1 -timeout 1h -v -run TestDaysCover -args -worlds 300 | grep held
	@$(GO) test $(TAGS) ./costing/asking -run NONE -bench 'Curve|Advise' -count 3

# The workbook of a large shop: time and memory, beside the library's own streaming of the same cells.
bench-workbook: need-run
	@$(GO) test $(TAGS) -c -o bin/workbook.test ./data/workbook
	@cd data/workbook && $(GO) run $(TAGS) ../../testdata/sheets ../../bin/workbook.test

# The release of this system in bin/dist: an archive with the licences of all that is in it, a bill of materials
# and checksums. Its flags leave out the folders of the machine, so the first time builds everything anew.
dist: need-run
	@echo "building the release; the first time takes many minutes"
	@$(GO) build $(TAGS) -trimpath -ldflags "-s -w" -o bin/release/skegworth ./app
	@rm -rf bin/dist
	@$(GO) run $(TAGS) ./testdata/dist -binary bin/release/skegworth -out bin/dist

# Known vulnerabilities in code that the program calls, by govulncheck; reports and checker come as modules.
vuln: need-run
	@$(GO) run $(TAGS) ./testdata/vulns bin/vulndb migrated_fynedo ./app

# Tries made-up files and texts, each target for TIME, noting in testdata/safe/fuzz-record.csv how many; then
# measures what the giant files cost. What breaks the program stands in testdata/fuzz beside the target.
TIME := 1m
fuzz: need-test
	@$(GO) run $(TAGS) ./testdata/safe/fuzz -time $(TIME)
	@$(GO) test $(TAGS) ./data/intake -timeout 2h -count 1 -v -run HostileFilesAreBounded -args -giants | grep -v '^=== '

# What it takes to lose what the program has said is saved: 1,000 rounds of killing it, 20 of killing its window,
# and every call that it makes on the disk failed in eight ways. Prints rounds, faults injected, bad inputs tried
# and losses; ends badly on any loss. Hours; SAFE adds words of its own, such as "-seed 1 -stride 8".
bench-safe: build need-test
	@$(GO) build $(TAGS) -o bin/safe ./testdata/safe
	@bin/safe -program $(BINARY) -record testdata/safe/fuzz-record.csv -older data/shopfile/testdata/older/schema1.skegworth.gz $(SAFE)

need-run:
	@sh .ci/need run

need-test:
	@sh .ci/need test

need-bench:
	@sh .ci/need bench
