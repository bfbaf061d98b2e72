package app

import (
	"context"
	"fmt"

	"tendfold/domain/farm"
)

// tell sends a piece of news to one of the firm's people: by e-mail when one is
// known, and to the browsers that asked.
func (s *Reach) tell(ctx context.Context, p farm.Person, m Message) error {
	m.PersonID, m.Language = p.ID, p.Language
	if p.Email != "" {
		m.Channel, m.Address = ByEmail, p.Email
		if _, err := s.Enqueue(ctx, m); err != nil {
			return err
		}
	}
	own, err := s.store.Subscriptions(ctx, p.ID)
	if err != nil || len(own) == 0 {
		return err
	}
	m.Channel, m.Address = ByPush, p.ID
	_, err = s.Enqueue(ctx, m)
	return err
}

// Given tells a person that a ticket is in his or her hands now.
func (s *Reach) Given(ctx context.Context, t TicketLine, to string, reopened bool) error {
	people, err := s.store.PeopleByIDs(ctx, []string{to})
	if err != nil || len(people) == 0 {
		return err
	}
	words := wordsOf(people[0].Language)
	form := words.given
	if reopened {
		form = words.reopened
	}
	body := fmt.Sprintf(form, t.Number, t.Farm, t.Title)
	return s.tell(ctx, people[0], Message{TicketID: t.ID, FarmID: t.FarmID, Subject: t.Number + " " + t.Farm, Body: body})
}

// Danger tells everybody who advises or manages for the farm's branch that a
// person may be in danger, at once, whatever the hour.
func (s *Reach) Danger(ctx context.Context, t TicketLine, by string) error {
	people, err := s.store.Staff(ctx, t.BranchID, farm.Advisor, farm.Manager)
	if err != nil {
		return err
	}
	for _, p := range people {
		if p.ID == by {
			continue
		}
		body := fmt.Sprintf(wordsOf(p.Language).danger, t.Number, t.Farm, t.Title)
		if err := s.tell(ctx, p, Message{TicketID: t.ID, FarmID: t.FarmID, Subject: t.Number + " " + t.Farm, Body: body, Urgent: true}); err != nil {
			return err
		}
	}
	return nil
}

// dangerUnknown is Danger for a number that nobody knows.
func (s *Reach) dangerUnknown(ctx context.Context, phone, said string) error {
	people, err := s.store.Staff(ctx, "", farm.Advisor, farm.Manager)
	if err != nil {
		return err
	}
	for _, p := range people {
		body := fmt.Sprintf(wordsOf(p.Language).danger, "-", phone, clip(said, longestTitle))
		if err := s.tell(ctx, p, Message{Subject: phone, Body: body, Urgent: true}); err != nil {
			return err
		}
	}
	return nil
}

// TellFarm sends a message of ours to the caretaker in charge of a farm: to
// the phone's own app at once, and as a text when asked, in the words given.
func (s *Reach) TellFarm(ctx context.Context, t TicketLine, body string, byText, urgent bool) error {
	work, err := s.store.WorkOn(ctx, []string{t.FarmID})
	if err != nil {
		return err
	}
	var ids []string
	for _, w := range work {
		if w.InCharge {
			ids = append([]string{w.PersonID}, ids...)
		} else {
			ids = append(ids, w.PersonID)
		}
	}
	people, err := s.store.PeopleByIDs(ctx, ids)
	if err != nil {
		return err
	}
	for _, id := range ids {
		for _, p := range people {
			if p.ID != id || !p.Active {
				continue
			}
			return s.tellCaretaker(ctx, p, t, body, byText, urgent)
		}
	}
	return nil
}

func (s *Reach) tellCaretaker(ctx context.Context, p farm.Person, t TicketLine, body string, byText, urgent bool) error {
	m := Message{TicketID: t.ID, FarmID: t.FarmID, PersonID: p.ID, Language: p.Language, Subject: t.Number, Body: body, Urgent: urgent}
	if byText && p.Phone != "" {
		m.Channel, m.Address = ByText, p.Phone
		if _, err := s.Enqueue(ctx, m); err != nil {
			return err
		}
	}
	own, err := s.store.Subscriptions(ctx, p.ID)
	if err != nil || len(own) == 0 {
		return err
	}
	m.Channel, m.Address = ByPush, p.ID
	_, err = s.Enqueue(ctx, m)
	return err
}
