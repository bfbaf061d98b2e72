package triage

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"tendfold/domain"
	"tendfold/domain/ticket"
)

// Given is one answer that was given. Number holds for a number's question
// unless the answer is Unsure; Answer may then be left empty.
type Given struct {
	Question string  `json:"question"`
	Answer   string  `json:"answer"`
	Number   float64 `json:"number"`
}

// Word says how likely a cause is. It is a word on purpose: the weights are
// judgements, so a percentage would claim what nobody knows.
type Word string

// The words, strongest first.
const (
	Likely     Word = "likely"
	Possible   Word = "possible"
	LessLikely Word = "less-likely"
)

// Suspect is a cause with how likely it is after the answers.
type Suspect struct {
	Cause string `json:"cause"`
	Word  Word   `json:"word"`
}

// Outcome is where the answers have led: a question that is still to be
// asked (Next), an ending (Ending), or the card of another sign (Sign).
type Outcome struct {
	Next       string            `json:"next"`
	Ending     string            `json:"ending"`
	Sign       string            `json:"sign"`
	Suspects   []Suspect         `json:"suspects"`
	Impact     ticket.Impact     `json:"impact"`
	TimeToLoss ticket.TimeToLoss `json:"time_to_loss"`
	Danger     bool              `json:"danger"`
	Urgency    ticket.Urgency    `json:"urgency"`
}

// Walk follows the answers through a card that has passed Check. An answer
// to a question that is not the next one, or that the question does not
// have, is an error.
func (c Card) Walk(given []Given) (Outcome, error) {
	at, scores := "", map[string]int{}
	if len(c.Questions) > 0 {
		at = c.Questions[0].Key
	}
	for _, cause := range c.Causes {
		scores[cause.Key] = cause.Weight
	}
	out := Outcome{Impact: c.Impact, TimeToLoss: c.TimeToLoss, Danger: c.Danger}
	for _, g := range given {
		q, ok := c.Question(at)
		if !ok || q.Key != g.Question || out.Sign != "" {
			return Outcome{}, wrongStep(g)
		}
		a, ok := q.pick(g)
		if !ok {
			return Outcome{}, wrongStep(g)
		}
		for cause, by := range a.Moves {
			scores[cause] += by
		}
		out.Impact, out.TimeToLoss = cmp.Or(a.Impact, out.Impact), cmp.Or(a.TimeToLoss, out.TimeToLoss)
		at, out.Sign = a.To, a.Sign
	}
	if _, ends := c.Ending(at); ends {
		out.Ending = at
	} else {
		out.Next = at
	}
	out.Suspects = c.suspects(scores)
	if out.Urgency = ticket.UrgencyOf(out.Impact, out.TimeToLoss); out.Danger {
		out.Urgency = ticket.PersonInDanger
	}
	return out, nil
}

func wrongStep(g Given) error {
	return domain.Invalid("triage-answer", "These answers do not follow the card. Open the card again and answer from the start.",
		domain.Field{Path: "answers", Code: "order", Text: fmt.Sprintf("%q cannot be answered by %q here.", g.Question, g.Answer)})
}

// pick is the answer that was given; false when the question has none such.
func (q Question) pick(g Given) (Answer, bool) {
	if q.Kind == Number && g.Answer != Unsure {
		return q.inRange(g.Number)
	}
	i := slices.IndexFunc(q.Answers, func(a Answer) bool { return a.Key == g.Answer })
	if i < 0 {
		return Answer{}, false
	}
	return q.Answers[i], true
}

func (q Question) inRange(v float64) (Answer, bool) {
	if math.IsNaN(v) || math.IsInf(v, 0) || v < 0 {
		return Answer{}, false
	}
	for _, a := range q.Answers {
		if a.Key != Unsure && (a.Below == nil || v < *a.Below) {
			return a, true
		}
	}
	return Answer{}, false
}

// suspects puts the scores into words, the likeliest first and the card's
// order among equals: likely from three quarters of the highest score,
// possible from half of it, less likely above nothing (our choice).
func (c Card) suspects(scores map[string]int) []Suspect {
	top := 0
	for _, s := range scores {
		top = max(top, s)
	}
	causes := slices.Clone(c.Causes)
	slices.SortStableFunc(causes, func(a, b Cause) int { return scores[b.Key] - scores[a.Key] })
	out := []Suspect{}
	for _, cause := range causes {
		switch s := scores[cause.Key]; {
		case s <= 0:
		case 4*s >= 3*top:
			out = append(out, Suspect{cause.Key, Likely})
		case 2*s >= top:
			out = append(out, Suspect{cause.Key, Possible})
		default:
			out = append(out, Suspect{cause.Key, LessLikely})
		}
	}
	return out
}
