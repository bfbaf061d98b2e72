package rehearsal

import (
	"errors"
	"fmt"
	"runtime"
	"sync"
	"sync/atomic"
	"time"

	"tendfold/domain"
	"tendfold/domain/calendar"
	"tendfold/domain/rehearsal/truth"
	"tendfold/domain/sweep"
	"tendfold/domain/ticket"
)

// Config is what to rehearse.
type Config struct {
	Farms  int // of each seed
	Days   int // for which a farm is watched at most
	Seeds  []uint64
	World  truth.World
	Faults []truth.Kind // that may be injected; none = truth.DefaultKinds
	// Plans are what the packs say, for every way that the truth knows.
	Plans map[Way]*sweep.Plan
	// First is the first day on which a farm may start.
	First   calendar.Date
	Workers int  // 0 = as many as there are processors
	Dump    bool // keep the evidence for its table
}

// ErrStopped says that a rehearsal was stopped before its end.
var ErrStopped = errors.New("the rehearsal was stopped")

// Rehearsal is what came out, farm by farm, in the order of seeds and
// indices.
type Rehearsal struct {
	Config
	Runs    []FarmRun
	scripts map[Way]*script
}

// Run rehearses: every farm of every seed lives its days, and the real sweep
// looks at it on each of them. Farms run side by side and the answer depends
// on nothing but the config. Stop is asked between farms; progress is told of
// farms done and may be called from several goroutines. Either may be nil.
func Run(c Config, stop func() bool, progress func(done, total int)) (*Rehearsal, error) {
	if err := c.Check(); err != nil {
		return nil, err
	}
	s, err := newStage(c)
	if err != nil {
		return nil, err
	}
	r := &Rehearsal{Config: s.Config, Runs: make([]FarmRun, c.Farms*len(c.Seeds)), scripts: s.scripts}
	lands := make([]*truth.Land, len(c.Seeds))
	for i, seed := range c.Seeds {
		lands[i] = truth.NewLand(seed, c.World, s.First)
	}
	err = s.each(len(r.Runs), stop, progress, func(i int) error {
		var err error
		r.Runs[i], err = s.watch(lands[i/c.Farms], i%c.Farms)
		return err
	})
	if err != nil {
		return nil, err
	}
	return r, nil
}

// newStage prepares what the farms share.
func newStage(c Config) (*stage, error) {
	s := &stage{Config: c, scripts: map[Way]*script{}, laws: truth.NewLaws()}
	if s.First.IsZero() {
		s.First = calendar.NewDate(2024, time.January, 1)
	}
	if len(s.Faults) == 0 {
		s.Faults = truth.DefaultKinds()
	}
	for _, t := range truth.Plans() {
		w := Way{t.Enterprise, t.Purpose}
		plan, ok := c.Plans[w]
		if !ok {
			return nil, domain.Invalid("rehearsal-plan", fmt.Sprintf("The rehearsal needs a plan for %s (%s).", w.Enterprise, w.Purpose))
		}
		script, err := newScript(plan, t)
		if err != nil {
			return nil, err
		}
		s.scripts[w] = script
	}
	cal, err := calendar.New(time.UTC, calendar.OfficeWeek(), calendar.Country(""), nil)
	s.terms = ticket.Terms{Calendar: cal, Table: ticket.DefaultDue()}
	return s, err
}

// each does n things on all workers.
func (s *stage) each(n int, stop func() bool, progress func(done, total int), do func(i int) error) error {
	var (
		next, done atomic.Int64
		wait       sync.WaitGroup
		halt       atomic.Bool
		errs       = make([]error, n)
	)
	workers := s.Workers
	if workers == 0 {
		workers = runtime.GOMAXPROCS(0)
	}
	for range workers {
		wait.Go(func() {
			for i := int(next.Add(1)) - 1; i < n && !halt.Load(); i = int(next.Add(1)) - 1 {
				if stop != nil && stop() {
					errs[i] = ErrStopped
					halt.Store(true)
					return
				}
				if errs[i] = do(i); errs[i] != nil {
					halt.Store(true)
				}
				if d := int(done.Add(1)); progress != nil {
					progress(d, n)
				}
			}
		})
	}
	wait.Wait()
	return errors.Join(errs...)
}
