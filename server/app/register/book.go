package register

import (
	"cmp"
	"maps"
	"slices"
	"strings"
	"unicode"

	"tendfold/domain/calendar"
	"tendfold/domain/farm"
	"tendfold/server/app"
)

// entry is a thing of the register while a plan is made.
type entry[T any] struct {
	it    T
	row   int            // that made it; 0 = the register had it
	dirty bool           // differs from what the register had
	said  map[Column]int // the row of the file that spoke for a column first
}

// unit is a unit with the cycle that runs on it and the last one that ended.
type unit struct {
	entry[farm.Unit]
	running *cycle
	ended   *cycle
	loose   *entry[farm.Batch] // animals that no cycle has yet
	seen    int                // first row of the file about it
}

// cycle is a cycle with what is known of its milestones and its first batch.
type cycle struct {
	entry[farm.Cycle]
	marks   map[string]app.Milestone
	fresh   []string // milestones marked by this plan, in order
	batch   *entry[farm.Batch]
	rebased bool
}

// work ties a person to a farm.
type work = entry[farm.Work]

// book is the register under way, found by the keys of an import: client =
// phone, else name; farm = client + name; unit = farm + name; person =
// phone + name. The slices keep the order in which things came.
type book struct {
	branches []*entry[farm.Branch]
	clients  []*entry[app.Client]
	farms    []*entry[farm.Farm]
	units    []*unit
	people   []*entry[farm.Person]
	works    []*work

	branch   map[string]*entry[farm.Branch] // folded name
	branchID map[string]*entry[farm.Branch]
	byPhone  map[string][]*entry[app.Client]
	byName   map[string][]*entry[app.Client]
	clientID map[string]*entry[app.Client]
	farm     map[[2]string]*entry[farm.Farm] // client, folded name
	farmID   map[string]*entry[farm.Farm]
	unit     map[[2]string]*unit               // farm, folded name
	person   map[[2]string]*entry[farm.Person] // phone, folded name
	onPhone  map[string][]*entry[farm.Person]  // all that share it
	hands    map[string][]*work                // by farm
	worksOn  map[[2]string]*work               // farm, person
	ofClient map[string][]*entry[farm.Farm]    // by client
	personID map[string]*entry[farm.Person]    //
	visited  map[string]calendar.Date          // last visit by farm
	passed   map[[3]string]calendar.Date       // last pass by person, enterprise, module
	cycles   map[string]*cycle                 // by id, while loading
	touched  map[string]*touch                 // what the file did to a farm
	order    []string                          // farms touched, in order
}

// touch is what the rows of a file did to one farm.
type touch struct {
	row     int  // first row about it
	changed bool // anything at all
	news    bool // something was reported that had happened there
}

// phoneKey is the form in which phones are compared: figures only, so that a
// number kept as typed is found again however it is spaced, unless it is
// rather a word.
func phoneKey(phone string) string {
	if figures := digits(phone); len(figures) >= 6 || figures != "" && strings.IndexFunc(phone, unicode.IsLetter) < 0 {
		return figures
	}
	return Fold(phone)
}

func newBook(s Snapshot) *book {
	b := &book{
		branch: map[string]*entry[farm.Branch]{}, branchID: map[string]*entry[farm.Branch]{},
		byPhone: map[string][]*entry[app.Client]{}, byName: map[string][]*entry[app.Client]{}, clientID: map[string]*entry[app.Client]{},
		farm: map[[2]string]*entry[farm.Farm]{}, farmID: map[string]*entry[farm.Farm]{}, ofClient: map[string][]*entry[farm.Farm]{},
		unit:   map[[2]string]*unit{},
		person: map[[2]string]*entry[farm.Person]{}, onPhone: map[string][]*entry[farm.Person]{}, personID: map[string]*entry[farm.Person]{},
		hands: map[string][]*work{}, worksOn: map[[2]string]*work{},
		visited: map[string]calendar.Date{}, passed: map[[3]string]calendar.Date{},
		cycles: map[string]*cycle{}, touched: map[string]*touch{},
	}
	for _, x := range s.Branches {
		b.addBranch(x, 0)
	}
	for _, x := range s.Clients {
		b.addClient(x, 0)
	}
	for _, x := range s.Farms {
		b.addFarm(x, 0)
	}
	for _, x := range s.People {
		b.addPerson(x, 0)
	}
	for _, x := range s.Work {
		b.addWork(x, 0)
	}
	maps.Copy(b.visited, s.Visits)
	for _, x := range s.Passes {
		key := [3]string{x.PersonID, x.Enterprise, x.Module}
		b.passed[key] = max(b.passed[key], x.On)
	}
	b.loadUnits(s)
	return b
}

func (b *book) loadUnits(s Snapshot) {
	byID := map[string]*unit{}
	for _, x := range s.Units {
		byID[x.ID] = b.addUnit(x, 0)
	}
	for _, x := range s.Cycles {
		c := &cycle{entry: entry[farm.Cycle]{it: x}, marks: map[string]app.Milestone{}}
		b.cycles[x.ID] = c
		switch u := byID[x.UnitID]; {
		case u == nil:
		case x.EndedOn.IsZero():
			u.running = c
		case u.ended == nil || x.EndedOn > u.ended.it.EndedOn:
			u.ended = c
		}
	}
	for _, m := range s.Milestones {
		if c := b.cycles[m.CycleID]; c != nil && !m.DoneOn.IsZero() {
			c.marks[m.Key] = m
		}
	}
	for _, x := range s.Batches {
		// The register speaks of the first batch of a cycle; later ones are
		// added on the farm's page.
		switch c, u := b.cycles[x.CycleID], byID[x.UnitID]; {
		case c != nil && (c.batch == nil || x.StockedOn < c.batch.it.StockedOn):
			c.batch = &entry[farm.Batch]{it: x}
		case x.CycleID == "" && u != nil:
			u.loose = &entry[farm.Batch]{it: x}
		}
	}
}

