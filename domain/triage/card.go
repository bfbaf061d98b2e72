// Package triage owns the decision graph of a triage card: what is asked when
// a sign is reported, how each answer moves the likely causes and the
// urgency, and where every path ends. It knows no words; the packs bring
// them.
package triage

import "tendfold/domain/ticket"

// Kind of a question.
type Kind string

// The kinds. A Photo is a choice of what is seen on a picture that the farm
// is asked for.
const (
	YesNo  Kind = "yes-no"
	Number Kind = "number"
	Choice Kind = "choice"
	Photo  Kind = "photo"
)

// The answers of a yes-no question; a number may have Unsure too.
const (
	Yes    = "yes"
	No     = "no"
	Unsure = "unsure"
)

// Going is when a person of the firm goes there.
type Going string

// When to go.
const (
	GoNow   Going = "now"
	GoToday Going = "today"
	GoWeek  Going = "this-week"
	GoNext  Going = "next-visit"
	GoNot   Going = "no"
)

// Card is the graph of one sign. The first question is asked first. Impact,
// TimeToLoss and Danger hold before any answer.
type Card struct {
	Sign       string            `json:"sign"`
	Version    int               `json:"version"`
	Danger     bool              `json:"danger"`
	Impact     ticket.Impact     `json:"impact"`
	TimeToLoss ticket.TimeToLoss `json:"time_to_loss"`
	Causes     []Cause           `json:"causes"`
	Questions  []Question        `json:"questions"`
	Endings    []Ending          `json:"endings"`
}

// Cause is one possible cause, with its weight before any answer. Weights
// are the packs' judgement and never shown as numbers.
type Cause struct {
	Key    string `json:"key"`
	Weight int    `json:"weight"`
}

// Question is one thing to ask. Danger questions are about people and come
// before all others.
type Question struct {
	Key     string   `json:"key"`
	Kind    Kind     `json:"kind"`
	Danger  bool     `json:"danger"`
	Answers []Answer `json:"answers"`
}

// Answer leads to a question or an ending of the card (To), or to the card
// of another sign (Sign), and moves causes and urgency on the way. Of a
// number, an answer is the range below Below and from the one before; the
// last has none.
type Answer struct {
	Key        string            `json:"key"`
	Below      *float64          `json:"below,omitempty"`
	Moves      map[string]int    `json:"moves,omitempty"`
	Impact     ticket.Impact     `json:"impact,omitempty"`
	TimeToLoss ticket.TimeToLoss `json:"time_to_loss,omitempty"`
	To         string            `json:"to,omitempty"`
	Sign       string            `json:"sign,omitempty"`
}

// Ending is where a path ends. Says and Now tell whether the pack has words
// of advice, and words for what to do within the hour.
type Ending struct {
	Key      string   `json:"key"`
	Says     bool     `json:"-"`
	Now      bool     `json:"-"`
	Go       Going    `json:"go"`
	Tell     bool     `json:"tell" doc:"The veterinary service must be told within 24 hours."`
	Cautions []string `json:"cautions"`
}

// Question is the question with a key.
func (c Card) Question(key string) (Question, bool) {
	for _, q := range c.Questions {
		if q.Key == key {
			return q, true
		}
	}
	return Question{}, false
}

// Ending is the ending with a key.
func (c Card) Ending(key string) (Ending, bool) {
	for _, e := range c.Endings {
		if e.Key == key {
			return e, true
		}
	}
	return Ending{}, false
}
