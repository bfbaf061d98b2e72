package main

import (
	"context"
	"fmt"
	"io"
	"net/http"
	"net/netip"
	"strings"
	"time"

	"tendfold/server"
)

// listenFlags are those of commands that serve.
type listenFlags struct {
	Addr           string   `help:"Where to listen." default:"127.0.0.1:8080" placeholder:"HOST:PORT"`
	PublicURL      string   `help:"How browsers reach the server; phones need https." placeholder:"URL"`
	TLSCert        string   `help:"File of the TLS certificate." type:"existingfile" name:"tls-cert"`
	TLSKey         string   `help:"File of its key." type:"existingfile" name:"tls-key"`
	TrustedProxies []string `help:"Networks of proxies whose X-Forwarded-For is believed." placeholder:"CIDR"`
	MetricsAddr    string   `help:"Where to serve Prometheus metrics; nowhere when left out." placeholder:"HOST:PORT"`
}

// AfterApply refuses settings that cannot work before anything is opened.
func (f listenFlags) AfterApply() error {
	if (f.TLSCert == "") != (f.TLSKey == "") {
		return fmt.Errorf("--tls-cert and --tls-key go together")
	}
	for _, p := range f.TrustedProxies {
		if _, err := netip.ParsePrefix(p); err == nil {
			continue
		}
		if _, err := netip.ParseAddr(p); err != nil {
			return fmt.Errorf("--trusted-proxies: %q is neither a network like 10.0.0.0/8 nor an address", p)
		}
	}
	return nil
}

func (f listenFlags) into(c server.Config) server.Config {
	c.Addr, c.PublicURL, c.TLSCert, c.TLSKey = f.Addr, strings.TrimSuffix(f.PublicURL, "/"), f.TLSCert, f.TLSKey
	c.TrustedProxies, c.MetricsAddr = f.TrustedProxies, f.MetricsAddr
	return c
}

// address is how a person opens the server that listens at addr.
func (f listenFlags) address(addr string) string {
	if f.PublicURL != "" {
		return f.PublicURL
	}
	scheme := "http"
	if f.TLSCert != "" {
		scheme = "https"
	}
	return scheme + "://" + addr
}

type serveCmd struct {
	dataFlags
	listenFlags
	Reach reachFlags `embed:""`
}

// Run serves until it is told to stop.
func (c *serveCmd) Run(ctx context.Context, std streams) error {
	cfg := c.Reach.into(c.into(c.config()))
	cfg.Busy = 0 // a request does not wait as long as a command
	cfg.Ready = func(addr string) { fmt.Fprintf(std.Err, "Tendfold is at %s\n", c.address(addr)) }
	return server.Run(ctx, cfg)
}

type openapiCmd struct{}

// Run prints the description of the API.
func (c *openapiCmd) Run(std streams) error {
	b, err := server.OpenAPI()
	if err != nil {
		return err
	}
	_, err = fmt.Fprintf(std.Out, "%s\n", b)
	return err
}

type healthCmd struct {
	Addr string `help:"Where the server listens." default:"127.0.0.1:8080" placeholder:"HOST:PORT"`
}

// Run asks a running server whether it is ready, for container health checks.
func (c *healthCmd) Run(ctx context.Context, std streams) error {
	ctx, cancel := context.WithTimeout(ctx, 3*time.Second)
	defer cancel()
	addr := strings.Replace(c.Addr, "0.0.0.0:", "127.0.0.1:", 1)
	req, err := http.NewRequestWithContext(ctx, http.MethodGet, "http://"+addr+"/readyz", nil)
	if err != nil {
		return err
	}
	res, err := http.DefaultClient.Do(req)
	if err != nil {
		return err
	}
	defer res.Body.Close() // read to the end
	if res.StatusCode != http.StatusOK {
		return fmt.Errorf("not ready: %s", res.Status)
	}
	_, err = io.Copy(std.Out, res.Body)
	return err
}
