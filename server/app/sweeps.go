package app

import (
	"context"
	"encoding/json"
	"fmt"
	"runtime"
	"sync"
	"time"

	"tendfold/domain"
	"tendfold/domain/calendar"
	"tendfold/domain/programme"
	"tendfold/domain/sweep"
	"tendfold/domain/ticket"
)

// sweepStore is what Sweeps needs of the database.
type sweepStore interface {
	Store
	factStore
	SetSwept(ctx context.Context, w Swept) error
	SetOutlook(ctx context.Context, o Outlook) error
	SetFindings(ctx context.Context, farmID string, clocks []sweep.Clock) error
	OpenTicket(ctx context.Context, t ticket.Ticket) (ticket.Ticket, bool, error)
	ChangeTicket(ctx context.Context, t ticket.Ticket) error
	AddTicketEvents(ctx context.Context, es ...TicketEvent) error
	BeginSweep(ctx context.Context, r SweepRun) error
	EndSweep(ctx context.Context, id string, at time.Time, summary json.RawMessage) error
	LastSweep(ctx context.Context) (SweepRun, error)
	Untouched(ctx context.Context, t time.Time) ([]TicketLine, error)
}

// Sweeps work out every farm's standing and open, update or clear tickets.
// They may run at once, from several processes, and for any day: what a
// person or another sweep has changed meanwhile is left to the next one.
type Sweeps struct {
	Core
	store sweepStore
	plans *Plans
}

// NewSweeps wires the use case.
func NewSweeps(core Core, store sweepStore, plans *Plans) *Sweeps {
	return &Sweeps{Core: core, store: store, plans: plans}
}

// SweepSummary is what a sweep says of itself.
type SweepSummary struct {
	On        calendar.Date              `json:"on"`
	Farms     int                        `json:"farms"` // with a running cycle
	Standings map[programme.Standing]int `json:"-"`
	Opened    int                        `json:"opened"`
	Reopened  int                        `json:"reopened"`
	Updated   int                        `json:"updated"`
	Cleared   int                        `json:"cleared"`
	Open      int                        `json:"open"`
	Muted     int                        `json:"muted"`
	MS        int64                      `json:"ms"`
	Reported  bool                       `json:"reported_only"` // an earlier day than the last sweep: nothing was written
}

// standingTally is the standings as the answer spells them.
type standingTally struct {
	ToConfirm int `json:"to_confirm"`
	OnCourse  int `json:"on_course"`
	Slipping  int `json:"slipping"`
	Behind    int `json:"behind"`
	NoNews    int `json:"no_news"`
	Paused    int `json:"paused"`
	Complete  int `json:"complete"`
}

// MarshalJSON writes the standings by name, all of them, nought too.
func (s SweepSummary) MarshalJSON() ([]byte, error) {
	type plain SweepSummary
	at := s.Standings
	return json.Marshal(struct {
		Farms     int           `json:"farms"`
		Standings standingTally `json:"standings"`
		plain
	}{s.Farms, standingTally{
		ToConfirm: at[programme.ToConfirm], OnCourse: at[programme.OnCourse], Slipping: at[programme.Slipping], Behind: at[programme.Behind],
		NoNews: at[programme.NoNews], Paused: at[programme.PausedStanding], Complete: at[programme.Complete],
	}, plain(s)})
}

// Words is the summary for people at a terminal.
func (s SweepSummary) Words() string {
	at := s.Standings
	text := fmt.Sprintf("%s: %d farms with a running cycle. %d behind, %d without news, %d slipping, %d on course, %d paused, %d complete, %d to confirm.\n"+
		"Tickets: %d opened, %d reopened, %d updated, %d cleared; %d open, %d findings muted.",
		s.On, s.Farms, at[programme.Behind], at[programme.NoNews], at[programme.Slipping], at[programme.OnCourse], at[programme.PausedStanding],
		at[programme.Complete], at[programme.ToConfirm], s.Opened, s.Reopened, s.Updated, s.Cleared, s.Open, s.Muted)
	if s.Reported {
		text += "\nThis day lies before the last sweep: nothing was written."
	}
	return text
}

// worked is a farm worked out and not yet written.
type worked struct {
	*Loaded
	live    bool // the day is today, not one that was asked for
	day     sweep.Day
	changes []sweep.Change
	outs    []Outlook
}

// writePiece is how many farms are written in one transaction: well below a
// second, so that people's writes get in between.
const writePiece = 50

