package register

import (
	"cmp"
	"slices"

	"tendfold/checklists"
	"tendfold/domain/calendar"
	"tendfold/domain/farm"
	"tendfold/domain/programme"
	"tendfold/server/app"
)

// Lines is the register as rows, one a unit, such that taking them in again
// changes nothing. They speak of the cycle that runs, else of the last one;
// of several caretakers they name the first in charge.
func Lines(s Snapshot, pack func(enterprise string) (*checklists.Pack, bool)) []Row {
	b := newBook(s)
	rows := make([]Row, 0, len(b.units))
	for _, u := range b.units {
		f := b.farmID[u.it.FarmID]
		if f == nil {
			continue
		}
		r := Row{
			Farm: f.it.Name, Town: f.it.Town, Landmark: f.it.Landmark, Position: f.it.Position, Status: f.it.Status,
			Unit: u.it.Name, Enterprise: u.it.Enterprise, Species: u.it.Species, Build: u.it.Build,
			LastVisitOn: b.visited[f.it.ID],
		}
		if c := b.clientID[f.it.ClientID]; c != nil {
			r.Client, r.ClientPhone = c.it.Name, Phone{c.it.Phone, c.it.PhoneFlag}
		}
		if br := b.branchID[f.it.BranchID]; br != nil {
			r.Branch = br.it.Name
		}
		p, _ := pack(u.it.Enterprise)
		b.cycleLine(&r, u, p)
		b.caretakerLine(&r, f, p)
		rows = append(rows, r)
	}
	slices.SortStableFunc(rows, func(x, y Row) int {
		return cmp.Or(cmp.Compare(Fold(x.Branch), Fold(y.Branch)), cmp.Compare(Fold(x.Client), Fold(y.Client)), cmp.Compare(Fold(x.Farm), Fold(y.Farm)), cmp.Compare(Fold(x.Unit), Fold(y.Unit)))
	})
	for i := range rows {
		rows[i].Number = i + 2
	}
	return rows
}

func (b *book) cycleLine(r *Row, u *unit, p *checklists.Pack) {
	c, batch := cmp.Or(u.running, u.ended), u.loose
	if c != nil && p != nil {
		r.Purpose = programme.Purpose(c.it.Purpose)
		r.StartedOn, r.StockedOn = c.marks[p.Programme.Start].DoneOn, c.marks[p.Programme.Stocking].DoneOn
		r.FirstHarvestOn, r.TrainedOn = c.marks[p.Programme.Harvest].DoneOn, c.marks[trainedMilestone].DoneOn
		batch = c.batch
	}
	if batch != nil {
		r.StockedCount, r.MeanWeightG = batch.it.Count, batch.it.MeanWeightG
	}
}

// caretakerLine names the caretaker, and the day of training only where it
// stands for all the modules that the row would give.
func (b *book) caretakerLine(r *Row, f *entry[farm.Farm], p *checklists.Pack) {
	var who []farm.Person
	for _, w := range b.hands[f.it.ID] {
		if e := b.personID[w.it.PersonID]; e != nil && w.it.InCharge {
			who = append(who, e.it)
		}
	}
	if len(who) == 0 {
		return
	}
	first := slices.MinFunc(who, func(x, y farm.Person) int {
		return cmp.Or(cmp.Compare(Fold(x.Name), Fold(y.Name)), cmp.Compare(x.ID, y.ID))
	})
	r.Caretaker, r.CaretakerPhone, r.Language = first.Name, Phone{first.Phone, first.PhoneFlag}, first.Language
	if !r.TrainedOn.IsZero() && !b.holds(first.ID, p, r.TrainedOn) {
		r.TrainedOn = 0
	}
}

func (b *book) holds(personID string, p *checklists.Pack, on calendar.Date) bool {
	return !slices.ContainsFunc(passes(p, personID, on), func(x app.Pass) bool {
		return b.passed[[3]string{x.PersonID, x.Enterprise, x.Module}] < on
	})
}
