package app

import (
	"context"
	"fmt"
	"net/mail"
	"slices"
	"strings"
	"time"

	"tendfold/domain"
	"tendfold/domain/farm"
)

// People are those whom the actor may know of. Staff see staff and the people
// of their farms.
func (s *Office) People(ctx context.Context, who Actor, q PeopleQuery) (Page[farm.Person], error) {
	if err := who.Need(desk...); err != nil {
		return Page[farm.Person]{}, err
	}
	return s.store.People(ctx, who.Scope(), q)
}

// Person is one of them; everyone may read the own record.
func (s *Office) Person(ctx context.Context, who Actor, id string) (farm.Person, error) {
	if who.PersonID == id {
		return s.store.Person(ctx, Everything, id)
	}
	if err := who.Need(desk...); err != nil {
		return farm.Person{}, err
	}
	return s.store.Person(ctx, who.Scope(), id)
}

// AddPerson adds a person. Caretakers and owners are added by whoever runs
// their farms; staff only by an administrator.
func (s *Office) AddPerson(ctx context.Context, who Actor, p farm.Person) (farm.Person, error) {
	if err := mayGrant(who, nil, p.Grants); err != nil {
		return p, err
	}
	country, err := s.country(ctx, p)
	if err != nil {
		return p, err
	}
	at := s.Now()
	err = s.store.InTx(ctx, func(ctx context.Context) error {
		p, err = s.addPerson(ctx, who, p, country, at)
		return err
	})
	return p, err
}

func (s *Office) addPerson(ctx context.Context, who Actor, p farm.Person, country string, at time.Time) (farm.Person, error) {
	p, err := s.checkPerson(p, country)
	if err != nil {
		return p, err
	}
	p.ID, p.Version, p.Active = s.NewID(), 1, true
	if err := s.store.AddPeople(ctx, at, p); err != nil {
		return p, err
	}
	return p, s.record(ctx, who, at, Change{Verb: "add", Thing: "person", ThingID: p.ID, After: p})
}

// ChangePerson changes a person at its version: name, phone, language, roles,
// or whether the person is active. A role taken away is gone with the next
// request.
func (s *Office) ChangePerson(ctx context.Context, who Actor, p farm.Person) (farm.Person, error) {
	old, err := s.store.Person(ctx, who.Scope(), p.ID)
	if err != nil {
		return p, err
	}
	if err := mayGrant(who, old.Grants, p.Grants); err != nil {
		return p, err
	}
	if old.Has(farm.Administrator) && (!p.Active || !p.Has(farm.Administrator)) && who.PersonID == p.ID {
		return p, domain.Conflict("last-administrator", "You cannot take the administrator's role from yourself. Ask another administrator.")
	}
	country, err := s.country(ctx, p)
	if err != nil {
		return p, err
	}
	if p, err = s.checkPerson(p, country); err != nil {
		return p, err
	}
	err = s.store.InTx(ctx, func(ctx context.Context) error {
		if err := s.store.ChangePerson(ctx, p); err != nil {
			return err
		}
		return s.record(ctx, who, s.Now(), Change{Verb: "change", Thing: "person", ThingID: p.ID, Before: old, After: p})
	})
	if err != nil {
		return p, err
	}
	return s.store.Person(ctx, Everything, p.ID)
}

// mayGrant says whether the actor may turn one set of roles into another.
func mayGrant(who Actor, before, after []farm.Grant) error {
	if who.Is(farm.Administrator) {
		return nil
	}
	touches := func(g farm.Grant) bool { return g.Role.Staff() }
	staff := slices.ContainsFunc(before, touches) || slices.ContainsFunc(after, touches)
	if staff {
		return domain.Forbidden("Only an administrator adds or changes the firm's own people.")
	}
	return who.Need(desk...)
}

// country is where a phone number without a country code is read: that of the
// person's branch, else of the first branch that has one.
func (s *Office) country(ctx context.Context, p farm.Person) (string, error) {
	branches, err := s.store.Branches(ctx)
	if err != nil {
		return "", err
	}
	first := ""
	for _, b := range branches {
		if slices.ContainsFunc(p.Grants, func(g farm.Grant) bool { return g.BranchID == b.ID }) && b.Country != "" {
			return b.Country, nil
		}
		if first == "" {
			first = b.Country
		}
	}
	return first, nil
}

var roles = []farm.Role{farm.Administrator, farm.Manager, farm.Advisor, farm.FieldOfficer, farm.Caretaker, farm.Owner}

func (s *Office) checkPerson(p farm.Person, country string) (farm.Person, error) {
	var fields []domain.Field
	bad := func(path, code, text string) {
		fields = append(fields, domain.Field{Path: path, Code: code, Text: text})
	}
	p.Name, p.Email = strings.TrimSpace(p.Name), strings.TrimSpace(p.Email)
	if p.Name == "" || len(p.Name) > maxName {
		bad("name", "required", "Give the person a name of at most 200 characters.")
	}
	if p.Language != "en" && p.Language != "fr" {
		bad("language", "unknown", "Choose en or fr.")
	}
	if p.Email != "" {
		if a, err := mail.ParseAddress(p.Email); err != nil || a.Address != p.Email || len(p.Email) > maxName {
			bad("email", "invalid", "This is not an e-mail address.")
		}
	}
	for i, g := range p.Grants {
		if !slices.Contains(roles, g.Role) || (!g.Role.Staff() && g.BranchID != "") {
			bad(fmt.Sprintf("grants.%d", i), "unknown", "Choose a role; caretakers and owners have no branch.")
		}
	}
	if len(p.Grants) > 20 {
		bad("grants", "too-many", "At most 20 roles.")
	}
	if fields != nil {
		return p, domain.Invalid("person-refused", "The person cannot be kept like this.", fields...)
	}
	if p.Phone = strings.TrimSpace(p.Phone); p.Phone != "" {
		p.Phone, p.PhoneFlag = s.phone(p.Phone, country)
	} else {
		p.PhoneFlag = false
	}
	return p, nil
}
