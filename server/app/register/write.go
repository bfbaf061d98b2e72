package register

import (
	"slices"

	"tendfold/domain/farm"
	"tendfold/server/app"
)

// write makes and changes in the book what the row under way says; judge has
// let it pass.
func (p *planner) write(t *target) {
	p.writeBranch(t)
	p.writeClient(t)
	p.writeFarm(t)
	p.writeUnit(t)
	c := p.writeCycle(*t)
	p.writeCaretaker(*t, c)
	p.writeVisit(*t)
}

func (p *planner) writeBranch(t *target) {
	if t.branch != nil {
		return
	}
	b := p.Branch
	b.ID = p.NewID()
	if p.row.Branch != "" {
		b.Name = p.row.Branch
	}
	t.branch = p.book.addBranch(b, p.row.Number)
}

func (p *planner) writeClient(t *target) {
	r := p.row
	if t.client == nil {
		c := app.Client{PhoneFlag: r.ClientPhone.Flag}
		c.ID, c.Name, c.Phone = p.NewID(), r.Client, r.ClientPhone.Text
		t.client = p.book.addClient(c, r.Number)
		return
	}
	p.doubled[[2]string{t.client.it.ID, Fold(r.Client)}] = true
	if t.client.it.Phone == "" {
		p.tellOne(t.client.row, &t.client.said, ColClientPhone, "", r.ClientPhone.Text, func() {
			t.client.it.Phone, t.client.it.PhoneFlag, t.client.dirty = r.ClientPhone.Text, r.ClientPhone.Flag, true
			p.book.hasPhone(t.client)
		})
	}
}

func (p *planner) writeFarm(t *target) {
	r := p.row
	if t.farm == nil {
		t.farm = p.book.addFarm(farm.Farm{
			ID: p.NewID(), ClientID: t.client.it.ID, BranchID: t.branch.it.ID, Name: r.Farm,
			Status: farm.Active, IntakeOn: p.Today,
		}, r.Number)
	}
	f := t.farm
	if r.Branch != "" {
		p.tellOne(f.row, &f.said, ColBranch, f.it.BranchID, t.branch.it.ID, func() { f.it.BranchID, f.dirty = t.branch.it.ID, true })
	}
	tell(p, f, farmFacts, farm.Farm{Town: r.Town, Landmark: r.Landmark, Position: r.Position, Status: r.Status})
	p.book.touch(f.it.ID, r.Number)
	if p.Watch && !f.it.Watched() && f.it.Status != farm.Closed {
		f.it.WatchedOn, f.dirty = p.Today, true
		if f.row != r.Number {
			p.change(ColWatched, "", p.Today.String())
		}
	}
}

func (p *planner) writeUnit(t *target) {
	r := p.row
	if t.unit == nil {
		t.unit = p.book.addUnit(farm.Unit{ID: p.NewID(), FarmID: t.farm.it.ID, Name: r.Unit}, r.Number)
	}
	if t.unit.seen == 0 {
		t.unit.seen = r.Number
	}
	tell(p, &t.unit.entry, unitFacts, farm.Unit{Enterprise: r.Enterprise, Species: r.Species, Build: r.Build})
}

func (p *planner) writeCaretaker(t target, c *cycle) {
	r := p.row
	if r.Caretaker == "" {
		return
	}
	e := p.book.findPerson(r, t.farm)
	if e == nil {
		lang := r.Language
		if lang == "" {
			lang = p.language
		}
		e = p.book.addPerson(farm.Person{
			ID: p.NewID(), Name: r.Caretaker, Phone: r.CaretakerPhone.Text, PhoneFlag: r.CaretakerPhone.Flag,
			Language: lang, Active: true, Grants: []farm.Grant{{Role: farm.Caretaker}},
		}, r.Number)
	} else {
		p.tellPerson(e)
	}
	if _, seen := p.caretook[e.it.ID]; !seen {
		p.caretook[e.it.ID] = r.Number
	}
	p.putInCharge(t, e)
	p.writePasses(t, e, c)
}

