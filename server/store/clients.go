package store

import (
	"context"

	"tendfold/domain/farm"
	"tendfold/server/app"
	"tendfold/server/app/register"

	"gorm.io/gorm"
)

type clientRow struct {
	ID        string
	Name      string
	Folded    string
	Phone     string
	PhoneFlag bool
	OwnerID   string
	Version   int
}

func (clientRow) TableName() string { return "clients" }

func (r clientRow) client() app.Client {
	return app.Client{
		Client:    farm.Client{ID: r.ID, Name: r.Name, Phone: r.Phone, OwnerID: r.OwnerID, Version: r.Version},
		PhoneFlag: r.PhoneFlag,
	}
}

// AddClients makes clients.
func (s *Store) AddClients(ctx context.Context, cs ...app.Client) error {
	rows := each(cs, func(c app.Client) clientRow {
		return clientRow{ID: c.ID, Name: c.Name, Folded: register.Fold(c.Name), Phone: c.Phone, PhoneFlag: c.PhoneFlag, OwnerID: c.OwnerID, Version: 1}
	})
	return s.InTx(ctx, func(ctx context.Context) error {
		if err := s.insert(ctx, "client", rows); err != nil {
			return err
		}
		s.touchClients(ctx, each(cs, func(c app.Client) string { return c.ID })...)
		return nil
	})
}

// ChangeClient writes a client at its version.
func (s *Store) ChangeClient(ctx context.Context, c app.Client) error {
	return s.InTx(ctx, func(ctx context.Context) error {
		var former string // an owner who loses the last farm is found without one from now on
		if err := s.from(ctx).Model(&clientRow{}).Where("id = ?", c.ID).Pluck("owner_id", &former).Error; err != nil {
			return mapError(err, "client")
		}
		s.touchClients(ctx, c.ID)
		s.touchLoose(ctx, c.OwnerID, former)
		return s.update(ctx, "client", &clientRow{}, c.ID, c.Version, map[string]any{
			"name": c.Name, "folded": register.Fold(c.Name), "phone": c.Phone, "phone_flag": c.PhoneFlag, "owner_id": c.OwnerID,
		})
	})
}

// clientsOf keeps the clients that a scope may know of: those with a farm in
// it, its own, and for a branch also those without any farm yet.
func (s *Store) clientsOf(q *gorm.DB, sc app.Scope) *gorm.DB {
	if sc.All {
		return q
	}
	farms, args := s.farmsOf(sc)
	cond := "EXISTS (SELECT 1 FROM farms f WHERE f.client_id = clients.id AND " + farms + ") OR clients.owner_id = ?"
	args = append(args, nobodyIfEmpty(sc.Owner))
	if len(sc.Branches) > 0 {
		cond += " OR NOT EXISTS (SELECT 1 FROM farms f WHERE f.client_id = clients.id)"
	}
	return q.Where("("+cond+")", args...)
}

// Client is the client with this id, when the scope may know of it.
func (s *Store) Client(ctx context.Context, sc app.Scope, id string) (app.Client, error) {
	if sc.All {
		r, err := readOne[clientRow](ctx, s, "client", selectOf[clientRow]("c")+" FROM clients c WHERE c.id = ?", id)
		return r.client(), err
	}
	r, err := one[clientRow](s.clientsOf(s.reader(ctx), sc).Where("clients.id = ?", id), "client")
	return r.client(), err
}

// Clients are the clients of a scope by name.
func (s *Store) Clients(ctx context.Context, sc app.Scope, in app.ClientQuery) (app.Page[app.Client], error) {
	limit, at := in.Limit, in.Cursor
	in.Limit, in.Cursor = 0, ""
	hash := queryHash(in)
	key, later, err := decodeCursor[nameKey](at, hash)
	if err != nil {
		return app.Page[app.Client]{}, err
	}
	q := s.clientsOf(s.reader(ctx), sc)
	for _, w := range searchTerms(in.Q) {
		q = q.Where("EXISTS (SELECT 1 FROM search_words sw WHERE sw.thing_id = clients.id AND sw.kind = 'client' AND sw.word >= ? AND sw.word < ?)", w.from, w.to)
	}
	if later {
		q = q.Where("(clients.folded, clients.id) > (?, ?)", key.Folded, key.ID)
	}
	return page(q.Order("clients.folded, clients.id"), "client", hash, limit,
		func(r clientRow) nameKey { return nameKey{r.Folded, r.ID} }, sure(clientRow.client))
}
