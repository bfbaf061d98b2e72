package register

import (
	"cmp"
	"encoding/json"
	"slices"
	"time"

	"tendfold/checklists"
	"tendfold/domain/calendar"
	"tendfold/domain/farm"
	"tendfold/server/app"
)

// Settings are what a plan needs beside the register and the rows.
type Settings struct {
	Today calendar.Date
	// Pack is the pack of an enterprise, false when there is none.
	Pack func(enterprise string) (*checklists.Pack, bool)
	// Now and PersonID say when and by whom the rows are entered.
	Now      time.Time
	PersonID string
	// NewID gives the ids of what is made.
	NewID func() string
	// Watch starts watching every farm of the file that is not closed.
	Watch bool
	// Branch is what a branch that the file names for the first time is like:
	// zone, country and hours; its Name is used for farms without a branch
	// when there is none at all.
	Branch farm.Branch
	// MayBranch says whether whoever asks may write to a branch, by its id; ""
	// stands for one that is not there yet. Nil allows all.
	MayBranch func(branchID string) bool
	// Progress is told how many rows are done; may be nil.
	Progress func(done, total int)
}

// planner makes a plan row by row.
type planner struct {
	Settings
	language string // of people whose own is not known
	book     *book
	spans    map[route]*span

	row     Row // under way
	changes []Change
	found   []Problem

	out      Result
	doubled  map[[2]string]bool // client and other name, told once
	caretook map[string]int     // person, first row about them
}

// Plan decides what every row means for the register as it stands; found are
// the problems that reading the file has brought up. It reads no clock and
// writes nothing: the same arguments give the same plan, ids apart.
func Plan(s Snapshot, rows []Row, found []Problem, set Settings) Result {
	p := &planner{
		Settings: set, language: cmp.Or(s.Firm.Language, "en"), book: newBook(s),
		spans: map[route]*span{}, doubled: map[[2]string]bool{}, caretook: map[string]int{},
	}
	p.out.Problems = slices.Clone(found)
	p.out.Verdicts = make([]Verdict, 0, len(rows))
	for i, r := range rows {
		p.take(r)
		if set.Progress != nil && (i+1)%500 == 0 {
			set.Progress(i+1, len(rows))
		}
	}
	p.findDoubles()
	p.collect()
	inOrder(p.out.Problems)
	return p.out
}

// take decides one row.
func (p *planner) take(r Row) {
	p.row, p.changes, p.found = r, nil, nil
	if r.Refused {
		p.verdict(Verdict{Row: r.Number, Word: RefusedRow})
		return
	}
	t := p.find(r)
	p.judge(t)
	if refused := slices.DeleteFunc(slices.Clone(p.found), func(x Problem) bool { return x.Severity != Refused }); len(refused) > 0 {
		// Flags speak of what was kept, and here nothing is.
		p.found = refused
		p.verdict(Verdict{Row: r.Number, Word: RefusedRow})
		return
	}
	p.write(&t)
	v := Verdict{Row: r.Number, Word: Same, Changes: p.changes, FarmID: t.farm.it.ID, Unit: t.unit.it}
	switch {
	case t.unit.row == r.Number:
		v.Word, v.Changes = New, nil
		p.book.touch(t.farm.it.ID, r.Number).changed = true
	case len(p.changes) > 0:
		v.Word = Changed
		p.book.touch(t.farm.it.ID, r.Number).changed = true
	}
	p.verdict(v)
}

func (p *planner) verdict(v Verdict) {
	p.out.Verdicts = append(p.out.Verdicts, v)
	p.out.Problems = append(p.out.Problems, p.found...)
}

func (p *planner) flag(col Column, code Code, v Values) {
	p.found = append(p.found, Problem{p.row.Number, col, Flag, code, v})
}

func (p *planner) refuse(col Column, code Code, v Values) {
	p.found = append(p.found, Problem{p.row.Number, col, Refused, code, v})
}

func (p *planner) change(col Column, from, to string) {
	p.changes = append(p.changes, Change{col, p.shown(col, from), p.shown(col, to)})
}

// shown is a value as a person reads it: ids of branches become names.
func (p *planner) shown(col Column, value string) string {
	if col == ColBranch {
		if b := p.book.branchID[value]; b != nil {
			return b.it.Name
		}
	}
	return value
}