// All sweeps every farm with a running cycle. A zero day means today, in each
// branch's own zone. A day before that of the last sweep is reported and
// nothing is written. Progress is told how many farms are done.
func (s *Sweeps) All(ctx context.Context, on calendar.Date, progress func(farms int)) (SweepSummary, error) {
	began := s.Now()
	sum := SweepSummary{On: on, Standings: map[programme.Standing]int{}}
	if on == 0 {
		sum.On = calendar.FromTime(began)
	}
	last, err := s.store.LastSweep(ctx)
	if err != nil {
		return sum, err
	}
	sum.Reported = on != 0 && on < last.On
	run := SweepRun{ID: s.NewID(), On: sum.On, StartedAt: began}
	if !sum.Reported {
		if err := s.store.BeginSweep(ctx, run); err != nil {
			return sum, err
		}
	}
	if err := s.pages(ctx, on, &sum, progress); err != nil {
		return sum, err
	}
	if !sum.Reported {
		if err := s.markUntouched(ctx); err != nil {
			return sum, err
		}
	}
	ended := s.Now()
	sum.MS = ended.Sub(began).Milliseconds()
	if sum.Reported {
		return sum, nil
	}
	text, err := json.Marshal(sum)
	if err != nil {
		return sum, err
	}
	return sum, s.store.EndSweep(ctx, run.ID, ended, text)
}

// pages walks the farms page by page. Days differ between branches by one at
// most, so facts are read up to the later day and looked at on the farm's own.
func (s *Sweeps) pages(ctx context.Context, on calendar.Date, sum *SweepSummary, progress func(int)) error {
	day := on
	if day == 0 {
		day = calendar.FromTime(s.Now()).Add(1)
	}
	q := factQuery(day)
	for {
		farms, err := loadPage(ctx, s.store, s.plans, q)
		if err != nil {
			return err
		}
		if len(farms) == 0 {
			return nil
		}
		out, err := s.work(ctx, farms, on, sum.Reported)
		if err != nil {
			return err
		}
		for i := range out {
			sum.count(&out[i])
		}
		if !sum.Reported {
			if err := s.write(ctx, out, sum); err != nil {
				return err
			}
		}
		if progress != nil {
			progress(sum.Farms)
		}
		q.After = farms[len(farms)-1].ID
	}
}

// work works the farms out on all cores.
func (s *Sweeps) work(ctx context.Context, farms []Loaded, on calendar.Date, report bool) ([]worked, error) {
	out := make([]worked, len(farms))
	errs := make([]error, len(farms))
	var wg sync.WaitGroup
	next := make(chan int, len(farms))
	for i := range farms {
		next <- i
	}
	close(next)
	for range runtime.GOMAXPROCS(0) {
		wg.Go(func() {
			for i := range next {
				if ctx.Err() != nil {
					errs[i] = ctx.Err()
					return
				}
				out[i], errs[i] = s.workOne(ctx, &farms[i], on, report)
			}
		})
	}
	wg.Wait()
	for _, err := range errs {
		if err != nil {
			return nil, err
		}
	}
	return out, nil
}

func (s *Sweeps) workOne(ctx context.Context, l *Loaded, on calendar.Date, report bool) (worked, error) {
	w := worked{Loaded: l, live: on == 0}
	if w.live {
		var err error
		if on, err = s.plans.Today(ctx, l.BranchID, s.Now()); err != nil {
			return w, err
		}
	}
	memory, last := l.Memory, l.SweptOn
	switch {
	case report || (last > on && !w.live):
		// What the sweep remembers belongs to a later day: look afresh.
		w.day = sweep.Advance(&l.Facts, sweep.Memory{}, 0, on, programme.Options{})
		return w, nil
	case last > on:
		// Somebody asked about a day to come. Today takes over again, or the
		// farm would stay unwatched until that day.
		memory, last = sweep.Memory{Open: memory.Open, Rests: memory.Rests}, 0
	case last == on:
		last = on.Add(-1) // the same day again, from the same memory
	}
	prints, fresh := s.prints(l, on)
	w.day = sweep.Advance(&l.Facts, memory, last, on, programme.Options{Account: fresh})
	w.changes = sweep.Reconcile(&l.Facts, l.Tickets, w.day)
	if fresh {
		for _, c := range w.day.Cycles {
			cycle := l.unit(c.UnitID).Cycle
			row, err := outlookOf(cycle, c).row(c.CycleID, prints[c.CycleID])
			if err != nil {
				return w, err
			}
			row.EnteredOn = on
			if since := l.Entered[c.CycleID]; row.Entered == cycle.Was && since != 0 {
				row.EnteredOn = since
			}
			w.outs = append(w.outs, row)
		}
	}
	return w, nil
}

