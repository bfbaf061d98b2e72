package checklists

import (
	"tendfold/domain/ticket"
	"tendfold/domain/triage"
)

// TriageCard is the advisor's card of a sign: the graph, and the words that
// are said aloud. Danger, Impact and TimeToLoss are those of the sign.
type TriageCard struct {
	Sign       string            `json:"sign"`
	Version    int               `json:"version"`
	Danger     bool              `json:"danger"`
	Impact     ticket.Impact     `json:"impact"`
	TimeToLoss ticket.TimeToLoss `json:"time_to_loss"`
	Causes     []TriageCause     `json:"causes"`
	Questions  []TriageQuestion  `json:"questions" doc:"The first is asked first."`
	Endings    []TriageEnding    `json:"endings"`
}

// Graph is what walking the card needs.
func (c *TriageCard) Graph() triage.Card {
	g := triage.Card{Sign: c.Sign, Version: c.Version, Danger: c.Danger, Impact: c.Impact, TimeToLoss: c.TimeToLoss}
	for _, cause := range c.Causes {
		g.Causes = append(g.Causes, cause.Cause)
	}
	for _, q := range c.Questions {
		out := triage.Question{Key: q.Key, Kind: q.Kind, Danger: q.Danger}
		for _, a := range q.Answers {
			out.Answers = append(out.Answers, a.Answer)
		}
		g.Questions = append(g.Questions, out)
	}
	for _, e := range c.Endings {
		g.Endings = append(g.Endings, e.Ending)
	}
	return g
}

// TriageCause is a possible cause. Its weight is a judgement of the pack and
// is shown to nobody as a number.
type TriageCause struct {
	triage.Cause
	Text Text `json:"text"`
	Basis
}

// TriageQuestion is what the advisor asks, as a sentence to say.
type TriageQuestion struct {
	Key     string         `json:"key"`
	Kind    triage.Kind    `json:"kind" enum:"yes-no,number,choice,photo"`
	Danger  bool           `json:"danger"`
	Say     Text           `json:"say"`
	Measure *Text          `json:"measure,omitempty"` // of a number
	Answers []TriageAnswer `json:"answers"`
}

// TriageAnswer is one answer; its text is nil where the kind says it.
type TriageAnswer struct {
	triage.Answer
	Text *Text `json:"text,omitempty"`
}

// TriageEnding is what is advised at the end of a path.
type TriageEnding struct {
	triage.Ending
	Advice Text  `json:"advice"`
	Now    *Text `json:"now,omitempty"` // what to do within the hour; nil where there is time
	Basis
}

// TriageDanger is a question about people that cards share: on yes the card
// of its danger sign goes on.
type TriageDanger struct {
	Key  string
	Ask  Text
	Sign string
}

// TriageCard is the card of a sign.
func (p *Pack) TriageCard(sign string) (*TriageCard, bool) {
	c, ok := p.Cards[sign]
	return c, ok
}

// Question is the question with a key.
func (c *TriageCard) Question(key string) (TriageQuestion, bool) {
	return find(c.Questions, func(q TriageQuestion) bool { return q.Key == key })
}

// Ending is the ending with a key.
func (c *TriageCard) Ending(key string) (TriageEnding, bool) {
	return find(c.Endings, func(e TriageEnding) bool { return e.Key == key })
}

// Cause is the cause with a key.
func (c *TriageCard) Cause(key string) (TriageCause, bool) {
	return find(c.Causes, func(cause TriageCause) bool { return cause.Key == key })
}
