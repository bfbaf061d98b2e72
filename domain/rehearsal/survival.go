package rehearsal

import "slices"

// Span is a time to something, or to the end of watching before it came.
type Span struct {
	Time     float64
	Censored bool
}

// KaplanMeier is the share that is over by time t, estimated with those
// censored before it kept while they were watched (Kaplan and Meier 1958):
// one less the product over event times of 1 - events/at risk. Whoever is
// censored at an event's time was at risk there.
func KaplanMeier(spans []Span, t float64) float64 {
	sorted := slices.Clone(spans)
	slices.SortFunc(sorted, func(a, b Span) int {
		switch {
		case a.Time < b.Time:
			return -1
		case a.Time > b.Time:
			return 1
		default:
			return 0
		}
	})
	alive := 1.0
	for i := 0; i < len(sorted) && sorted[i].Time <= t; {
		at, events, j := sorted[i].Time, 0, i
		for ; j < len(sorted) && sorted[j].Time == at; j++ {
			if !sorted[j].Censored {
				events++
			}
		}
		alive *= 1 - float64(events)/float64(len(sorted)-i)
		i = j
	}
	return 1 - alive
}

// keptBy is the share of promises that came true by their P50 and by their
// P90, censored ones included. Promises of different length are laid over each
// other by their own middle and width: P50 is 0, P90 is 1.
func keptBy(promises []Promise) (p50, p90 float64) {
	spans := make([]Span, 0, len(promises))
	for _, p := range promises {
		if width := p.P90.Sub(p.P50); width > 0 {
			spans = append(spans, Span{float64(p.Actual.Sub(p.P50)) / float64(width), p.Censored})
		}
	}
	return KaplanMeier(spans, 0), KaplanMeier(spans, 1)
}
