package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"sync"

	"tendfold/checklists"
	"tendfold/domain"
	"tendfold/domain/programme"
	"tendfold/domain/rehearsal"
	"tendfold/domain/rehearsal/truth"
	"tendfold/domain/sweep"
	"tendfold/server/app"
)

type rehearseCmd struct {
	Farms  int          `help:"Farms of each seed." default:"600"`
	Days   int          `help:"Days for which a farm is watched at most." default:"540"`
	Seed   []uint64     `help:"Seeds; each is a firm of its own, and the same seed gives the same answer." default:"1"`
	World  truth.World  `help:"How the truth lies to the packs: fair, optimistic (the packs are too hopeful) or pessimistic." enum:"fair,optimistic,pessimistic" default:"fair"`
	Faults []truth.Kind `help:"Faults that may strike; all for which there is a rule where left out." placeholder:"NAME"`
	Dump   string       `help:"Folder for truth.csv, evidence.csv, tickets.csv and naive.csv; made when missing." type:"path" placeholder:"DIR"`
	JSON   bool         `help:"Answer as JSON." name:"json"`
}

// Validate refuses what cannot be rehearsed while the command line is read.
func (c *rehearseCmd) Validate() error {
	err := c.config().Check()
	var e *domain.Error
	if !errors.As(err, &e) || len(e.Fields) == 0 {
		return err
	}
	told := make([]error, len(e.Fields))
	for i, f := range e.Fields {
		told[i] = fmt.Errorf("--%s: %s", f.Path, f.Text)
	}
	return errors.Join(told...)
}

func (c *rehearseCmd) config() rehearsal.Config {
	return rehearsal.Config{Farms: c.Farms, Days: c.Days, Seeds: c.Seed, World: c.World, Faults: c.Faults, Dump: c.Dump != ""}
}

// Run rehearses the packs inside, with progress on stderr.
func (c *rehearseCmd) Run(ctx context.Context, std streams) error {
	if c.Dump != "" { // now rather than after the work
		if err := os.MkdirAll(c.Dump, 0o755); err != nil {
			return err
		}
	}
	cfg := c.config()
	var err error
	if cfg.Plans, err = rehearsalPlans(); err != nil {
		return err
	}
	r, err := rehearsal.Run(cfg, func() bool { return ctx.Err() != nil }, farmsDone(std.Err))
	fmt.Fprintln(std.Err)
	if err != nil {
		return err
	}
	if c.Dump != "" {
		if err := dump(r, c.Dump); err != nil {
			return err
		}
	}
	score := r.Score()
	report := r.Report(score)
	return answer(std.Out, c.JSON, report, rehearsalWords(report, score))
}

// rehearsalPlans are the packs inside as a firm uses them that watches its
// farms from the handover.
func rehearsalPlans() (map[rehearsal.Way]*sweep.Plan, error) {
	set, err := checklists.Embedded()
	if err != nil {
		return nil, err
	}
	draws := programme.NewDraws(programme.DrawSeed, programme.DrawCount)
	plans := map[rehearsal.Way]*sweep.Plan{}
	for _, t := range truth.Plans() {
		pack, ok := set.Pack(t.Enterprise)
		if !ok {
			return nil, domain.Invalid("enterprise-unknown", fmt.Sprintf("There is no pack for the enterprise %q.", t.Enterprise))
		}
		way := rehearsal.Way{Enterprise: t.Enterprise, Purpose: t.Purpose}
		if plans[way], err = rehearsal.FromHandover(app.PlanOf(pack, nil, draws), way, pack.Season); err != nil {
			return nil, err
		}
	}
	return plans, nil
}

// farmsDone tells of progress, at most every half per cent. Farms end on
// several threads and out of order; what is told only grows.
func farmsDone(w io.Writer) func(done, total int) {
	var mu sync.Mutex
	told := -1
	return func(done, total int) {
		mu.Lock()
		defer mu.Unlock()
		if step := done * 200 / total; step > told {
			told = step
			fmt.Fprintf(w, "\r%d of %d farms", done, total)
		}
	}
}

// dump writes the tables from which anybody can score the rehearsal again.
func dump(r *rehearsal.Rehearsal, dir string) error {
	for _, t := range []struct {
		name  string
		write func(io.Writer) error
	}{{"truth.csv", r.WriteTruth}, {"evidence.csv", r.WriteEvidence}, {"tickets.csv", r.WriteTickets}, {"naive.csv", r.WriteNaive}} {
		f, err := os.Create(filepath.Join(dir, t.name))
		if err != nil {
			return err
		}
		if err := errors.Join(t.write(f), f.Close()); err != nil {
			return fmt.Errorf("writing %s: %w", f.Name(), err)
		}
	}
	return nil
}
