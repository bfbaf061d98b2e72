package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"text/tabwriter"

	"tendfold/server"
	"tendfold/server/demo"
)

type demoCmd struct {
	DB string `help:"Folder of the demo's SQLite database, made anew; a throw-away folder where left out." placeholder:"DIR" env:"TENDFOLD_DEMO_DB"`
	listenFlags
}

// Run makes the invented firm and serves it.
func (c *demoCmd) Run(ctx context.Context, std streams) error {
	folder := c.DB
	if folder == "" {
		dir, err := os.MkdirTemp("", "tendfold-demo-")
		if err != nil {
			return err
		}
		defer os.RemoveAll(dir) // a throw-away folder
		folder = dir
	} else if entries, err := os.ReadDir(folder); err == nil && len(entries) > 0 {
		return fmt.Errorf("%s is not empty: the demo is made anew each time; give another folder, or none", folder)
	}
	clock := &demo.Clock{}
	cfg := c.into(server.Config{DB: folder, Version: version, Now: clock.Now})
	var accounts []demo.Account
	cfg.Ready = func(addr string) { c.tell(std.Out, c.address(addr), accounts) }
	h, err := server.Open(ctx, cfg)
	if err != nil {
		return err
	}
	accounts, err = demo.Build(ctx, h, clock, func(what string) { fmt.Fprintf(std.Err, "making %s ...\n", what) })
	if err != nil {
		return errors.Join(err, h.Close())
	}
	return errors.Join(h.Serve(ctx), h.Close())
}

// tell prints the address and who may sign in.
func (c *demoCmd) tell(w io.Writer, address string, accounts []demo.Account) {
	fmt.Fprintf(w, "\nThe demo is at %s\nAll people, farms and numbers in it are invented. Stop it with Ctrl-C.\n\n", address)
	t := tabwriter.NewWriter(w, 0, 4, 2, ' ', 0)
	for _, a := range accounts {
		if a.Link != "" {
			fmt.Fprintf(t, "%s\t%s\topen on a phone or in a second browser: %s%s\n", a.Role, a.Name, address, a.Link)
			continue
		}
		fmt.Fprintf(t, "%s\t%s\t%s\t%s\n", a.Role, a.Name, a.Login, a.Password)
	}
	_ = t.Flush() // standard output is gone when this fails
	fmt.Fprintln(w)
}
