package ticket

import (
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"

	"tendfold/domain"
)

// moves are the states that a ticket may go to, in the order in which a screen
// offers them. From in hand to assessed it is given back; from settled it is
// reopened.
var moves = map[State][]State{
	Reported: {Assessed, InHand, Settled},
	Assessed: {InHand, Waiting, Settled},
	InHand:   {Assessed, Waiting, Settled},
	Waiting:  {InHand, Settled},
	Settled:  {Assessed},
}

// Moves are the states that the ticket may go to from where it is.
func (t Ticket) Moves() []State { return slices.Clone(moves[t.State]) }

// Open says whether a person still has to deal with it.
func (t Ticket) Open() bool { return t.State != Settled }

// move is the ticket in another state, or an error that names the states it
// may go to. Who waits for whom, and who holds it, belong to a state and are
// cleared with it.
func (t Ticket) move(to State) (Ticket, error) {
	if !slices.Contains(moves[t.State], to) {
		return t, t.refuse(to)
	}
	t.State = to
	if to != Waiting {
		t.WaitingOn = ""
	}
	if to == Assessed {
		t.HolderID = ""
	}
	return t, nil
}

func (t Ticket) refuse(to State) error {
	allowed := make([]string, len(moves[t.State]))
	for i, s := range moves[t.State] {
		allowed[i] = string(s)
	}
	list := strings.Join(allowed, ", ")
	err := domain.Conflict("ticket-move-not-allowed", fmt.Sprintf(
		"Ticket %s is %s and cannot become %s. From here it can become: %s.", t.Number, t.State, to, list))
	err.Fields = []domain.Field{{Path: "state", Code: "allowed", Text: list}}
	return err
}

// settled is the error of something that only an open ticket takes.
func (t Ticket) settled() error {
	return domain.Conflict("ticket-settled", fmt.Sprintf("Ticket %s is settled. Reopen it first.", t.Number))
}

// maxText is the longest text a ticket takes, in characters.
const maxText = 4000

// required refuses a text that is empty or too long, naming its field.
func required(path, ask, text string) error {
	f := domain.Field{Path: path}
	switch {
	case strings.TrimSpace(text) == "":
		f.Code, f.Text = "required", ask
	case utf8.RuneCountInString(text) > maxText:
		f.Code, f.Text = "too-long", fmt.Sprintf("Keep this under %d characters.", maxText)
	default:
		return nil
	}
	return domain.Invalid("ticket-"+path, f.Text, f)
}

// optional refuses only a text that is too long.
func optional(path, text string) error {
	if text == "" {
		return nil
	}
	return required(path, "", text)
}
