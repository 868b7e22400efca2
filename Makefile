# Skegworth. `make run` opens the program on the example shop; `make test` tries everything.

# One set of build flags everywhere: a second set would build the window library again, for minutes.
TAGS    := -tags migrated_fynedo
GO      := LANG=en_US.UTF-8 go
BINARY  := bin/skegworth

.PHONY: run build test bench need-run need-test

run: build
	@$(BINARY) open --example

build: need-run
	@echo "building $(BINARY); the first time takes some minutes"
	@$(GO) build $(TAGS) -o $(BINARY) ./app

test: need-test
	@unformatted=$$("$$(go env GOROOT)/bin/gofmt" -l app valuation costing data) || exit 1; \
	test -z "$$unformatted" || { echo "not formatted: $$unformatted"; exit 1; }
	@$(GO) vet $(TAGS) ./...
	@$(GO) test $(TAGS) -timeout 30m ./...

# Every benchmark, as ratios worth comparing only within one run.
bench: need-test
	@$(GO) test $(TAGS) -run NONE -bench . -benchmem ./...

need-run:
	@sh .ci/need run

need-test:
	@sh .ci/need test
