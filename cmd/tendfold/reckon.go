package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"strings"

	"tendfold/checklists"
	"tendfold/domain"
	"tendfold/server/reckon"
)

// mostSheet bounds what is read of a sheet; what is longer is refused there.
const mostSheet = 1 << 20

type reckonCmd struct {
	Topic    reckon.Topic `arg:"" help:"What to reckon: ${topics}." enum:"${topics}"`
	File     string       `arg:"" optional:"" help:"YAML or JSON; - or nothing reads standard input." placeholder:"FILE"`
	Template bool         `help:"Print a commented example of what can be asked, and nothing else."`
	Lang     reckon.Lang  `help:"Language of words and cautions." enum:"en,fr" default:"en"`
	Packs    string       `help:"Folder with packs beside those inside." type:"existingdir" placeholder:"DIR" name:"packs"`
	JSON     bool         `help:"Answer as JSON, with full precision." name:"json"`
}

// Run answers one sheet. It touches no database.
func (c *reckonCmd) Run(std streams) error {
	if c.Template {
		_, err := io.WriteString(std.Out, reckon.Template(c.Topic, c.Lang))
		return err
	}
	sheet, err := c.read(std.In)
	if err != nil {
		return err
	}
	packs, err := c.packs()
	if err != nil {
		return err
	}
	a, err := reckon.Do(c.Topic, sheet, packs, c.Lang)
	if err != nil {
		return firstFault(err)
	}
	return answer(std.Out, c.JSON, a, a.Words())
}

func (c *reckonCmd) read(in io.Reader) ([]byte, error) {
	if c.File == "" || c.File == "-" {
		return io.ReadAll(io.LimitReader(in, mostSheet))
	}
	f, err := os.Open(c.File)
	if err != nil {
		return nil, err
	}
	defer func() { _ = f.Close() }() // nothing was written that could be lost
	return io.ReadAll(io.LimitReader(f, mostSheet))
}

func (c *reckonCmd) packs() (*checklists.Set, error) {
	set, err := checklists.Embedded()
	if err == nil && c.Packs != "" {
		err = set.Add(os.DirFS(c.Packs))
	}
	return set, err
}

// firstFault tells the first of several faults on one line, so that a script
// can show it as it is.
func firstFault(err error) error {
	var e *domain.Error
	if errors.As(err, &e) && len(e.Fields) > 0 {
		return fmt.Errorf("%s: %s", e.Fields[0].Path, e.Fields[0].Text)
	}
	return err
}

// topics are what can be reckoned, as the command line lists them.
func topics() string {
	var names []string
	for _, t := range reckon.Topics() {
		names = append(names, string(t))
	}
	return strings.Join(names, ",")
}