func (b *book) addBranch(x farm.Branch, row int) *entry[farm.Branch] {
	e := &entry[farm.Branch]{it: x, row: row}
	b.branches = append(b.branches, e)
	b.branch[Fold(x.Name)], b.branchID[x.ID] = e, e
	return e
}

func (b *book) addClient(x app.Client, row int) *entry[app.Client] {
	e := &entry[app.Client]{it: x, row: row}
	b.clients = append(b.clients, e)
	b.clientID[x.ID] = e
	b.byName[Fold(x.Name)] = append(b.byName[Fold(x.Name)], e)
	b.hasPhone(e)
	return e
}

// hasPhone makes a client found by its phone.
func (b *book) hasPhone(e *entry[app.Client]) {
	if key := phoneKey(e.it.Phone); key != "" {
		b.byPhone[key] = append(b.byPhone[key], e)
	}
}

func (b *book) addFarm(x farm.Farm, row int) *entry[farm.Farm] {
	e := &entry[farm.Farm]{it: x, row: row}
	b.farms = append(b.farms, e)
	b.farm[[2]string{x.ClientID, Fold(x.Name)}], b.farmID[x.ID] = e, e
	b.ofClient[x.ClientID] = append(b.ofClient[x.ClientID], e)
	return e
}

func (b *book) addUnit(x farm.Unit, row int) *unit {
	u := &unit{entry: entry[farm.Unit]{it: x, row: row}}
	b.units = append(b.units, u)
	b.unit[[2]string{x.FarmID, Fold(x.Name)}] = u
	return u
}

func (b *book) addPerson(x farm.Person, row int) *entry[farm.Person] {
	e := &entry[farm.Person]{it: x, row: row}
	b.people = append(b.people, e)
	b.personID[x.ID] = e
	b.callable(e)
	return e
}

// callable makes a person found by phone and name.
func (b *book) callable(e *entry[farm.Person]) {
	phone := phoneKey(e.it.Phone)
	if phone == "" {
		return
	}
	if key := [2]string{phone, Fold(e.it.Name)}; b.person[key] == nil {
		b.person[key] = e
	}
	b.onPhone[phone] = append(b.onPhone[phone], e)
}

func (b *book) addWork(x farm.Work, row int) *work {
	e := &work{it: x, row: row}
	b.works = append(b.works, e)
	b.hands[x.FarmID] = append(b.hands[x.FarmID], e)
	b.worksOn[[2]string{x.FarmID, x.PersonID}] = e
	return e
}

// findClient is the client that a row means, nil when it is a new one. A
// client known by name alone gains the phone that a row brings. Clients who
// were given one phone on their pages are told apart by their names.
func (b *book) findClient(r Row) *entry[app.Client] {
	name := Fold(r.Client)
	named := b.byName[name]
	if key := phoneKey(r.ClientPhone.Text); key != "" {
		if same := b.byPhone[key]; len(same) > 0 {
			return cmp.Or(first(same, func(c *entry[app.Client]) bool { return Fold(c.it.Name) == name }), same[0])
		}
		return first(named, func(c *entry[app.Client]) bool { return c.it.Phone == "" })
	}
	if c := first(named, func(c *entry[app.Client]) bool { return b.farm[[2]string{c.it.ID, Fold(r.Farm)}] != nil }); c != nil {
		return c
	}
	return first(named, func(*entry[app.Client]) bool { return true })
}

// findPerson is the caretaker that a row means, nil when it is a new one.
// Without a phone only people of the same client's farms are looked at: two
// farms may each have their own Paul.
func (b *book) findPerson(r Row, f *entry[farm.Farm]) *entry[farm.Person] {
	name, phone := Fold(r.Caretaker), phoneKey(r.CaretakerPhone.Text)
	if phone != "" {
		if e := b.person[[2]string{phone, name}]; e != nil {
			return e
		}
		return b.hand(f, func(x farm.Person) bool { return x.Phone == "" && Fold(x.Name) == name })
	}
	is := func(x farm.Person) bool { return Fold(x.Name) == name }
	if e := b.hand(f, is); e != nil {
		return e
	}
	for _, other := range b.ofClient[f.it.ClientID] {
		if e := b.hand(other, is); e != nil {
			return e
		}
	}
	return nil
}

func (b *book) hand(f *entry[farm.Farm], is func(farm.Person) bool) *entry[farm.Person] {
	for _, w := range b.hands[f.it.ID] {
		if e := b.personID[w.it.PersonID]; e != nil && is(e.it) {
			return e
		}
	}
	return nil
}

// touch is the record of a farm that a row is about.
func (b *book) touch(farmID string, row int) *touch {
	t := b.touched[farmID]
	if t == nil {
		t = &touch{row: row}
		b.touched[farmID] = t
		b.order = append(b.order, farmID)
	}
	return t
}

func first[T any](list []*T, ok func(*T) bool) *T {
	if i := slices.IndexFunc(list, ok); i >= 0 {
		return list[i]
	}
	return nil
}
