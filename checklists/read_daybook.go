package checklists

import (
	"regexp"
	"slices"

	"tendfold/domain/daybook"
)

// readDaybook reads daybook.yaml: fields by group, weighing, and work that
// comes again.
func readDaybook(c cursor) Daybook {
	o := c.object("groups", "weighing", "work")
	var d Daybook
	for _, each := range o.need("groups").some() {
		d.Groups = append(d.Groups, readGroup(each))
	}
	d.Weighing = readWeighing(o.need("weighing"))
	for _, each := range o.need("work").list() {
		d.Work = append(d.Work, readWork(each))
	}
	return d
}

func readGroup(c cursor) FieldGroup {
	o := c.object("key", "name", "folded", "drawing", "fields")
	g := FieldGroup{
		Key: o.need("key").key(), Name: o.need("name").text(), Folded: o.may("folded").yes(), Drawing: o.need("drawing").key(),
	}
	for _, each := range o.need("fields").some() {
		g.Fields = append(g.Fields, readField(each))
	}
	return g
}

var fieldKeys = []string{
	"key", "kind", "in", "name", "help", "none", "lessens", "choices",
	"least", "most", "ask_below", "ask_above", "most_of_stock", "ask_of_stock",
}

func readField(c cursor) Field {
	o := c.object(with(fieldKeys...)...)
	f := Field{
		Key: o.need("key").fieldKey(), Kind: choice(o.need("kind"), CountField, AmountField, ChoiceField, TextField, DateField),
		Name: o.need("name").text(), None: o.may("none").yes(), Lessens: o.may("lessens").yes(),
	}
	if help := o.may("help"); !help.absent() {
		t := help.text()
		f.Help = &t
	}
	if f.Kind == AmountField {
		f.Measure = choice(o.need("in"), Measures()...)
	}
	if f.Kind == ChoiceField {
		for _, each := range o.need("choices").some() {
			p := each.object("key", "name")
			f.Choices = append(f.Choices, Option{Key: p.need("key").key(), Name: p.need("name").text()})
		}
	}
	f.Bounds = o.bounds(f)
	if o.saysBounds() {
		f.Basis = o.basis()
	}
	return f
}

// mostCounted bounds every count: more animals than any house holds.
const mostCounted = 10_000_000

var boundKeys = []string{"least", "most", "ask_below", "ask_above", "most_of_stock", "ask_of_stock"}

func (o object) saysBounds() bool {
	return slices.ContainsFunc(boundKeys, func(key string) bool { return !o.may(key).absent() })
}

// bounds reads what a number may be. Where the pack says nothing, a count is
// any number of animals and an amount what its measure allows.
func (o object) bounds(f Field) daybook.Bounds {
	if !f.Kind.Numeric() {
		return daybook.Bounds{}
	}
	low, high := 0.0, float64(mostCounted)
	if f.Kind == AmountField {
		low, high = f.Measure.Possible()
	}
	b := o.ends(low, high)
	b.Whole = f.Kind == CountField
	b.MostOfStock = o.may("most_of_stock").share()
	b.AskOfStock = o.may("ask_of_stock").share()
	return b
}

// ends reads least, most and the two that ask back, between low and high.
func (o object) ends(low, high float64) daybook.Bounds {
	b := daybook.Bounds{
		Least: o.may("least").end(low, high), Most: o.may("most").end(low, high),
		AskBelow: o.may("ask_below").end(low, high), AskAbove: o.may("ask_above").end(low, high),
	}
	if b.Least == nil {
		b.Least = &low
	}
	if b.Most == nil {
		b.Most = &high
	}
	if *b.Least > *b.Most {
		o.may("most").wrong("%s is below least %s", short(*b.Most), short(*b.Least))
	}
	return b
}

// share reads a multiple of the stock; absent is 0, which asks nothing.
func (c cursor) share() float64 {
	if c.absent() {
		return 0
	}
	return c.number(0.0001, 1000)
}

func readWeighing(c cursor) Weighing {
	const most = 100
	o := c.object(with("animals", "least", "most", "ask_below", "ask_above")...)
	return Weighing{Animals: o.need("animals").whole(1, most), Bounds: o.ends(0.001, heaviestG), Basis: o.basisOf(c)}
}

func readWork(c cursor) Work {
	o := c.object(with("key", "name", "how", "caution", "drawing", "every", "does", "from", "until")...)
	w := Work{
		Key: o.need("key").declared(aWork), Name: o.need("name").text(), How: o.need("how").text(),
		Caution: o.may("caution").ref(aCaution), Drawing: o.need("drawing").key(), Every: o.need("every").whole(1, 366),
		From: o.need("from").ref(aMilestone), Until: o.may("until").ref(aMilestone), Basis: o.basisOf(c),
	}
	if does := o.may("does"); !does.absent() {
		w.Does = choice(does, DoesCover, DoesWeigh)
	}
	return w
}

// fieldForm is the form of a field's key: a name in the data of an entry.
var fieldForm = regexp.MustCompile(`^[a-z][a-z0-9]*(_[a-z0-9]+)*$`)

// ownNames are names in an entry's data that no field may take.
var ownNames = []string{"all_well", "media", "note", "source", "sure", "written_by"}

// fieldKey reads a key of the daybook such as feed_kg.
func (c cursor) fieldKey() string {
	s := c.line()
	switch {
	case s == "":
		return ""
	case len(s) > maxKey || !fieldForm.MatchString(s):
		c.wrong("%q is not a key of a field: lower-case letters, digits and single underscores, at most %d", s, maxKey)
		return ""
	case slices.Contains(ownNames, s):
		c.wrong("%q is a name of every daybook; give the field another", s)
		return ""
	}
	c.book.declare(aField, s, c)
	return s
}
