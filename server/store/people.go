package store

import (
	"cmp"
	"context"
	"slices"
	"time"

	"tendfold/domain/farm"
	"tendfold/server/app"
	"tendfold/server/app/register"

	"gorm.io/gorm"
)

type personRow struct {
	ID        string
	Name      string
	Folded    string
	Phone     string
	PhoneFlag bool
	Email     string
	Language  string
	Active    bool
	CreatedAt micros `gorm:"autoCreateTime:false"`
	Version   int
}

func (personRow) TableName() string { return "people" }

func (r personRow) person() farm.Person {
	return farm.Person{
		ID: r.ID, Name: r.Name, Phone: r.Phone, PhoneFlag: r.PhoneFlag, Email: r.Email,
		Language: r.Language, Active: r.Active, Version: r.Version,
	}
}

type grantRow struct {
	PersonID string `gorm:"primaryKey"`
	Role     string `gorm:"primaryKey"`
	BranchID string `gorm:"primaryKey"`
}

func (grantRow) TableName() string { return "grants" }

// AddPeople makes people with their grants.
func (s *Store) AddPeople(ctx context.Context, at time.Time, ps ...farm.Person) error {
	rows := each(ps, func(p farm.Person) personRow {
		return personRow{
			ID: p.ID, Name: p.Name, Folded: register.Fold(p.Name), Phone: p.Phone, PhoneFlag: p.PhoneFlag, Email: p.Email,
			Language: p.Language, Active: p.Active, CreatedAt: toMicros(at), Version: 1,
		}
	})
	return s.InTx(ctx, func(ctx context.Context) error {
		if err := s.insert(ctx, "person", rows); err != nil {
			return err
		}
		s.touchPeople(ctx, each(ps, func(p farm.Person) string { return p.ID })...)
		return s.insert(ctx, "grant", grantRows(ps))
	})
}

func grantRows(ps []farm.Person) []grantRow {
	var rows []grantRow
	for _, p := range ps {
		for _, g := range p.Grants {
			rows = append(rows, grantRow{p.ID, string(g.Role), g.BranchID})
		}
	}
	return rows
}

// ChangePerson writes a person at its version, with the grants in place of
// the former ones.
func (s *Store) ChangePerson(ctx context.Context, p farm.Person) error {
	return s.InTx(ctx, func(ctx context.Context) error {
		err := s.update(ctx, "person", &personRow{}, p.ID, p.Version, map[string]any{
			"name": p.Name, "folded": register.Fold(p.Name), "phone": p.Phone, "phone_flag": p.PhoneFlag,
			"email": p.Email, "language": p.Language, "active": p.Active,
		})
		if err != nil {
			return err
		}
		s.touchPeople(ctx, p.ID)
		if err := s.from(ctx).Where("person_id = ?", p.ID).Delete(&grantRow{}).Error; err != nil {
			return mapError(err, "grant")
		}
		return s.insert(ctx, "grant", grantRows([]farm.Person{p}))
	})
}

// peopleOf keeps the people (table people) that a scope may know of: itself,
// those who work on its farms or own them, and staff of its branches.
func (s *Store) peopleOf(q *gorm.DB, sc app.Scope) *gorm.DB {
	if sc.All {
		return q
	}
	farms, args := s.farmsOf(sc)
	cond := "people.id = ? OR people.id = ?" +
		" OR EXISTS (SELECT 1 FROM farm_people w JOIN farms f ON f.id = w.farm_id WHERE w.person_id = people.id AND " + farms + ")" +
		" OR EXISTS (SELECT 1 FROM clients c JOIN farms f ON f.client_id = c.id WHERE c.owner_id = people.id AND " + farms + ")"
	all := slices.Concat([]any{nobodyIfEmpty(sc.PersonFarms), nobodyIfEmpty(sc.Owner)}, args, args)
	if len(sc.Branches) > 0 {
		branches, list := s.in("g.branch_id", sc.Branches)
		cond += " OR EXISTS (SELECT 1 FROM grants g WHERE g.person_id = people.id AND (g.branch_id = '' AND g.role NOT IN ('caretaker', 'owner') OR " + branches + "))"
		all = append(all, list)
	}
	return q.Where("("+cond+")", all...)
}

// nobodyIfEmpty is an id that no person has, in place of none.
func nobodyIfEmpty(id string) string {
	if id == "" {
		return "-"
	}
	return id
}

// Person is the person with this id, with grants, when the scope may know of
// it.
func (s *Store) Person(ctx context.Context, sc app.Scope, id string) (farm.Person, error) {
	r, err := one[personRow](s.peopleOf(s.reader(ctx), sc).Where("people.id = ?", id), "person")
	if err != nil {
		return farm.Person{}, err
	}
	people, err := s.withGrants(ctx, []farm.Person{r.person()})
	if err != nil {
		return farm.Person{}, err
	}
	return people[0], nil
}

