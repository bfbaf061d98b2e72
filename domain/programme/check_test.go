package programme

import (
	"errors"
	"math"
	"testing"
	"time"

	"tendfold/domain"

	"github.com/stretchr/testify/require"
)

// at changes one milestone of the house.
func at(key string, change func(*Milestone)) func(*Programme) {
	return func(p *Programme) {
		for i := range p.Milestones {
			if p.Milestones[i].Key == key {
				change(&p.Milestones[i])
			}
		}
	}
}

var wrongs = []struct {
	name   string
	change func(*Programme)
	key    string
	field  string
	code   string
}{
	{"a cycle", at("water", func(m *Milestone) { m.After = []string{"ready"} }), "water", "after", "cycle"},
	{"waits for itself", at("ready", func(m *Milestone) { m.After = []string{"ready"} }), "ready", "after", "cycle"},
	{"an unknown name", at("ready", func(m *Milestone) { m.After = []string{"redy"} }), "ready", "after", "unknown"},
	{"min over likely", at("ready", func(m *Milestone) { m.Days = Days{9, 3, 10} }), "ready", "days", "order"},
	{"likely over max", at("ready", func(m *Milestone) { m.Days = Days{1, 30, 10} }), "ready", "days", "order"},
	{"negative", at("ready", func(m *Milestone) { m.Days = Days{-1, 3, 10} }), "ready", "days", "range"},
	{"not a number", at("ready", func(m *Milestone) { m.Days.Likely = math.NaN() }), "ready", "days", "range"},
	{"without end", at("ready", func(m *Milestone) { m.Days.Max = math.Inf(1) }), "ready", "days", "range"},
	{"unreachable", at("trained", func(m *Milestone) { m.After = nil }), "trained", "after", "unreachable"},
	{"unknown kind", at("ready", func(m *Milestone) { m.Kind = "wrk" }), "ready", "kind", "unknown"},
	{"unknown purpose", at("ready", func(m *Milestone) { m.Purposes = []Purpose{"fun"} }), "ready", "purposes", "unknown"},
	{"a key twice", at("ready", func(m *Milestone) { m.Key = "stocked" }), "stocked", "key", "twice"},
	{"no key", at("two-week", func(m *Milestone) { m.Key = "" }), "", "key", "missing"},
	{"no such start", func(p *Programme) { p.Start = "sown" }, "", "start", "unknown"},
	{"no such harvest", func(p *Programme) { p.Harvest = "" }, "", "harvest", "unknown"},
	{"stocking before the start", func(p *Programme) { p.Stocking = "built" }, "built", "after", "unreachable"},
	{"harvest before stocking", func(p *Programme) { p.Harvest = "covered" }, "covered", "after", "unreachable"},
	{"no purpose left", at("harvest", func(m *Milestone) { m.Purposes = []Purpose{"none"} }), "", "purposes", "missing"},
	{"pi", func(p *Programme) { p.Pi = 1 }, "", "pi", "range"},
	{"lag", func(p *Programme) { p.LagDays = -1 }, "", "lag_days", "range"},
	{"a limit", func(p *Programme) { p.Limits.Behind = math.NaN() }, "", "behind", "range"},
	{"quiet days", at("ready", func(m *Milestone) { m.QuietDays = -1 }), "ready", "quiet_days", "range"},
	{"a curve on work", at("covered", func(m *Milestone) { m.Kind = Work }), "covered", "curve", "kind"},
	{"an unknown reading", at("covered", func(m *Milestone) { c := *m.Curve; c.Reading = "height"; m.Curve = &c }), "covered", "curve", "unknown"},
	{"a curve that falls", at("covered", func(m *Milestone) { c := *m.Curve; c.To = 1; m.Curve = &c }), "covered", "curve", "order"},
	{"points that turn back", at("covered", func(m *Milestone) {
		c := *m.Curve
		c.Shape = []Point{{0, 0}, {0.5, 0.9}, {0.4, 1}, {1, 1}}
		m.Curve = &c
	}), "covered", "curve", "order"},
	{"points that stop short", at("covered", func(m *Milestone) { c := *m.Curve; c.Shape = []Point{{0, 0}, {0.5, 1}}; m.Curve = &c }), "covered", "curve", "order"},
	{"a scale that errs more than the reading", at("covered", func(m *Milestone) { c := *m.Curve; c.ScaleCV = c.CV + 0.01; m.Curve = &c }), "covered", "curve", "range"},
	{"a pace carried on for certain", at("covered", func(m *Milestone) { c := *m.Curve; c.Carry = 1; m.Curve = &c }), "covered", "curve", "range"},
	{"a reading without error", at("covered", func(m *Milestone) { c := *m.Curve; c.SD, c.CV = 0, 0; m.Curve = &c }), "covered", "curve", "range"},
}

func TestCheckNamesWhatIsWrong(t *testing.T) {
	require.Empty(t, Check(house()))
	for _, w := range wrongs {
		t.Run(w.name, func(t *testing.T) {
			p := house()
			w.change(&p)
			found := Check(p)
			require.Condition(t, func() bool {
				for _, f := range found {
					if f.Key == w.key && f.Field == w.field && f.Code == w.code && f.Reason != "" {
						return true
					}
				}
				return false
			}, "%+v", found)
			_, err := Compile(p, GrowOut, Season{})
			require.Equal(t, domain.KindInvalid, domain.KindOf(err))
			require.Equal(t, "programme-wrong", domain.CodeOf(err))
		})
	}
}

func TestCheckTellsTheRing(t *testing.T) {
	p := house()
	at("water", func(m *Milestone) { m.After = []string{"trained"} })(&p)
	require.Equal(t, []Problem{{"water", "after", "cycle", "these wait for each other: water -> planted -> trained -> water"}}, Check(p))
}

func TestSeasonIsChecked(t *testing.T) {
	year := []time.Month{1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12}
	for _, w := range []struct {
		name   string
		season Season
		key    string
		code   string
	}{
		{"all twelve months", Season{NotIn: map[string][]time.Month{"stocked": year}}, "stocked", "blocked"},
		{"a month that is none", Season{NotIn: map[string][]time.Month{"stocked": {13}}}, "stocked", "range"},
		{"an unknown milestone", Season{NotIn: map[string][]time.Month{"stoked": {1}}}, "stoked", "unknown"},
		{"a negative rate", Season{Rate: [12]float64{-1, 1}}, "", "range"},
		{"a rate that is no number", Season{Rate: [12]float64{math.NaN()}}, "", "range"},
	} {
		t.Run(w.name, func(t *testing.T) {
			found := CheckSeason(house(), w.season)
			require.Len(t, found, 1)
			require.Equal(t, w.key, found[0].Key)
			require.Equal(t, w.code, found[0].Code)
			_, err := Compile(house(), GrowOut, w.season)
			var e *domain.Error
			require.True(t, errors.As(err, &e))
			require.Len(t, e.Fields, 1)
		})
	}
	require.Empty(t, CheckSeason(house(), wet()))
	require.Empty(t, CheckSeason(house(), Season{NotIn: map[string][]time.Month{"hatch": {1}}}), "a name of the other purpose is no fault")
}

func TestPurposesOffered(t *testing.T) {
	p := house()
	at("harvest", func(m *Milestone) { m.Purposes = []Purpose{GrowOut} })(&p)
	require.True(t, p.Offers(GrowOut))
	require.False(t, p.Offers(Breeding))
	require.Empty(t, Check(p))
	_, err := Compile(p, Breeding, Season{})
	require.Equal(t, "purpose-not-offered", domain.CodeOf(err))
}
