package checklists

import (
	"fmt"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"tendfold/domain/ticket"
	"tendfold/domain/triage"

	"github.com/stretchr/testify/require"
)

const huddling = "triage/huddling.yaml"

func TestATriageCardIsRead(t *testing.T) {
	set := NewSet()
	require.NoError(t, set.Add(duck(t)))
	p, _ := set.Pack("duck")
	c, ok := p.TriageCard("huddling")
	require.True(t, ok)
	require.Equal(t, "Is anybody burnt?", c.Questions[0].Say.EN, "people come first")
	require.Equal(t, []triage.Answer{{Key: "yes", Sign: "burn"}, {Key: "no", To: "lamp"}}, c.Graph().Questions[0].Answers)

	out, err := c.Graph().Walk([]triage.Given{{Question: "burnt", Answer: "no"}, {Question: "lamp", Answer: "yes"}, {Question: "dead", Number: 2}, {Question: "seen", Answer: "wet"}})
	require.NoError(t, err)
	require.Equal(t, triage.Outcome{
		Ending: "dry", Impact: ticket.Low, TimeToLoss: ticket.Week, Urgency: ticket.Routine,
		Suspects: []triage.Suspect{{Cause: "fright", Word: triage.Likely}, {Cause: "cold", Word: triage.LessLikely}},
	}, out)
	ending, _ := c.Ending("warm")
	require.True(t, ending.Tell)
	require.Equal(t, []string{"people-first"}, ending.Cautions, "an ending without its own has the caution of the sign")
}

func TestASignMayHaveNoCard(t *testing.T) {
	files := duck(t)
	delete(files, huddling)
	set := NewSet()
	require.NoError(t, set.Add(files))
	p, _ := set.Pack("duck")
	_, ok := p.TriageCard("huddling")
	require.False(t, ok)
}

// Every row bends one line of a sound card; the answer must name that line.
func TestBrokenTriageCardsAreRefused(t *testing.T) {
	for _, c := range []struct{ name, sound, broken, want string }{
		{"of another sign", "sign: huddling", "sign: burn", `:1:7: sign: is "burn", but the file is that of "huddling"`},
		{"unknown key", "version: 1", "version: 1\ncolour: red", `:3:1: colour: is not a key that is read here`},
		{"no such danger question", "dangers: [burnt]", "dangers: [drowned]", `:3:11: dangers 1: there is no danger question "drowned" in this pack (it has burnt)`},
		{"animals before people", "dangers: [burnt]", "dangers: []", `:8:10: key: people come before animals: begin with a danger question`},
		{"leads nowhere", "no: {to: warm, moves: {cold: 2}}", "no: {to: wram, moves: {cold: 2}}", `:12:10: no: leads to "wram", which is neither a question nor an ending of this card`},
		{"leads in a circle", "{below: 3, to: seen,", "{below: 3, to: lamp,", `:8:10: key: leads in a circle: lamp > dead > lamp`},
		{"unreachable", "to: dry}\nendings", "to: warm}\nendings", ``},
		{"no ending is reached", "{key: wet, text: {en: Wet straw, fr: Paille mouillée}, to: dry}", "{key: wet, text: {en: Wet straw, fr: Paille mouillée}, to: warm}", ``},
		{"hours without a first step", "    now: {en: Warm the brooder., fr: Chauffez l'éleveuse.}\n", "", `:28:10: key: can be reached with hours left, so it must say what to do now`},
		{"no such cause", "moves: {cold: 2}", "moves: {colt: 2}", `:12:10: no: moves "colt", which is not a cause of this card`},
		{"weight too heavy", "weight: 3", "weight: 30", `weight: 30 is out of range; it must lie between 0 and 9`},
		{"falling ranges", "- {to: warm}\n", "- {below: 2, to: warm}\n", `:14:10: key: the ranges of a number rise, and the open one comes last`},
		{"no end to a number", "      - {to: warm}\n", "", `:14:10: key: the last range of a number has no end (leave out below)`},
		{"yes in a choice", "    choices:", "    yes: {to: dry}\n    choices:", `yes: has no place in a question of this kind`},
		{"no danger", "no: {to: warm, moves: {cold: 2}}", "no: {sign: huddling}", `sign: "huddling" is no danger to people; a card leads only to the card of a danger`},
		{"no such caution", "    tell: true\n", "    cautions: [ducks]\n", `there is no caution "ducks" in this pack (it has people-first)`},
		{"no grade", "    go: next-visit\n    grade: from-memory\n", "    go: next-visit\n", `"grade" is missing`},
		{"French is missing", "{en: Change the straw., fr: Changez la paille.}", "{en: Change the straw.}", `advice: "fr" is missing`},
	} {
		t.Run(c.name, func(t *testing.T) {
			got := strings.Join(lines(Check(bent(t, huddling, c.sound, c.broken))), "\n")
			if c.want == "" { // still a sound card: the other answers lead there
				require.Empty(t, got)
				return
			}
			require.Contains(t, got, c.want)
			require.Contains(t, got, huddling+":")
		})
	}
	files := duck(t)
	files["triage/quacking.yaml"] = &fstest.MapFile{Data: []byte("sign: quacking")}
	require.Contains(t, lines(Check(files)), "triage/quacking.yaml:1:1: there is no sign of this name in triage.yaml")
}

