package visit

import "tendfold/domain"

// Task is one thing to do on the farm. Its code is put into words by the
// screens; the values are those of the reason that it was made from.
type Task struct {
	Key    string        `json:"key"` // of the reason, "" for what every visit does
	Do     string        `json:"do"`
	Reason domain.Reason `json:"reason"`
}

// The codes of tasks.
const (
	DoDanger  = "see-to-danger"         // people first, then animals
	DoHoldUp  = "look-at-hold-up"       // see what holds the schedule up, mark what is done
	DoVerify  = "verify-go-ahead"       // the items that a person must see
	DoWalk    = "walk-round"            // the ordinary visit: counts, weights, cover
	DoSnags   = "mend-snags"            // mend them or agree on the day
	DoTrain   = "train-caretaker"       // teach and check the modules that lack
	DoMeet    = "meet-caretaker"        // meet the new one
	DoAppoint = "find-who-is-in-charge" // agree on a caretaker in charge
	DoAskWhy  = "ask-about-silence"     // phone, airtime, who writes the daybook
	DoPromise = "keep-promise"          // what was promised on the call
	DoRequest = "answer-owner"          // what the owner asked for
	DoTicket  = "work-on-ticket"        // the ticket's own matter
)

var doing = map[string]string{
	PersonInDanger: DoDanger, AnimalsAtRisk: DoDanger, TwiceInterval: DoWalk,
	Behind: DoHoldUp, Slipping: DoHoldUp, Late: DoHoldUp, GoAheadPerson: DoVerify, VisitDue: DoWalk, SnagsEnding: DoSnags,
	Untrained: DoTrain, NewCaretaker: DoMeet, NobodyInCharge: DoAppoint, NoNews: DoAskWhy,
	PromisedVisit: DoPromise, BrokenPromise: DoPromise, OwnerAsked: DoRequest, OpenTicket: DoTicket,
}

// Agenda is what to do on the farm, made from every reason, counted or not:
// whoever is there sees to all of it. Danger comes first, and every visit
// walks round.
func Agenda(n Need) []Task {
	var out []Task
	walks := false
	for _, s := range n.all() {
		out = append(out, Task{Key: s.Key, Do: doing[s.Reason.Code], Reason: s.Reason})
		walks = walks || doing[s.Reason.Code] == DoWalk
	}
	if !walks {
		out = append(out, Task{Do: DoWalk})
	}
	return out
}
