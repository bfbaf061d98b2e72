package app

import (
	"cmp"
	"context"
	"slices"

	"tendfold/checklists"
	"tendfold/domain/daybook"
	"tendfold/domain/farm"
)

// BookPack is what a caretaker's screens say of an enterprise: the words to
// which Today refers by key. It changes with a pack alone, so a phone keeps it.
type BookPack struct {
	Enterprise string          `json:"enterprise"`
	Name       string          `json:"name"`
	Milestones []BookMilestone `json:"milestones"`
	Lists      []BookList      `json:"lists"`
	Groups     []BookGroup     `json:"groups" doc:"The fields of the daybook."`
	Weighing   BookWeighing    `json:"weighing"`
	Work       []BookWork      `json:"work"`
}

// BookMilestone is what is said of a milestone.
type BookMilestone struct {
	Key  string `json:"key"`
	Name string `json:"name"`
	Note string `json:"note,omitempty"`
}

// BookList is a checklist with the items that a caretaker may mark.
type BookList struct {
	Key       string     `json:"key"`
	Name      string     `json:"name"`
	Milestone string     `json:"milestone"`
	Items     []BookItem `json:"items"`
}

// BookItem is one thing to verify.
type BookItem struct {
	Key      string        `json:"key"`
	Text     string        `json:"text"`
	Help     string        `json:"help,omitempty"`
	Caution  string        `json:"caution,omitempty"`
	Suffices farm.Grade    `json:"suffices" doc:"The weakest evidence that is enough; a caretaker alone gives the word."`
	Measured *BookMeasured `json:"measured,omitempty"`
}

// BookMeasured is the value that an item asks for. Least and Most bound what
// can be; Low and High what holds.
type BookMeasured struct {
	Measure checklists.Measure `json:"measure"`
	Least   float64            `json:"least"`
	Most    float64            `json:"most"`
	Low     *float64           `json:"low,omitempty"`
	High    *float64           `json:"high,omitempty"`
}

// BookGroup is what the daybook asks for together.
type BookGroup struct {
	Key     string      `json:"key"`
	Name    string      `json:"name"`
	Folded  bool        `json:"folded,omitempty" doc:"Opened by whoever has something to say of it."`
	Drawing string      `json:"drawing"`
	Fields  []BookField `json:"fields"`
}

// BookField is a field of the daybook.
type BookField struct {
	Key     string               `json:"key"`
	Kind    checklists.FieldKind `json:"kind" enum:"count,amount,choice,text,date"`
	Measure checklists.Measure   `json:"measure,omitempty"`
	Name    string               `json:"name"`
	Help    string               `json:"help,omitempty"`
	None    bool                 `json:"none,omitempty" doc:"Offer none as a press."`
	Lessens bool                 `json:"lessens,omitempty" doc:"So many animals are no longer there."`
	Choices []BookOption         `json:"choices,omitempty"`
	Bounds  *daybook.Bounds      `json:"bounds,omitempty"`
}

// BookOption is one answer of a choice.
type BookOption struct {
	Key  string `json:"key"`
	Name string `json:"name"`
}

// BookWeighing is the guided weighing of a sample.
type BookWeighing struct {
	Animals int            `json:"animals"`
	Bounds  daybook.Bounds `json:"bounds" doc:"Of one weight, in g."`
}

// BookWork is a piece of work that comes again.
type BookWork struct {
	Key     string              `json:"key"`
	Name    string              `json:"name"`
	How     string              `json:"how"`
	Caution string              `json:"caution,omitempty"`
	Drawing string              `json:"drawing"`
	Every   int                 `json:"every" doc:"Days after which it comes again."`
	First   int                 `json:"first" doc:"Days after its milestone on which it comes first."`
	Does    checklists.WorkDoes `json:"does,omitempty" enum:"cover,weigh" doc:"The entry with which it is done, where that is one of its own."`
}