// Whatever a card's file holds, reading it ends in a card whose every walk
// ends, or in problems that name a file and a place.
func FuzzTriageCard(f *testing.F) {
	whole := duck(f)
	f.Add(whole[huddling].Data)
	for _, src := range odd {
		f.Add([]byte(src))
	}
	f.Fuzz(func(t *testing.T, src []byte) {
		set := checked(t, whole, huddling, src)
		if set == nil {
			return
		}
		p, _ := set.Pack("duck")
		c, _ := p.TriageCard("huddling")
		walkAll(t, c.Graph(), nil, 0)
	})
}

// walkAll gives every answer to every question and wants each path to end.
func walkAll(t testing.TB, g triage.Card, given []triage.Given, depth int) {
	require.LessOrEqual(t, depth, 10, "%v", given)
	out, err := g.Walk(given)
	require.NoError(t, err)
	require.NotEmpty(t, out.Urgency)
	if out.Ending != "" || out.Sign != "" {
		return
	}
	q, ok := g.Question(out.Next)
	require.True(t, ok)
	for _, a := range q.Answers {
		next := triage.Given{Question: q.Key, Answer: a.Key}
		if q.Kind == triage.Number && a.Key != triage.Unsure {
			next.Answer, next.Number = "", 1e6
			if a.Below != nil {
				next.Number = *a.Below - 1e-9
			}
		}
		walkAll(t, g, append(slices.Clip(given), next), depth+1)
	}
}

// The cards that ship: every sign has one, and every walk of it ends.
func TestEveryShippedSignHasACardWhoseWalksEnd(t *testing.T) {
	for _, enterprise := range embedded(t).Enterprises() {
		p := pack(t, enterprise)
		for _, sign := range p.Signs {
			c, ok := p.TriageCard(sign.Key)
			require.True(t, ok, "%s/%s", enterprise, sign.Key)
			walkAll(t, c.Graph(), nil, 0)
			require.True(t, c.Questions[0].Danger, "%s/%s", enterprise, sign.Key)
		}
	}
}

// dangerous are words after which an ending must name one of these cautions
// (the product's cautions), in English and in French.
var dangerous = []struct {
	words    string
	cautions []string
}{
	{`\b(pump|pompe|aerator|aérateur|electric\w*|électri\w*)\b`, []string{"electric-pump"}},
	{`\b(generator|groupe électrogène)\b`, []string{"generator-fumes"}},
	{`\b(lime|chaux)\b`, []string{"lime", "no-chemicals"}},
	{`\b(traps?|pièges?)\b`, []string{"rat-poison"}},
	{`\b(ladder|roof|échelle|toit)\b`, []string{"roofs-and-roads"}},
	{`\b(medicine|médicament|remède)s?\b`, []string{"medicines", "people-first"}},
	{`\b(veterinary service|service vétérinaire)\b`, []string{"notifiable", "disease"}},
	{`\b(neither sold|none is sold|n'en vend|sold, eaten)\b`, []string{"dead-stock"}},
	{`\b(climbs into|climb in|descend dans|n'entre seul)\b`, []string{"tanks-and-wells"}},
}

func TestShippedEndingsNameTheCautionsThatTheirWordsCallFor(t *testing.T) {
	var lacking []string
	for _, enterprise := range embedded(t).Enterprises() {
		p := pack(t, enterprise)
		for _, c := range p.Cards {
			for _, e := range c.Endings {
				said := e.Advice.EN + " " + e.Advice.FR
				if e.Now != nil {
					said += " " + e.Now.EN + " " + e.Now.FR
				}
				for _, d := range dangerous {
					if !regexp.MustCompile(`(?i)` + d.words).MatchString(said) {
						continue
					}
					if !slices.ContainsFunc(d.cautions, func(k string) bool { return slices.Contains(e.Cautions, k) }) {
						lacking = append(lacking, fmt.Sprintf("%s/%s %s: %s wants one of %v", enterprise, c.Sign, e.Key, d.words, d.cautions))
					}
				}
				if e.Tell {
					require.Contains(t, e.Cautions, "notifiable", "%s/%s %s", enterprise, c.Sign, e.Key)
				}
			}
		}
	}
	slices.Sort(lacking)
	require.Empty(t, strings.Join(lacking, "\n"))
}

// No card names a medicine or a dose: that is a veterinarian's word alone.
var doses = regexp.MustCompile(`(?i)\b(mg ?/ ?kg|ppm|ml ?/|g ?/ ?l\b|tetracycline|oxytetra|formalin|formol|malachite|antibioti|penicil|metronid|chloramph|permangan|copper|cuivre|iodine|iode|ivermect|praziqu)`)

func TestNoShippedCardNamesAMedicineOrADose(t *testing.T) {
	for _, enterprise := range embedded(t).Enterprises() {
		for _, c := range pack(t, enterprise).Cards {
			texts(reflect.ValueOf(*c), c.Sign, func(at string, x Text) {
				require.NotRegexp(t, doses, x.EN, at)
				require.NotRegexp(t, doses, x.FR, at)
			})
		}
	}
}

// What is asked aloud is a question, and one breath long.
func TestShippedQuestionsAreQuestions(t *testing.T) {
	for _, enterprise := range embedded(t).Enterprises() {
		for _, c := range pack(t, enterprise).Cards {
			for _, q := range c.Questions {
				require.Contains(t, q.Say.EN, "?", "%s %s", c.Sign, q.Key)
				require.Contains(t, q.Say.FR, "?", "%s %s", c.Sign, q.Key)
				require.LessOrEqual(t, len(strings.Fields(q.Say.FR)), 40, "%s %s", c.Sign, q.Key)
			}
		}
	}
}