func (p *planner) tellPerson(e *entry[farm.Person]) {
	r := p.row
	if e.it.Phone == "" {
		p.tellOne(e.row, &e.said, ColCaretakerPhone, "", r.CaretakerPhone.Text, func() {
			e.it.Phone, e.it.PhoneFlag, e.dirty = r.CaretakerPhone.Text, r.CaretakerPhone.Flag, true
			p.book.callable(e)
		})
	}
	p.tellOne(e.row, &e.said, ColLanguage, e.it.Language, r.Language, func() { e.it.Language, e.dirty = r.Language, true })
	if !e.it.Has(farm.Caretaker) {
		e.it.Grants, e.dirty = append(slices.Clone(e.it.Grants), farm.Grant{Role: farm.Caretaker}), true
	}
}

// putInCharge makes the person a caretaker in charge of the farm. Where the
// farm had one and the file speaks of nobody else, the new one takes over;
// the old one stays known to the farm.
func (p *planner) putInCharge(t target, e *entry[farm.Person]) {
	key := [2]string{t.farm.it.ID, e.it.ID}
	w := p.book.worksOn[key]
	if w != nil && w.it.InCharge {
		w.sayOnce(ColCaretaker, p.row.Number)
		return
	}
	from := ""
	if old := p.soleInCharge(t.farm.it.ID); old != nil && old.said == nil {
		from = p.book.personID[old.it.PersonID].it.Name
		old.it.InCharge, old.dirty = false, true
	}
	if w == nil {
		x := farm.Work{FarmID: t.farm.it.ID, PersonID: e.it.ID}
		if t.farm.row == 0 {
			x.Since = p.Today.String() // of a farm's first caretakers nobody says since when
		}
		w = p.book.addWork(x, p.row.Number)
	}
	w.it.InCharge, w.dirty = true, true
	w.sayOnce(ColCaretaker, p.row.Number)
	if t.farm.row != p.row.Number {
		p.change(ColCaretaker, from, e.it.Name)
	}
}

func (p *planner) soleInCharge(farmID string) *work {
	var sole *work
	for _, w := range p.book.hands[farmID] {
		if w.it.InCharge {
			if sole != nil {
				return nil
			}
			sole = w
		}
	}
	return sole
}

func (e *entry[T]) sayOnce(col Column, row int) {
	if e.said == nil {
		e.said = map[Column]int{}
	}
	if _, spoken := e.said[col]; !spoken {
		e.said[col] = row
	}
}

// writePasses gives the caretaker the modules that trained_on stands for.
func (p *planner) writePasses(t target, e *entry[farm.Person], c *cycle) {
	if p.row.TrainedOn.IsZero() {
		return
	}
	given := false
	for _, pass := range passes(t.pack, e.it.ID, p.row.TrainedOn) {
		key := [3]string{pass.PersonID, pass.Enterprise, pass.Module}
		if p.book.passed[key] >= pass.On {
			continue
		}
		p.book.passed[key], given = pass.On, true
		p.out.Writes.Passes = append(p.out.Writes.Passes, pass)
	}
	marked := slices.ContainsFunc(p.changes, func(x Change) bool { return x.Column == ColTrained })
	if given && !marked && t.unit.row != p.row.Number {
		p.change(ColTrained, "", p.row.TrainedOn.String())
	}
	if given {
		p.book.touch(t.farm.it.ID, p.row.Number).news = true
	}
}

// writeVisit writes a visit that the register does not know to be over. An
// earlier day than the last visit tells nothing new.
func (p *planner) writeVisit(t target) {
	on, last := p.row.LastVisitOn, p.book.visited[t.farm.it.ID]
	if on <= last {
		return
	}
	p.book.visited[t.farm.it.ID] = on
	p.out.Writes.Visits = append(p.out.Writes.Visits, app.Visit{ID: p.NewID(), FarmID: t.farm.it.ID, On: on, State: app.VisitDone, DoneOn: on, PlannedBy: p.PersonID})
	p.event(app.Event{FarmID: t.farm.it.ID, Kind: EntryVisit, On: on, Evidence: true}, struct {
		Grade farm.Grade `json:"grade"`
	}{farm.Register})
	p.book.touch(t.farm.it.ID, p.row.Number).news = true
	if t.unit.row != p.row.Number {
		p.change(ColLastVisit, last.String(), on.String())
	}
}