// Book is the words of the enterprises on the caretaker's farms, in a language
// or in the person's own.
func (s *Today) Book(ctx context.Context, who Actor, language string) ([]BookPack, error) {
	packs, err := s.housedPacks(ctx, who)
	out := make([]BookPack, len(packs))
	for i, pack := range packs {
		out[i] = BookOf(pack, cmp.Or(language, who.Language))
	}
	return out, err
}

// housedPacks are the packs of what lives on the caretaker's farms, by name.
func (s *Today) housedPacks(ctx context.Context, who Actor) ([]*checklists.Pack, error) {
	if err := who.Need(farm.Caretaker); err != nil {
		return nil, err
	}
	farms, _, err := s.farms(ctx, who)
	if err != nil {
		return nil, err
	}
	units, err := s.store.UnitsOf(ctx, farmIDs(farms))
	var out []*checklists.Pack
	for _, name := range s.Packs.Enterprises() {
		if slices.ContainsFunc(units, func(u farm.Unit) bool { return u.Enterprise == name }) {
			pack, _ := s.Packs.Pack(name)
			out = append(out, pack)
		}
	}
	return out, err
}

func farmIDs(farms []FarmLine) []string {
	out := make([]string, len(farms))
	for i, f := range farms {
		out[i] = f.ID
	}
	return out
}

// BookOf is the words of one enterprise in a language.
func BookOf(pack *checklists.Pack, language string) BookPack {
	say := func(t checklists.Text) string { return t.In(language) }
	out := BookPack{Enterprise: pack.Enterprise, Name: say(pack.Name), Lists: bookLists(pack, say)}
	for _, m := range pack.Milestones {
		out.Milestones = append(out.Milestones, BookMilestone{m.Key, say(m.Name), say(m.Note)})
	}
	for _, g := range pack.Daybook.Groups {
		out.Groups = append(out.Groups, BookGroup{g.Key, say(g.Name), g.Folded, g.Drawing, bookFields(g.Fields, say)})
	}
	out.Weighing = BookWeighing{pack.Daybook.Weighing.Animals, pack.Daybook.Weighing.Bounds}
	for _, w := range pack.Daybook.Work {
		out.Work = append(out.Work, BookWork{
			Key: w.Key, Name: say(w.Name), How: say(w.How), Caution: say(pack.Cautions[w.Caution]), Drawing: w.Drawing,
			Every: w.Every, First: first(w), Does: w.Does,
		})
	}
	return out
}

func bookLists(pack *checklists.Pack, say func(checklists.Text) string) []BookList {
	out := []BookList{}
	for _, list := range pack.Checklists {
		row := BookList{Key: list.Key, Name: say(list.Name), Milestone: list.Milestone}
		for _, it := range list.Items {
			if mayMark(it.By) {
				row.Items = append(row.Items, bookItem(pack, it, say))
			}
		}
		if len(row.Items) > 0 {
			out = append(out, row)
		}
	}
	return out
}

func bookItem(pack *checklists.Pack, it checklists.Item, say func(checklists.Text) string) BookItem {
	out := BookItem{Key: it.Key, Text: say(it.Text), Help: say(it.Help), Caution: say(pack.Cautions[it.Caution]), Suffices: it.Suffices}
	if m := it.Measured; m != nil {
		least, most := m.Measure.Possible()
		out.Measured = &BookMeasured{Measure: m.Measure, Least: least, Most: most, Low: m.Low, High: m.High}
	}
	return out
}

func bookFields(fields []checklists.Field, say func(checklists.Text) string) []BookField {
	out := make([]BookField, len(fields))
	for i, f := range fields {
		out[i] = BookField{Key: f.Key, Kind: f.Kind, Measure: f.Measure, Name: say(f.Name), None: f.None, Lessens: f.Lessens}
		if f.Help != nil {
			out[i].Help = say(*f.Help)
		}
		if f.Kind.Numeric() {
			out[i].Bounds = &f.Bounds
		}
		for _, o := range f.Choices {
			out[i].Choices = append(out[i].Choices, BookOption{o.Key, say(o.Name)})
		}
	}
	return out
}
