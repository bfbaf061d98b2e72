package training

import (
	"math"
	"slices"
)

// Answer is what somebody answered to one question: an option, an order, or a
// number. The zero Answer is none, which is wrong.
type Answer struct {
	Choice string   `json:"choice,omitempty"`
	Order  []string `json:"order,omitempty"`
	Number *float64 `json:"number,omitempty"`
}

// Marks is what came of a round of questions.
type Marks struct {
	Asked  int      `json:"asked"`
	Right  int      `json:"right"`
	Wrong  []string `json:"wrong"`  // keys, in the order asked
	Safety []string `json:"safety"` // the safety questions among them
	Passed bool     `json:"passed"`
}

// passPercent is the share that must be right. Our choice, with every safety
// question right beside it.
const passPercent = 80

// Mark marks the answers, by question, to the draw of a seed. Answers to what
// was not asked count for nothing.
func (b Bank) Mark(seed uint32, answers map[string]Answer) Marks {
	m := Marks{Wrong: []string{}, Safety: []string{}}
	for _, asked := range b.Ask(seed) {
		q := b.question(asked.Question)
		m.Asked++
		switch {
		case q.Holds(answers[q.Key]):
			m.Right++
			continue
		case q.Safety:
			m.Safety = append(m.Safety, q.Key)
		}
		m.Wrong = append(m.Wrong, q.Key)
	}
	m.Passed = m.Asked > 0 && m.Right*100 >= m.Asked*passPercent && len(m.Safety) == 0
	return m
}

func (b Bank) question(key string) Question {
	i := slices.IndexFunc(b.Questions, func(q Question) bool { return q.Key == key })
	return b.Questions[i] // a draw names questions of its own bank
}

// rounding lets 0.1 + 0.2 count as 0.3.
const rounding = 1e-9

// Holds says whether an answer is right.
func (q Question) Holds(a Answer) bool {
	switch q.Kind {
	case Order:
		return slices.Equal(a.Order, q.Options)
	case Sum:
		return a.Number != nil && math.Abs(*a.Number-q.Answer) <= q.Tolerance+rounding
	case One, Picture:
		return a.Choice != "" && a.Choice == q.Right
	}
	return false
}