// target is what a row is about; nil is a thing that is not there yet.
type target struct {
	pack   *checklists.Pack
	branch *entry[farm.Branch]
	client *entry[app.Client]
	farm   *entry[farm.Farm]
	unit   *unit
}

// running is the cycle that runs on the unit, nil when there is none.
func (t target) running() *cycle {
	if t.unit == nil {
		return nil
	}
	return t.unit.running
}

// find looks up what the row is about and makes nothing.
func (p *planner) find(r Row) target {
	t := target{client: p.book.findClient(r)}
	t.pack, _ = p.Pack(r.Enterprise)
	if t.client != nil {
		t.farm = p.book.farm[[2]string{t.client.it.ID, Fold(r.Farm)}]
	}
	if t.farm != nil {
		t.unit = p.book.unit[[2]string{t.farm.it.ID, Fold(r.Unit)}]
	}
	t.branch = p.findBranch(r, t.farm)
	return t
}

// findBranch is the branch that the row names, else its farm's, else the
// first by name.
func (p *planner) findBranch(r Row, f *entry[farm.Farm]) *entry[farm.Branch] {
	if r.Branch != "" {
		return p.book.branch[Fold(r.Branch)]
	}
	if f != nil {
		return p.book.branchID[f.it.BranchID]
	}
	if len(p.book.branches) == 0 {
		return nil
	}
	return slices.MinFunc(p.book.branches, func(a, b *entry[farm.Branch]) int { return cmp.Compare(Fold(a.it.Name), Fold(b.it.Name)) })
}

// collect turns the book into writes.
func (p *planner) collect() {
	w := &p.out.Writes
	w.Branches, w.Clients, w.Farms, w.People = saved(p.book.branches), saved(p.book.clients), saved(p.book.farms), saved(p.book.people)
	for _, e := range p.book.works {
		if e.row != 0 || e.dirty {
			w.Work = append(w.Work, e.it)
		}
	}
	p.collectUnits()
	p.collectEvents()
	w.Starts = p.starts()
}

func saved[T any](list []*entry[T]) Saved[T] {
	var s Saved[T]
	for _, e := range list {
		s.add(e)
	}
	return s
}

func (s *Saved[T]) add(e *entry[T]) {
	switch {
	case e.row != 0:
		s.New = append(s.New, e.it)
	case e.dirty:
		s.Changed = append(s.Changed, e.it)
	}
}

func (p *planner) collectUnits() {
	w := &p.out.Writes
	for _, u := range p.book.units {
		w.Units.add(&u.entry)
		for _, c := range []*cycle{u.ended, u.running} {
			if c == nil {
				continue
			}
			w.Cycles.add(&c.entry)
			if !c.rebased && c.row == 0 {
				for _, key := range c.fresh {
					w.Marked = append(w.Marked, c.marks[key])
				}
			}
			if c.batch != nil {
				w.Batches.add(c.batch)
			}
		}
		if u.loose != nil {
			w.Batches.add(u.loose)
		}
	}
}

// collectEvents writes one intake event a farm that is new or changed. It is
// news from the farm when something was reported that had happened there.
func (p *planner) collectEvents() {
	for _, farmID := range p.book.order {
		t, f := p.book.touched[farmID], p.book.farmID[farmID]
		isNew := f.row != 0
		if !isNew && !t.changed {
			continue
		}
		p.event(app.Event{FarmID: farmID, Kind: EntryIntake, On: p.Today, Evidence: isNew || t.news}, IntakeEntry{Row: t.row, New: isNew})
	}
}

// EntryIntake is the kind of the entry that an import leaves on a farm; days
// that the register gives are milestone entries like any other, and its
// visits are EntryVisit.
const (
	EntryIntake = "intake"
	EntryVisit  = "visit"
)

// IntakeEntry is the data of EntryIntake.
type IntakeEntry struct {
	Row int  `json:"row"` // first row of the file about the farm
	New bool `json:"new"`
}

func (p *planner) event(e app.Event, data any) {
	raw, err := json.Marshal(data)
	if err != nil {
		panic(err) // only types of ours come here, and they can be written
	}
	e.ID, e.Data, e.RecordedAt, e.PersonID = p.NewID(), raw, p.Now, p.PersonID
	p.out.Writes.Events = append(p.out.Writes.Events, e)
}
