// Package reckon answers a sheet of inputs: it reads YAML or JSON, takes from
// the packs what the sheet leaves out, lets the functions of domain/husbandry
// work, and says what each figure rests on and what to mind. The formulas are
// theirs; what a person may write, and the words, are here.
package reckon

import (
	"fmt"
	"slices"

	"tendfold/checklists"
	"tendfold/domain"
)

// Topic is what can be reckoned.
type Topic string

// The topics.
const (
	Stock   Topic = "stock"
	Density Topic = "density"
	Growth  Topic = "growth"
	Deaths  Topic = "deaths"
	Ration  Topic = "ration"
	Ammonia Topic = "ammonia"
	Water   Topic = "water"
	Pump    Topic = "pump"
)

// work is one reckoning: what is asked, the packs, and the answer.
type work struct {
	group
	*Answer
	packs *checklists.Set
}

// topics are all topics with what reckons them.
var topics = []struct {
	topic  Topic
	reckon func(w work)
}{
	{Stock, reckonStock}, {Density, reckonDensity}, {Growth, reckonGrowth}, {Deaths, reckonDeaths}, {Ration, reckonRation}, {Ammonia, reckonAmmonia}, {Water, reckonWater}, {Pump, reckonPump},
}

// Topics are all that can be reckoned.
func Topics() []Topic {
	var out []Topic
	for _, t := range topics {
		out = append(out, t.topic)
	}
	return out
}

// Lang is the language of cautions and words.
type Lang string

// The languages.
const (
	English Lang = "en"
	French  Lang = "fr"
)

// Do reckons what the document asks under a topic. A document holds the keys
// of one topic, or several topics each under its name, of which the others are
// left alone. The error names every field that is wrong, with its path.
func Do(topic Topic, document []byte, packs *checklists.Set, lang Lang) (*Answer, error) {
	asked, err := checklists.Plain(document)
	if err != nil {
		return nil, &domain.Error{Kind: domain.KindMalformed, Code: "sheet-unreadable", Text: "This cannot be read: " + err.Error() + "."}
	}
	values, ok := asked.(map[string]any)
	if !ok && asked != nil {
		return nil, &domain.Error{Kind: domain.KindMalformed, Code: "sheet-unreadable", Text: "This cannot be read: it is " + shapeOf(asked) + "; it must be a group of keys."}
	}
	s := &sheet{}
	g, a := newGroup(s, "", values), newAnswer(lang)
	if one, ok := sectionOf(g, topic); ok {
		g = one
	}
	for _, t := range topics {
		if t.topic == topic {
			t.reckon(work{g, a, packs})
		}
	}
	g.done()
	return finish(s, g, a)
}

// sectionOf is the part of a document that is under the topic's name, when the
// document is one of several topics.
func sectionOf(g group, topic Topic) (group, bool) {
	several := false
	for _, t := range topics {
		if _, under := g.values[string(t.topic)]; under {
			several = true
		}
	}
	if !several {
		g.path = string(topic)
		return g, true
	}
	for key := range g.values {
		if !isTopic(key) {
			g.refuse(short(key), "unknown", "is no topic; a document of several topics has %s", list(topicNames()))
		}
	}
	if _, under := g.values[string(topic)]; !under {
		return newGroup(g.sheet, string(topic), nil), true
	}
	return g.part(string(topic))
}

func isTopic(key string) bool { return slices.Contains(topicNames(), key) }

func topicNames() []string {
	var out []string
	for _, t := range Topics() {
		out = append(out, string(t))
	}
	return out
}

func finish(s *sheet, g group, a *Answer) (*Answer, error) {
	if len(s.wrong) > 0 {
		f := s.wrong[0]
		return nil, domain.Invalid("sheet-refused", fmt.Sprintf("%s: %s.", f.Path, f.Text), s.wrong...)
	}
	if name := a.finite(); name != "" {
		return nil, domain.Invalid("sheet-refused", fmt.Sprintf("%s: these figures give no number for it; they are too large or too small.", name),
			domain.Field{Path: name, Code: "no-number", Text: "cannot be worked out from these figures"})
	}
	a.Inputs = g.echo
	if len(a.Outputs) == 0 && len(a.Series) == 0 {
		a.mind("nothing-asked")
	}
	return a, nil
}
