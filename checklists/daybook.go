package checklists

import (
	"tendfold/domain/daybook"
)

// Daybook is what the caretaker of an enterprise writes down of a day, and
// the work that comes again and again.
type Daybook struct {
	Groups   []FieldGroup `json:"groups"`
	Weighing Weighing     `json:"weighing"`
	Work     []Work       `json:"work"`
}

// FieldGroup is what is asked together. A folded one is opened by whoever has
// something to say of it.
type FieldGroup struct {
	Key     string  `json:"key"`
	Name    Text    `json:"name"`
	Folded  bool    `json:"folded"`
	Drawing string  `json:"drawing"` // of the phone's own pictures
	Fields  []Field `json:"fields"`
}

// Field is one thing that can be written down of a day. Its key is its name
// in the entry's data.
type Field struct {
	Key     string    `json:"key"`
	Kind    FieldKind `json:"kind"`
	Measure Measure   `json:"measure,omitempty"` // of an amount
	Name    Text      `json:"name"`
	Help    *Text     `json:"help,omitempty"`
	// None offers "none" as a press, so that nobody has to type a zero.
	None bool `json:"none"`
	// Lessens says that the count is of animals that are no longer there.
	Lessens bool           `json:"lessens"`
	Choices []Option       `json:"choices,omitempty"`
	Bounds  daybook.Bounds `json:"bounds"`
	Basis   Basis          `json:"basis"` // of the bounds; no grade where there are none of its own
}

// FieldKind is what a field takes.
type FieldKind string

// The kinds of fields.
const (
	CountField  FieldKind = "count"
	AmountField FieldKind = "amount" // a number in a measure
	ChoiceField FieldKind = "choice"
	TextField   FieldKind = "text"
	DateField   FieldKind = "date"
)

// Numeric says whether the field takes a number.
func (k FieldKind) Numeric() bool { return k == CountField || k == AmountField }

// Option is one answer of a choice.
type Option struct {
	Key  string `json:"key"`
	Name Text   `json:"name"`
}

// Weighing is the guided weighing of a sample: how many animals, and what one
// of them may weigh, in g.
type Weighing struct {
	Animals int            `json:"animals"`
	Bounds  daybook.Bounds `json:"bounds"`
	Basis   Basis          `json:"basis"`
}

// Work comes again Every days while the cycle is between two milestones.
type Work struct {
	Key     string   `json:"key"`
	Name    Text     `json:"name"`
	How     Text     `json:"how"`
	Caution string   `json:"caution,omitempty"`
	Drawing string   `json:"drawing"`
	Every   int      `json:"every"` // days
	Does    WorkDoes `json:"does,omitempty"`
	From    string   `json:"from"`            // milestone after which it begins
	Until   string   `json:"until,omitempty"` // milestone with which it ends, "" = with the cycle
	Basis
}

// WorkDoes is an entry of its own with which a piece of work is done; "" is
// the plain word that it was.
type WorkDoes string

// What a piece of work may be done with.
const (
	DoesCover WorkDoes = "cover" // a reading of plant cover
	DoesWeigh WorkDoes = "weigh" // a weighed sample
)

// Field is the daybook's field with a key.
func (d Daybook) Field(key string) (Field, bool) {
	for _, g := range d.Groups {
		if f, ok := find(g.Fields, func(f Field) bool { return f.Key == key }); ok {
			return f, true
		}
	}
	return Field{}, false
}

// WorkOf is the piece of work with a key.
func (d Daybook) WorkOf(key string) (Work, bool) {
	return find(d.Work, func(w Work) bool { return w.Key == key })
}
