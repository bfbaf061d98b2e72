package rehearsal

import (
	"testing"

	"github.com/stretchr/testify/require"

	"tendfold/domain/calendar"
)

// Remission of 21 patients on 6-mercaptopurine, the usual textbook example of
// the estimator (Freireich and others 1963, in Kleinbaum and Klein, Survival
// Analysis, chapter 2; from memory). + = censored.
func TestKaplanMeierAgainstTheTextbook(t *testing.T) {
	var spans []Span
	for _, week := range []float64{6, 6, 6, 7, 10, 13, 16, 22, 23} {
		spans = append(spans, Span{Time: week})
	}
	for _, week := range []float64{6, 9, 10, 11, 17, 19, 20, 25, 32, 32, 34, 35} {
		spans = append(spans, Span{Time: week, Censored: true})
	}
	for week, survival := range map[float64]float64{5: 1, 6: .8571, 7: .8067, 9: .8067, 10: .7529, 13: .6902, 16: .6275, 22: .5378, 23: .4482, 40: .4482} {
		require.InDelta(t, survival, 1-KaplanMeier(spans, week), 5e-5, "week %v", week)
	}
}

func TestKaplanMeierWithoutCensoringIsTheShare(t *testing.T) {
	spans := []Span{{Time: 1}, {Time: 2}, {Time: 2}, {Time: 5}}
	require.InDelta(t, .25, KaplanMeier(spans, 1), 1e-12)
	require.InDelta(t, .75, KaplanMeier(spans, 4.9), 1e-12)
	require.InDelta(t, 1, KaplanMeier(spans, 5), 1e-12)
	require.Zero(t, KaplanMeier(nil, 1))
}

func TestKeptPromises(t *testing.T) {
	day := calendar.MustDate("2024-01-01")
	promise := func(actual int, censored bool) Promise {
		return Promise{Made: true, From: day, P50: day.Add(100), P90: day.Add(120), Actual: day.Add(actual), Censored: censored}
	}
	p50, p90 := keptBy([]Promise{promise(90, false), promise(100, false), promise(101, false), promise(121, false)})
	require.InDelta(t, .5, p50, 1e-12, "on the day is kept")
	require.InDelta(t, .75, p90, 1e-12)
	// One that was watched to day 110 only: of the two at risk beyond, one is
	// kept, so the censored one counts half.
	p50, p90 = keptBy([]Promise{promise(90, false), promise(110, true), promise(115, false), promise(130, false)})
	require.InDelta(t, .25, p50, 1e-12)
	require.InDelta(t, 1-.75*.5, p90, 1e-12)
}
