package register

import (
	"cmp"
	"math/bits"
	"slices"
	"strconv"
	"unicode"

	"tendfold/domain/farm"
)

// oneKM is how near two farms must be for close names to be a double.
const oneKM = 1.0

// most is how many farms of one kilometre a farm is compared with: enough
// for any town, and a bound on a register that has one position for all.
const most = 2000

// findDoubles flags farms and caretakers that may have been entered twice.
// Each pair is told once, on the row that came later, whether or not the
// register had them before: the same file again tells the same.
func (p *planner) findDoubles() {
	p.doubleFarms()
	p.doubleCaretakers()
}

// doubleFarms looks only at farms of the file, each against what came before.
func (p *planner) doubleFarms() {
	near := map[cube][]*place{}
	places := make([]*place, 0, len(p.book.farms))
	for _, f := range p.book.farms {
		if f.it.Position.Known {
			places = append(places, p.placeOf(f))
		}
	}
	slices.SortStableFunc(places, func(a, b *place) int { return cmp.Compare(a.row, b.row) })
	for _, x := range places {
		at := cubeOf(x.farm.Position)
		if x.row > 0 {
			p.doubleFarm(x, near, at)
		}
		near[at] = append(near[at], x)
	}
}

func (p *planner) doubleFarm(x *place, near map[cube][]*place, at cube) {
	left := most
	for c := range at.around {
		for _, y := range near[c] {
			if left--; left < 0 {
				return
			}
			if x.maybe(y) && kilometres(x.farm.Position, y.farm.Position) <= oneKM {
				p.tellDouble(x.row, ColFarm, DoubleNear, Values{
					"value": x.farm.Name, "client": x.clientName, "kept": y.farm.Name, "kept_client": y.clientName,
					"metres": strconv.Itoa(int(1000*kilometres(x.farm.Position, y.farm.Position) + 0.5)),
				})
			}
		}
	}
}

func (p *planner) tellDouble(row int, col Column, code Code, v Values) {
	p.out.Problems = append(p.out.Problems, Problem{row, col, Flag, code, v})
}

// place is a farm with its names made ready for comparing.
type place struct {
	farm       farm.Farm
	row        int // first row of the file about it; 0 = none
	clientName string
	name       label
	client     label
}

// label is a folded name with the set of its letters.
type label struct {
	folded  string
	letters uint64
}

func labelOf(name string) label {
	l := label{folded: Fold(name)}
	for _, r := range l.folded {
		if unicode.IsLetter(r) {
			l.letters |= 1 << (uint32(r) % 64)
		}
	}
	return l
}

// near is near for labels. Two slips change at most four letters of the set,
// which spares nearly all pairs the real comparison.
func (l label) near(o label) bool {
	d := len(l.folded) - len(o.folded)
	return d >= -8 && d <= 8 && bits.OnesCount64(l.letters^o.letters) <= 4 && near(l.folded, o.folded)
}

func (p *planner) placeOf(f *entry[farm.Farm]) *place {
	x := &place{farm: f.it, name: labelOf(f.it.Name)}
	if c := p.book.clientID[f.it.ClientID]; c != nil {
		x.clientName, x.client = c.it.Name, labelOf(c.it.Name)
	}
	if t := p.book.touched[f.it.ID]; t != nil {
		x.row = t.row
	}
	return x
}

// maybe says whether the names allow that x and y are one farm. Two farms of
// one client are told apart by their own names alone.
func (x *place) maybe(y *place) bool {
	return x.name.near(y.name) || x.farm.ClientID != y.farm.ClientID && x.client.near(y.client)
}

// sharers is how many people of one phone are compared: more is a
// switchboard, not a family.
const sharers = 100

// doubleCaretakers looks at people of the file who share a phone: a family
// may, so only nearly equal names are told.
func (p *planner) doubleCaretakers() {
	for _, e := range p.book.people {
		row := p.caretook[e.it.ID]
		if row == 0 {
			continue
		}
		name := Fold(e.it.Name)
		all := p.book.onPhone[phoneKey(e.it.Phone)]
		for _, o := range all[:min(sharers, len(all))] {
			other := p.caretook[o.it.ID]
			earlier := other < row || other == row && o.it.ID < e.it.ID
			if folded := Fold(o.it.Name); o != e && earlier && folded != name && near(folded, name) {
				p.tellDouble(row, ColCaretaker, DoubleCaretaker, Values{"value": e.it.Name, "kept": o.it.Name})
			}
		}
	}
}
