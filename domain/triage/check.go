package triage

import (
	"fmt"
	"slices"
	"strings"

	"tendfold/domain/ticket"
)

// Fault is one thing wrong with a card. At names where: "card",
// "question KEY", "answer KEY ANSWER" or "ending KEY".
type Fault struct{ At, Reason string }

// mostSteps is how many questions a path may have: more cannot be asked while
// somebody waits with animals dying (our choice).
const mostSteps = 10

// Check proves what the desk relies on: every answer leads somewhere that is
// there, every path ends after a few questions, nothing is unreachable,
// people come before animals, and every ending has advice, what to do now
// where hours count, and a caution where harm can follow. None is a card
// that Walk may follow.
func (c Card) Check() []Fault {
	k := &checker{card: c}
	k.shape()
	if len(k.faults) > 0 { // paths through a broken graph say nothing
		return k.faults
	}
	if k.circles() {
		return k.faults
	}
	k.people()
	k.paths()
	k.endings()
	return k.faults
}

type checker struct {
	card   Card
	faults []Fault
	seen   map[state]bool
}

func (k *checker) fault(at, format string, args ...any) {
	k.faults = append(k.faults, Fault{at, fmt.Sprintf(format, args...)})
}

// shape looks at each question and each answer for itself.
func (k *checker) shape() {
	c := k.card
	if len(c.Questions) == 0 || len(c.Endings) == 0 || len(c.Causes) == 0 {
		k.fault("card", "a card has causes, questions and endings")
		return
	}
	for _, q := range c.Questions {
		if _, ends := c.Ending(q.Key); ends {
			k.fault("question "+q.Key, "an ending has the same key")
		}
		k.answers(q)
	}
}

func (k *checker) answers(q Question) {
	at := "question " + q.Key
	keys := make([]string, len(q.Answers))
	for i, a := range q.Answers {
		keys[i] = a.Key
		k.answer(q, a)
	}
	switch q.Kind {
	case YesNo:
		if !slices.Contains(keys, Yes) || !slices.Contains(keys, No) {
			k.fault(at, "a yes-no question has yes and no")
		}
	case Number:
		k.ranges(q)
	default:
		if len(keys) < 2 || len(keys) > 6 {
			k.fault(at, "has %d choices; 2 to 6 can be read aloud", len(keys))
		}
	}
}

func (k *checker) answer(q Question, a Answer) {
	at := "answer " + q.Key + " " + a.Key
	_, asks := k.card.Question(a.To)
	_, ends := k.card.Ending(a.To)
	switch {
	case a.Sign == "" && a.To == "" || a.Sign != "" && a.To != "":
		k.fault(at, "leads to one place: a question or an ending (to), or another card (sign)")
	case a.Sign != "" && k.card.Danger:
		k.fault(at, "the card of a danger ends in itself; it leads to no other card")
	case a.To != "" && !asks && !ends:
		k.fault(at, "leads to %q, which is neither a question nor an ending of this card", a.To)
	}
	for cause := range a.Moves {
		if !slices.ContainsFunc(k.card.Causes, func(c Cause) bool { return c.Key == cause }) {
			k.fault(at, "moves %q, which is not a cause of this card", cause)
		}
	}
}

// ranges wants rising bounds and one open end.
func (k *checker) ranges(q Question) {
	at, last, open := "question "+q.Key, 0.0, 0
	for _, a := range q.Answers {
		switch {
		case a.Key == Unsure:
		case a.Below == nil:
			open++
		case open > 0 || *a.Below <= last:
			k.fault(at, "the ranges of a number rise, and the open one comes last")
			return
		default:
			last = *a.Below
		}
	}
	if open != 1 {
		k.fault(at, "the last range of a number has no end (leave out below)")
	}
}

// circles finds a question that leads back to itself.
func (k *checker) circles() bool {
	const under, done = 1, 2
	colour := map[string]int{}
	var circle []string
	var visit func(key string) bool
	visit = func(key string) bool {
		q, ok := k.card.Question(key)
		if !ok || colour[key] == done {
			return false
		}
		circle = append(circle, key)
		if colour[key] == under {
			return true
		}
		colour[key] = under
		for _, a := range q.Answers {
			if visit(a.To) {
				return true
			}
		}
		colour[key], circle = done, circle[:len(circle)-1]
		return false
	}
	for _, q := range k.card.Questions {
		if visit(q.Key) {
			again := circle[len(circle)-1]
			circle = circle[slices.Index(circle, again):]
			k.fault("question "+again, "leads in a circle: %s", strings.Join(circle, " > "))
			return true
		}
	}
	return false
}

// people wants the danger questions before all others: a card about animals
// begins with one, and none comes after a question about animals.
func (k *checker) people() {
	first := k.card.Questions[0]
	if !k.card.Danger && !first.Danger {
		k.fault("question "+first.Key, "people come before animals: begin with a danger question")
	}
	for _, q := range k.card.Questions {
		for _, a := range q.Answers {
			if to, ok := k.card.Question(a.To); ok && to.Danger && !q.Danger {
				k.fault("answer "+q.Key+" "+a.Key, "people come before animals: %q is a danger question and must be asked earlier", to.Key)
			}
		}
	}
}

// state is a place in the graph with the urgency that leads there.
type state struct {
	at     string
	impact ticket.Impact
	loss   ticket.TimeToLoss
}

// paths follows every path with the urgency that it brings along.
func (k *checker) paths() {
	k.seen = map[state]bool{}
	k.follow(state{k.card.Questions[0].Key, k.card.Impact, k.card.TimeToLoss})
	if n := k.longest(k.card.Questions[0].Key, map[string]int{}); n > mostSteps {
		k.fault("card", "a path asks %d questions; at most %d", n, mostSteps)
	}
	reached := map[string]bool{}
	for s := range k.seen {
		reached[s.at] = true
	}
	for _, q := range k.card.Questions {
		if !reached[q.Key] {
			k.fault("question "+q.Key, "no answer leads here")
		}
	}
	for _, e := range k.card.Endings {
		if !reached[e.Key] {
			k.fault("ending "+e.Key, "no answer leads here")
		}
	}
}

func (k *checker) follow(s state) {
	if s.at == "" || k.seen[s] {
		return
	}
	k.seen[s] = true
	q, _ := k.card.Question(s.at)
	for _, a := range q.Answers {
		next := state{a.To, s.impact, s.loss}
		if a.Impact != "" {
			next.impact = a.Impact
		}
		if a.TimeToLoss != "" {
			next.loss = a.TimeToLoss
		}
		k.follow(next)
	}
}

func (k *checker) longest(key string, known map[string]int) int {
	q, ok := k.card.Question(key)
	if !ok {
		return 0
	}
	if n, done := known[key]; done {
		return n
	}
	most := 0
	for _, a := range q.Answers {
		most = max(most, k.longest(a.To, known))
	}
	known[key] = most + 1
	return most + 1
}

func (k *checker) endings() {
	for _, e := range k.card.Endings {
		at := "ending " + e.Key
		hurts, hurries := e.Tell || k.card.Danger, k.card.Danger
		for s := range k.seen {
			if s.at == e.Key {
				hurries = hurries || s.loss == ticket.Hours
				hurts = hurts || ticket.UrgencyOf(s.impact, s.loss) == ticket.AnimalsAtRisk
			}
		}
		if !e.Says {
			k.fault(at, "has no advice")
		}
		if hurries && !e.Now {
			k.fault(at, "can be reached with hours left, so it must say what to do now")
		}
		if hurts && len(e.Cautions) == 0 {
			k.fault(at, "can be reached with animals or people at risk, so it must name a caution")
		}
	}
}
