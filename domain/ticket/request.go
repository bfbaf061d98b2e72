package ticket

// Ask adds what the farm is asked to do: both the farm and we read it, and
// for whoever waits it is a first word.
func (t Ticket) Ask(by Act, text string) (Ticket, Event, error) {
	if !t.Open() {
		return t, Event{}, t.settled()
	}
	next, e, err := t.line(Asked, text)
	if err == nil {
		next = next.spoken(by)
	}
	return next, e, err
}

// Answer adds the farm's answer to what it was asked. It comes from a phone
// that may have been without a network for weeks, so a settled ticket takes
// it too. Why is the reason of what could not be done, empty for done.
func (t Ticket) Answer(_ Act, why, note string) Event {
	return Event{
		Kind: Answered, From: t.State, To: t.State, Text: note,
		Data: map[string]any{"done": why == "", "reason": why},
	}
}

// TakeBack adds that the firm does not ask for it any more.
func (t Ticket) TakeBack(_ Act, text string) Event {
	return Event{Kind: TakenBack, From: t.State, To: t.State, Text: text}
}