// prints are the fingerprints of the farm's cycles, and whether any differs
// from what was written last.
func (s *Sweeps) prints(l *Loaded, on calendar.Date) (map[string]uint64, bool) {
	prints, fresh := map[string]uint64{}, false
	for i := range l.Facts.Units {
		c := l.Facts.Units[i].Cycle
		if c == nil {
			continue
		}
		version := ""
		if p, ok := s.Packs.Pack(c.Plan.Programme.Enterprise); ok {
			version = p.Version
		}
		prints[c.ID] = fingerprint(&l.Facts, c, version, on)
		fresh = fresh || prints[c.ID] != l.Hashes[c.ID]
	}
	return prints, fresh
}

// count adds a farm to the summary, before its changes are written.
func (s *SweepSummary) count(w *worked) {
	s.Farms++
	s.Standings[programme.FarmStanding(w.Facts.Watched, []programme.Standing{w.day.Standing})]++
	for _, t := range w.Tickets {
		if t.State != ticket.Settled {
			s.Open++
		}
	}
	for _, f := range w.day.Findings {
		if f.Clock.Muted() {
			s.Muted++
		}
	}
}

// write writes what has changed, piece by piece.
func (s *Sweeps) write(ctx context.Context, farms []worked, sum *SweepSummary) error {
	for len(farms) > 0 {
		n := min(writePiece, len(farms))
		piece := farms[:n]
		farms = farms[n:]
		var done SweepSummary
		err := s.store.InTx(ctx, func(ctx context.Context) error {
			done = SweepSummary{} // the transaction may be run again
			for i := range piece {
				if err := s.writeOne(ctx, &piece[i], &done); err != nil {
					return err
				}
			}
			return nil
		})
		if err != nil {
			return err
		}
		sum.add(done)
	}
	return nil
}

func (s *SweepSummary) add(o SweepSummary) {
	s.Opened += o.Opened
	s.Reopened += o.Reopened
	s.Updated += o.Updated
	s.Cleared += o.Cleared
	s.Open += o.Opened + o.Reopened - o.Cleared
}

// writeOne writes one farm, unless somebody has changed it since it was read:
// that change has its own sweep queued.
func (s *Sweeps) writeOne(ctx context.Context, w *worked, sum *SweepSummary) error {
	if (w.day.On < w.SweptOn && !w.live) || !w.differs() {
		return nil
	}
	standing := programme.FarmStanding(w.Facts.Watched, []programme.Standing{w.day.Standing})
	err := s.store.SetSwept(ctx, Swept{FarmID: w.ID, Standing: standing, OwnSlip: w.day.OwnSlip, On: w.day.On, Changes: w.Changes})
	if domain.KindOf(err) == domain.KindStale {
		return nil
	}
	if err != nil {
		return err
	}
	for _, o := range w.outs {
		if err := s.store.SetOutlook(ctx, o); err != nil {
			return err
		}
	}
	if err := s.store.SetFindings(ctx, w.ID, w.day.Clocks); err != nil {
		return err
	}
	for _, c := range w.changes {
		if err := s.apply(ctx, w, c, sum); err != nil {
			return err
		}
	}
	return nil
}

// differs says whether there is anything to write.
func (w *worked) differs() bool {
	standing := programme.FarmStanding(w.Facts.Watched, []programme.Standing{w.day.Standing})
	return len(w.outs) > 0 || len(w.changes) > 0 || w.SweptOn != w.day.On || w.Standing != standing || w.OwnSlip != w.day.OwnSlip ||
		!sameClocks(w.Memory.Clocks, w.day.Clocks)
}

// sameClocks leaves the reasons out: they follow from the facts, which differ
// only where an outlook or a ticket does too.
func sameClocks(a, b []sweep.Clock) bool {
	if len(a) != len(b) {
		return false
	}
	for i := range a {
		x, y := a[i], b[i]
		x.Reasons, y.Reasons = nil, nil
		if x.Key != y.Key || x.TrueSince != y.TrueSince || x.FalseSince != y.FalseSince || x.Still != y.Still || x.MutedBy != y.MutedBy || x.LastOn != y.LastOn {
			return false
		}
	}
	return true
}

// Farm sweeps one farm today, after a change of it.
func (s *Sweeps) Farm(ctx context.Context, farmID string) error {
	today := calendar.FromTime(s.Now()).Add(1)
	l, err := loadFarm(ctx, s.store, s.plans, farmID, today)
	if domain.KindOf(err) == domain.KindNotFound {
		return nil // it has no running cycle
	}
	if err != nil {
		return err
	}
	w, err := s.workOne(ctx, l, 0, false)
	if err != nil {
		return err
	}
	var sum SweepSummary
	return s.store.InTx(ctx, func(ctx context.Context) error { return s.writeOne(ctx, &w, &sum) })
}
