package app

import (
	"slices"
	"time"
)

// ServedTicket is a ticket with the instants of its service.
type ServedTicket struct {
	OpenedAt    time.Time
	FirstWordBy time.Time
	FirstWordAt time.Time
	SettledAt   time.Time
	FromCall    bool
	Reopened    bool
}

// Service is how the tickets that were opened in the days were served.
type Service struct {
	Calls        int `json:"calls" doc:"Tickets that a call opened."`
	FirstCall    int `json:"first_call" doc:"Of these, settled within half an hour and not reopened since: on the first call."`
	Spoken       int `json:"spoken" doc:"Tickets that had a first word, those of calls apart: there it is the call itself."`
	InTime       int `json:"in_time" doc:"Of these, by the time that was due."`
	MedianMin    int `json:"median_minutes" doc:"From opening to the first word, half of them sooner."`
	NinthMin     int `json:"ninth_minutes" doc:"Nine in ten of them sooner."`
	Stale        int `json:"stale" doc:"Open now, waiting for nobody, and untouched for 24 hours; under 5 on any day is good (ISA-18.2)."`
	StaleAtMost  int `json:"stale_at_most"`
	KeptReopened int `json:"reopened" doc:"Tickets that were settled and came up again."`
}

// firstCall is how long a call may last: what is settled within is settled on
// it (our choice).
const firstCall = 30 * time.Minute

// staleLine is how many stale tickets may stand on any day (ISA-18.2 on stale
// alarms: under 5).
const staleLine = 5

// serviceOf works the figures out.
func serviceOf(list []ServedTicket) Service {
	s := Service{StaleAtMost: staleLine - 1}
	var waits []time.Duration
	for _, t := range list {
		if t.Reopened {
			s.KeptReopened++
		}
		if t.FromCall {
			s.Calls++
			if !t.SettledAt.IsZero() && !t.Reopened && t.SettledAt.Sub(t.OpenedAt) <= firstCall {
				s.FirstCall++
			}
			continue
		}
		if t.FirstWordAt.IsZero() {
			continue
		}
		s.Spoken++
		if !t.FirstWordAt.After(t.FirstWordBy) {
			s.InTime++
		}
		waits = append(waits, t.FirstWordAt.Sub(t.OpenedAt))
	}
	slices.Sort(waits)
	s.MedianMin, s.NinthMin = quantile(waits, 0.5), quantile(waits, 0.9)
	return s
}

// quantile is the nearest-rank quantile of sorted spans, in whole minutes.
func quantile(sorted []time.Duration, q float64) int {
	if len(sorted) == 0 {
		return 0
	}
	rank := int(q*float64(len(sorted)) + 0.999999)
	return int(sorted[min(max(rank, 1), len(sorted))-1] / time.Minute)
}

// AdvisorLoad is what one person has in hand now, and settled in the days.
type AdvisorLoad struct {
	PersonID string `json:"person_id"`
	Name     string `json:"name"`
	InHand   int    `json:"in_hand"`
	Waiting  int    `json:"waiting" doc:"Of those in hand."`
	Overdue  int    `json:"overdue"`
	Settled  int    `json:"settled"`
}
