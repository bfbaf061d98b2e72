# The two commands that a newcomer needs are run and test.
SHELL := /bin/bash
VERSION := $(shell git describe --tags --always --dirty 2>/dev/null || echo unknown)
LDFLAGS := -X main.version=$(VERSION)
# SQLite keeps no statistics of its memory: they are one lock for all connections (docs/decisions/002).
export CGO_CFLAGS ?= -O2 -g -DSQLITE_DEFAULT_MEMSTATUS=0

.PHONY: run test check lint generate generate-check bench fuzz web release secrets

run: web ## the demo, in a throw-away folder
	go run -ldflags "$(LDFLAGS)" ./cmd/tendfold demo

test: ## everything: Go on both databases with race, web units, browsers
	.ci/test

web: ## the web app, into web/dist
	@. .ci/tools && web_install
	npm --prefix web run build

check: lint generate-check

lint:
	test -z "$$(gofmt -l cmd domain server checklists web/*.go)"
	go run github.com/golangci/golangci-lint/v2/cmd/golangci-lint@v2.15.0 run ./...
	npm --prefix web run check

generate: ## docs/openapi.json and the web's types from it
	go run ./cmd/tendfold openapi > docs/openapi.json
	npm --prefix web run types

generate-check: generate
	git diff --exit-code -- docs/openapi.json web/src/api/api.gen.ts

bench: ## the benchmark tables
	.ci/bench

fuzz: ## every fuzz target for a minute
	.ci/fuzz 60s

release: web ## one stripped file with everything in it
	CGO_ENABLED=1 go build -trimpath -ldflags "-s -w $(LDFLAGS)" -o bin/tendfold ./cmd/tendfold
	@ls -l bin/tendfold

secrets: ## what docker-compose.yml needs, made once and kept out of git
	@umask 077; test -e .env && echo ".env exists; remove it to make new secrets" || \
	{ echo "POSTGRES_PASSWORD=$$(head -c 24 /dev/urandom | base64 | tr '+/' '-_')"; \
	  echo "TENDFOLD_SIGNING_KEY=$$(head -c 32 /dev/urandom | base64 | tr '+/' '-_')"; } > .env && echo "wrote .env"