// PeopleByIDs are the people with these ids, with grants, in no order;
// unknown ids are left out.
func (s *Store) PeopleByIDs(ctx context.Context, ids []string) ([]farm.Person, error) {
	people, err := readOf(ctx, s, "person", "people", "id", ids, func(a, b personRow) int {
		return cmp.Compare(a.ID, b.ID)
	}, personRow.person)
	if err != nil {
		return nil, err
	}
	return s.withGrants(ctx, people)
}

// PeopleByPhone are the active people who share a number, as a family may.
func (s *Store) PeopleByPhone(ctx context.Context, phone string) ([]farm.Person, error) {
	return s.people(ctx, s.reader(ctx).Where("phone = ? AND active", phone).Order("folded, id").Limit(listMost))
}

// Staff are the active people who hold one of the roles in a branch, or in
// all of them; branch "" asks for every branch.
func (s *Store) Staff(ctx context.Context, branch string, roles ...farm.Role) ([]farm.Person, error) {
	cond, list := s.in("g.role", each(roles, func(r farm.Role) string { return string(r) }))
	args := []any{list}
	if branch != "" {
		cond += " AND g.branch_id IN ('', ?)"
		args = append(args, branch)
	}
	q := s.reader(ctx).Where("active AND EXISTS (SELECT 1 FROM grants g WHERE g.person_id = people.id AND "+cond+")", args...)
	return s.people(ctx, q.Order("folded, id"))
}

func (s *Store) people(ctx context.Context, q *gorm.DB) ([]farm.Person, error) {
	people, err := many(q, "person", personRow.person)
	if err != nil {
		return nil, err
	}
	return s.withGrants(ctx, people)
}

// nameKey is the place of a row in a list by name.
type nameKey struct {
	Folded string `json:"f"`
	ID     string `json:"i"`
}

// People are the people of a scope by name.
func (s *Store) People(ctx context.Context, sc app.Scope, in app.PeopleQuery) (app.Page[farm.Person], error) {
	limit, at := in.Limit, in.Cursor
	in.Limit, in.Cursor = 0, ""
	hash := queryHash(in)
	key, later, err := decodeCursor[nameKey](at, hash)
	if err != nil {
		return app.Page[farm.Person]{}, err
	}
	q := s.peopleWhere(s.peopleOf(s.reader(ctx), sc), in)
	if later {
		q = q.Where("(people.folded, people.id) > (?, ?)", key.Folded, key.ID)
	}
	p, err := page(q.Order("people.folded, people.id"), "person", hash, limit,
		func(r personRow) nameKey { return nameKey{r.Folded, r.ID} }, sure(personRow.person))
	if err != nil {
		return p, err
	}
	p.Items, err = s.withGrants(ctx, p.Items)
	return p, err
}

func (s *Store) peopleWhere(q *gorm.DB, in app.PeopleQuery) *gorm.DB {
	if in.Role != "" {
		q = q.Where("EXISTS (SELECT 1 FROM grants g WHERE g.person_id = people.id AND g.role = ?)", in.Role)
	}
	if in.Branch != "" {
		q = q.Where("EXISTS (SELECT 1 FROM grants g WHERE g.person_id = people.id AND g.branch_id = ?)", in.Branch)
	}
	if in.FarmID != "" {
		q = q.Where("EXISTS (SELECT 1 FROM farm_people w WHERE w.person_id = people.id AND w.farm_id = ?)", in.FarmID)
	}
	if in.Active != nil {
		q = q.Where("people.active = ?", *in.Active)
	}
	for _, w := range searchTerms(in.Q) {
		q = q.Where("EXISTS (SELECT 1 FROM search_words sw WHERE sw.thing_id = people.id AND sw.kind = 'person' AND sw.word >= ? AND sw.word < ?)", w.from, w.to)
	}
	return q
}

func (s *Store) withGrants(ctx context.Context, people []farm.Person) ([]farm.Person, error) {
	if len(people) == 0 {
		return people, nil
	}
	ids := each(people, func(p farm.Person) string { return p.ID })
	rows, err := readOf(ctx, s, "grant", "grants", "person_id", ids, func(a, b grantRow) int {
		return cmp.Or(cmp.Compare(a.PersonID, b.PersonID), cmp.Compare(a.Role, b.Role), cmp.Compare(a.BranchID, b.BranchID))
	}, func(r grantRow) grantRow { return r })
	if err != nil {
		return nil, err
	}
	of := map[string][]farm.Grant{}
	for _, r := range rows {
		of[r.PersonID] = append(of[r.PersonID], farm.Grant{Role: farm.Role(r.Role), BranchID: r.BranchID})
	}
	for i := range people {
		people[i].Grants = of[people[i].ID]
	}
	return people, nil
}
