# Node builds the web app, Go the one binary; the image holds the binary alone.
FROM node:20-bookworm AS web
WORKDIR /src/web
COPY web/package.json web/package-lock.json web/.npmrc ./
RUN npm ci --no-audit --no-fund
COPY web ./
COPY docs/openapi.json ../docs/openapi.json
RUN npm run build

FROM golang:1.26-bookworm AS build
WORKDIR /src
COPY go.mod go.sum ./
RUN go mod download
COPY . .
COPY --from=web /src/web/dist web/dist
ARG VERSION=unknown
RUN CGO_ENABLED=1 CGO_CFLAGS="-O2 -g -DSQLITE_DEFAULT_MEMSTATUS=0" go build -trimpath -ldflags "-s -w -X main.version=${VERSION}" -o /tendfold ./cmd/tendfold

FROM debian:bookworm-slim
RUN apt-get update && apt-get install -y --no-install-recommends ca-certificates tzdata && rm -rf /var/lib/apt/lists/* \
 && useradd --system --uid 10001 --home-dir /data tendfold && mkdir /data && chown tendfold /data && chmod 0700 /data
COPY --from=build /tendfold /usr/local/bin/tendfold
USER tendfold
VOLUME /data
EXPOSE 8080
ENV TENDFOLD_DB=/data TENDFOLD_ADDR=0.0.0.0:8080
HEALTHCHECK --interval=10s --timeout=3s --start-period=20s CMD ["tendfold", "health"]
ENTRYPOINT ["tendfold"]
CMD ["serve"]
