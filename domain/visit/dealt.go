package visit

import (
	"slices"

	"tendfold/domain/calendar"
)

// Dealt is a reason that a visit dealt with: its key and its size as they
// stood on the day of the visit.
type Dealt struct {
	Key  string        `json:"key"`
	On   calendar.Date `json:"on"`
	Size int           `json:"size"`
}

// Discount takes away what visits have dealt with, until it is newer than the
// visit: it arose afterwards, or has grown by the pack's days. A ticket with a
// person in danger stays until somebody settles it.
func (n Need) Discount(dealt []Dealt, w Weights) Need {
	over := func(s Scored) bool {
		return s.Reason.Code != PersonInDanger && slices.ContainsFunc(dealt, func(d Dealt) bool {
			return d.Key == s.Key && s.Since <= d.On && d.On <= n.On && (s.Size == 0 || s.Size < d.Size+max(1, w.WorseDays))
		})
	}
	n.MustGo = slices.DeleteFunc(slices.Clone(n.MustGo), over)
	n.Reasons = slices.DeleteFunc(slices.Clone(n.Reasons), over)
	return n.counted()
}

// DealtWith is what a visit on a day writes down for the keys that the officer
// ticked; a key that is no reason of the need is left out.
func (n Need) DealtWith(keys []string, on calendar.Date) []Dealt {
	var out []Dealt
	for _, s := range n.all() {
		if slices.Contains(keys, s.Key) {
			out = append(out, Dealt{Key: s.Key, On: on, Size: s.Size})
		}
	}
	return out
}

// all is every reason, what must be gone to first.
func (n Need) all() []Scored { return slices.Concat(n.MustGo, n.Reasons) }
