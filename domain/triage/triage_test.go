package triage_test

import (
	"encoding/json"
	"fmt"
	"os"
	"slices"
	"strings"
	"testing"

	"tendfold/domain/ticket"
	"tendfold/domain/triage"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func below(v float64) *float64 { return new(v) }

// card is sound: a danger question, a number, and two endings.
func card() triage.Card {
	return triage.Card{
		Sign: "gasping", Version: 1, Impact: ticket.High, TimeToLoss: ticket.Hours,
		Causes: []triage.Cause{{Key: "air", Weight: 4}, {Key: "ammonia", Weight: 2}, {Key: "gills", Weight: 1}},
		Questions: []triage.Question{
			{Key: "shock", Kind: triage.YesNo, Danger: true, Answers: []triage.Answer{{Key: "yes", Sign: "electric-shock"}, {Key: "no", To: "many"}}},
			{Key: "many", Kind: triage.Number, Answers: []triage.Answer{
				{Key: "a", Below: below(5), To: "look", Impact: ticket.Low, TimeToLoss: ticket.Longer, Moves: map[string]int{"air": -4}},
				{Key: "b", Below: below(50), To: "air", Moves: map[string]int{"ammonia": 1}},
				{Key: "c", To: "air"},
				{Key: "unsure", To: "look"},
			}},
		},
		Endings: []triage.Ending{
			{Key: "air", Says: true, Now: true, Go: triage.GoToday, Cautions: []string{"electric-pump"}},
			{Key: "look", Says: true, Now: true, Go: triage.GoNext, Cautions: []string{"electric-pump"}},
		},
	}
}

// The cases are shared with the desk's own walk (web/src/roles/desk/call/card).
func TestAWalkMovesCausesAndUrgency(t *testing.T) {
	raw, err := os.ReadFile("testdata/walks.json")
	require.NoError(t, err)
	file := struct {
		Card  triage.Card
		Cases []struct {
			Name, Next, Ending, Sign, Suspects string
			Given                              []triage.Given
			Impact                             ticket.Impact
			TimeToLoss                         ticket.TimeToLoss `json:"time_to_loss"`
			Refused                            bool
		}
	}{}
	require.NoError(t, json.Unmarshal(raw, &file))
	require.NotEmpty(t, file.Cases)
	for _, c := range file.Cases {
		out, err := file.Card.Walk(c.Given)
		if c.Refused {
			require.Error(t, err, c.Name)
			continue
		}
		require.NoError(t, err, c.Name)
		var said []string
		for _, s := range out.Suspects {
			said = append(said, s.Cause+" "+string(s.Word))
		}
		require.Equal(t, []string{c.Next, c.Ending, c.Sign, c.Suspects}, []string{out.Next, out.Ending, out.Sign, strings.Join(said, ", ")}, c.Name)
		require.Equal(t, ticket.UrgencyOf(c.Impact, c.TimeToLoss), out.Urgency, c.Name)
	}
	danger := card()
	danger.Danger = true
	out, err := danger.Walk(nil)
	require.NoError(t, err)
	require.Equal(t, ticket.PersonInDanger, out.Urgency, "danger stands above the table")
	require.Empty(t, card().Check())
}

func TestCheckFindsWhatWouldLeaveACallerWithoutAnswer(t *testing.T) {
	for want, bend := range map[string]func(*triage.Card){
		"card: a card has causes, questions and endings":                                              func(c *triage.Card) { c.Endings = nil },
		"question shock: a yes-no question has yes and no":                                            func(c *triage.Card) { c.Questions[0].Answers = c.Questions[0].Answers[:1] },
		"question shock: people come before animals: begin with a danger question":                    func(c *triage.Card) { c.Questions[0].Danger = false },
		"ending look: has no advice":                                                                  func(c *triage.Card) { c.Endings[1].Says = false },
		"ending look: can be reached with hours left, so it must say what to do now":                  func(c *triage.Card) { c.Endings[1].Now = false },
		"ending air: can be reached with animals or people at risk, so it must name a caution":        func(c *triage.Card) { c.Endings[0].Cautions = nil },
		"ending more: no answer leads here":                                                           func(c *triage.Card) { c.Endings = append(c.Endings, triage.Ending{Key: "more", Says: true}) },
		"question more: no answer leads here":                                                         func(c *triage.Card) { c.Questions = append(c.Questions, again("more", "air")) },
		"answer many a: leads to \"nowhere\", which is neither a question nor an ending of this card": func(c *triage.Card) { c.Questions[1].Answers[0].To = "nowhere" },
		"answer many a: leads to one place: a question or an ending (to), or another card (sign)":     func(c *triage.Card) { c.Questions[1].Answers[0].To = "" },
		"answer many a: moves \"luck\", which is not a cause of this card":                            func(c *triage.Card) { c.Questions[1].Answers[0].Moves["luck"] = 1 },
		"question many: leads in a circle: many > many":                                               func(c *triage.Card) { c.Questions[1].Answers[0].To = "many" },
		"question many: the ranges of a number rise, and the open one comes last":                     func(c *triage.Card) { c.Questions[1].Answers[1].Below = below(5) },
		"question many: the last range of a number has no end (leave out below)":                      func(c *triage.Card) { c.Questions[1].Answers[2].Below = below(500) },
		"answer shock yes: the card of a danger ends in itself; it leads to no other card":            func(c *triage.Card) { c.Danger = true },
		"answer many a: people come before animals: \"late\" is a danger question and must be asked earlier": func(c *triage.Card) {
			c.Questions[1].Answers[0].To = "late"
			late := again("late", "look")
			late.Danger = true
			c.Questions = append(c.Questions, late)
		},
		"card: a path asks 14 questions; at most 10": func(c *triage.Card) {
			c.Questions[1].Answers[0].To = "q0"
			for i := range 12 {
				to := fmt.Sprintf("q%d", i+1)
				if i == 11 {
					to = "look"
				}
				c.Questions = append(c.Questions, again(fmt.Sprintf("q%d", i), to))
			}
		},
	} {
		c := card()
		bend(&c)
		var got []string
		for _, f := range c.Check() {
			got = append(got, f.At+": "+f.Reason)
		}
		require.Contains(t, got, want)
	}
}

func again(key, to string) triage.Question {
	return triage.Question{Key: key, Kind: triage.YesNo, Answers: []triage.Answer{{Key: "yes", To: to}, {Key: "no", To: to}}}
}

// Whatever graph is drawn, one that passes Check ends on every walk, asks of
// people first, and names an urgency of ours.
func TestWhatPassesCheckEnds(t *testing.T) {
	taken := 0
	rapid.Check(t, func(t *rapid.T) {
		c := drawn(t)
		if len(c.Check()) > 0 {
			return
		}
		taken++
		var given []triage.Given
		for step := 0; ; step++ {
			require.LessOrEqual(t, step, 10)
			out, err := c.Walk(given)
			require.NoError(t, err)
			require.NotEqual(t, -1, out.Urgency.Rank())
			require.True(t, slices.IsSortedFunc(out.Suspects, func(a, b triage.Suspect) int { return rank(a.Word) - rank(b.Word) }))
			if out.Next == "" {
				require.NotEmpty(t, out.Ending+out.Sign)
				return
			}
			q, _ := c.Question(out.Next)
			given = append(given, triage.Given{Question: q.Key, Answer: rapid.SampledFrom(q.Answers).Draw(t, "answer").Key})
		}
	})
	require.Positive(t, taken, "some of the drawn cards must be sound")
}

func rank(w triage.Word) int {
	return slices.Index([]triage.Word{triage.Likely, triage.Possible, triage.LessLikely}, w)
}

// drawn is a card that may well be wrong: any answer leads anywhere, though
// mostly onwards.
func drawn(t *rapid.T) triage.Card {
	n := rapid.IntRange(1, 5).Draw(t, "questions")
	c := triage.Card{Sign: "s", Version: 1, Impact: ticket.Low, TimeToLoss: ticket.Longer, Causes: []triage.Cause{{Key: "a", Weight: 2}, {Key: "b", Weight: 1}}}
	places := []string{"end"}
	for i := range n {
		places = append(places, fmt.Sprintf("q%d", i))
	}
	for i := range n {
		q := triage.Question{Key: fmt.Sprintf("q%d", i), Kind: triage.Choice, Danger: i == 0}
		for j := range 2 {
			a := triage.Answer{Key: fmt.Sprintf("a%d", j), To: "end", Moves: map[string]int{"a": rapid.IntRange(-3, 3).Draw(t, "moves")}}
			if onward := places[min(i+2, n):]; j == 0 && i+1 < n {
				a.To = rapid.SampledFrom(onward[:1]).Draw(t, "to")
			} else if rapid.IntRange(0, 5).Draw(t, "wild") == 0 {
				a.To = rapid.SampledFrom(places).Draw(t, "anywhere")
			}
			if rapid.Bool().Draw(t, "moves impact") {
				a.Impact = rapid.SampledFrom([]ticket.Impact{ticket.High, ticket.Middle, ticket.Low}).Draw(t, "impact")
			}
			q.Answers = append(q.Answers, a)
		}
		c.Questions = append(c.Questions, q)
	}
	c.Endings = []triage.Ending{{Key: "end", Says: true, Now: true, Go: triage.GoNot, Cautions: []string{"x"}}}
	return c
}
