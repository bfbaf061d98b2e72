package ticket

import "slices"

// table is urgency by impact, then by time to loss (product table). It rests
// on the usual product of impact and urgency of service desks, with time to
// loss in the place of a promise.
var table = map[Impact]map[TimeToLoss]Urgency{
	High:   {Hours: AnimalsAtRisk, Week: AnimalsAtRisk, Longer: LosingTime},
	Middle: {Hours: AnimalsAtRisk, Week: LosingTime, Longer: LosingTime},
	Low:    {Hours: LosingTime, Week: Routine, Longer: NoHurry},
}

// UrgencyOf is the urgency that impact and time to loss give, "" when either
// is not one of ours. Danger to people stands above the table and never comes
// out of it.
func UrgencyOf(i Impact, l TimeToLoss) Urgency { return table[i][l] }

// Urgencies are all of them, highest first.
func Urgencies() []Urgency {
	return []Urgency{PersonInDanger, AnimalsAtRisk, LosingTime, Routine, NoHurry}
}

// Rank is the place of the urgency in the queue, 0 the highest; -1 when it is
// not one of ours.
func (u Urgency) Rank() int { return slices.Index(Urgencies(), u) }

// Above says whether u goes before o in the queue.
func (u Urgency) Above(o Urgency) bool { return u.Rank() < o.Rank() }

// Raised is one urgency higher. Animals at risk is the top of what a count of
// days can reach: only a person, or a sign seen, says that a person is in
// danger.
func (u Urgency) Raised() Urgency {
	if r := u.Rank(); r > AnimalsAtRisk.Rank() {
		return Urgencies()[r-1]
	}
	return u
}

// Rest is for how many days a ticket may stay quiet that a person settled
// while its condition holds: the rule's days, a day at most where animals are
// at risk, none where a person is in danger.
func (u Urgency) Rest(ruleDays int) int {
	switch u {
	case PersonInDanger:
		return 0
	case AnimalsAtRisk:
		return min(1, ruleDays)
	default:
		return ruleDays
	}
}
