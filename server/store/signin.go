package store

import (
	"cmp"
	"context"
	"slices"
	"time"

	"tendfold/domain"
	"tendfold/domain/farm"
	"tendfold/server/app/signin"

	"gorm.io/gorm/clause"
)

// forUpdate holds the rows of a query until the transaction ends. SQLite has
// one writer at a time anyway, and its driver leaves the clause out.
var forUpdate = clause.Locking{Strength: "UPDATE"}

type passwordRow struct {
	PersonID    string `gorm:"primaryKey"`
	Login       string
	Hash        string
	Short       bool
	Totp        string
	TotpPending string
	TotpStep    int64
	ChangedAt   micros
}

func (passwordRow) TableName() string { return "passwords" }

func (r passwordRow) password() signin.Password {
	return signin.Password{
		PersonID: r.PersonID, Login: r.Login, Hash: r.Hash, Short: r.Short,
		TOTP: r.Totp, TOTPPending: r.TotpPending, TOTPStep: r.TotpStep, ChangedAt: r.ChangedAt.time(),
	}
}

// PasswordByLogin is the password of whoever signs in under this name.
func (s *Store) PasswordByLogin(ctx context.Context, login string) (signin.Password, error) {
	r, err := one[passwordRow](s.reader(ctx).Where("login = ?", login), "password")
	return r.password(), err
}

// LockPassword is a person's password, held until the transaction ends.
func (s *Store) LockPassword(ctx context.Context, personID string) (signin.Password, error) {
	r, err := one[passwordRow](s.from(ctx).Clauses(forUpdate).Where("person_id = ?", personID), "password")
	return r.password(), err
}

// PutPassword makes or replaces a person's password. A name that another
// person signs in with is a conflict.
func (s *Store) PutPassword(ctx context.Context, p signin.Password) error {
	rows := []passwordRow{{
		PersonID: p.PersonID, Login: p.Login, Hash: p.Hash, Short: p.Short,
		Totp: p.TOTP, TotpPending: p.TOTPPending, TotpStep: p.TOTPStep, ChangedAt: toMicros(p.ChangedAt),
	}}
	return s.insert(ctx, "login", rows, clause.OnConflict{Columns: []clause.Column{{Name: "person_id"}}, UpdateAll: true})
}

type enrolmentRow struct {
	ID        string
	PersonID  string
	Purpose   string
	Kind      string
	Handle    string
	Secret    string
	MadeBy    string
	MadeAt    micros
	ExpiresAt micros
	Failures  int
	SpentAt   micros
	DeviceID  string
}

func (enrolmentRow) TableName() string { return "enrolments" }

func (r enrolmentRow) enrolment() signin.Enrolment {
	return signin.Enrolment{
		ID: r.ID, PersonID: r.PersonID, Purpose: signin.Purpose(r.Purpose), Kind: signin.Kind(r.Kind),
		Handle: r.Handle, Secret: r.Secret, MadeBy: r.MadeBy, MadeAt: r.MadeAt.time(), ExpiresAt: r.ExpiresAt.time(),
		Failures: r.Failures, SpentAt: r.SpentAt.time(), DeviceID: r.DeviceID,
	}
}

// AddEnrolment makes an enrolment.
func (s *Store) AddEnrolment(ctx context.Context, e signin.Enrolment) error {
	return s.insert(ctx, "enrolment", []enrolmentRow{{
		ID: e.ID, PersonID: e.PersonID, Purpose: string(e.Purpose), Kind: string(e.Kind), Handle: e.Handle, Secret: e.Secret,
		MadeBy: e.MadeBy, MadeAt: toMicros(e.MadeAt), ExpiresAt: toMicros(e.ExpiresAt),
		Failures: e.Failures, SpentAt: toMicros(e.SpentAt), DeviceID: e.DeviceID,
	}})
}

// LockEnrolment is the enrolment with that secret's hash, or that handle,
// held until the transaction ends.
func (s *Store) LockEnrolment(ctx context.Context, by signin.Way, key string) (signin.Enrolment, error) {
	cond := "secret = ?"
	if by == signin.ByHandle {
		cond = "handle = ? AND handle <> ''"
	}
	r, err := one[enrolmentRow](s.from(ctx).Clauses(forUpdate).Where(cond, key), "enrolment")
	return r.enrolment(), err
}

// PutEnrolment writes what changes in an enrolment's life.
func (s *Store) PutEnrolment(ctx context.Context, e signin.Enrolment) error {
	return found(s.from(ctx).Model(&enrolmentRow{}).Where("id = ?", e.ID).Updates(map[string]any{
		"handle": e.Handle, "failures": e.Failures, "spent_at": toMicros(e.SpentAt), "device_id": e.DeviceID,
	}), "enrolment")
}

// VoidEnrolments ends a person's enrolments for a purpose that were not spent.
func (s *Store) VoidEnrolments(ctx context.Context, personID string, purpose signin.Purpose, now time.Time) error {
	return mapError(s.from(ctx).Model(&enrolmentRow{}).
		Where("person_id = ? AND purpose = ? AND spent_at = 0", personID, string(purpose)).
		Updates(map[string]any{"handle": "", "spent_at": toMicros(now)}).Error, "enrolment")
}

type deviceRow struct {
	ID         string
	PersonID   string
	Name       string
	PublicKey  string
	EnrolledAt micros
	SeenAt     micros
	Failures   int
	RevokedAt  micros
}

func (deviceRow) TableName() string { return "devices" }

func (r deviceRow) device() signin.Device {
	return signin.Device{
		ID: r.ID, PersonID: r.PersonID, Name: r.Name, PublicKey: r.PublicKey,
		EnrolledAt: r.EnrolledAt.time(), SeenAt: r.SeenAt.time(), Failures: r.Failures, RevokedAt: r.RevokedAt.time(),
	}
}

// AddDevice makes an enrolled phone.
func (s *Store) AddDevice(ctx context.Context, d signin.Device) error {
	return s.insert(ctx, "phone", []deviceRow{{
		ID: d.ID, PersonID: d.PersonID, Name: d.Name, PublicKey: d.PublicKey,
		EnrolledAt: toMicros(d.EnrolledAt), SeenAt: toMicros(d.SeenAt), Failures: d.Failures, RevokedAt: toMicros(d.RevokedAt),
	}})
}

// LockDevice is a phone, held until the transaction ends.
func (s *Store) LockDevice(ctx context.Context, id string) (signin.Device, error) {
	r, err := one[deviceRow](s.from(ctx).Clauses(forUpdate).Where("id = ?", id), "phone")
	return r.device(), err
}

// PutDevice writes what changes in a phone's life.
func (s *Store) PutDevice(ctx context.Context, d signin.Device) error {
	return found(s.from(ctx).Model(&deviceRow{}).Where("id = ?", d.ID).Updates(map[string]any{
		"seen_at": toMicros(d.SeenAt), "failures": d.Failures, "revoked_at": toMicros(d.RevokedAt),
	}), "phone")
}

// Devices are all phones of a person, newest first, revoked ones too.
func (s *Store) Devices(ctx context.Context, personID string) ([]signin.Device, error) {
	return many(s.reader(ctx).Where("person_id = ?", personID).Order("enrolled_at DESC, id"), "phone", deviceRow.device)
}

type sessionRow struct {
	ID         string
	PersonID   string
	DeviceID   string
	Generation int64
	RotatedAt  micros
	StartedAt  micros
	ExpiresAt  micros
	EndedAt    micros
	EndedWhy   string
	Agent      string
}

func (sessionRow) TableName() string { return "sessions" }

func (r sessionRow) session() signin.Session {
	return signin.Session{
		ID: r.ID, PersonID: r.PersonID, DeviceID: r.DeviceID, Generation: r.Generation,
		RotatedAt: r.RotatedAt.time(), StartedAt: r.StartedAt.time(), ExpiresAt: r.ExpiresAt.time(),
		EndedAt: r.EndedAt.time(), EndedWhy: r.EndedWhy, Agent: r.Agent,
	}
}

// AddSession makes a session.
func (s *Store) AddSession(ctx context.Context, x signin.Session) error {
	return s.insert(ctx, "session", []sessionRow{{
		ID: x.ID, PersonID: x.PersonID, DeviceID: x.DeviceID, Generation: x.Generation,
		RotatedAt: toMicros(x.RotatedAt), StartedAt: toMicros(x.StartedAt), ExpiresAt: toMicros(x.ExpiresAt),
		EndedAt: toMicros(x.EndedAt), EndedWhy: x.EndedWhy, Agent: x.Agent,
	}})
}

// LockSession is a session, held until the transaction ends.
func (s *Store) LockSession(ctx context.Context, id string) (signin.Session, error) {
	r, err := one[sessionRow](s.from(ctx).Clauses(forUpdate).Where("id = ?", id), "session")
	return r.session(), err
}

// PutSession writes that a session was renewed.
func (s *Store) PutSession(ctx context.Context, x signin.Session) error {
	return found(s.from(ctx).Model(&sessionRow{}).Where("id = ?", x.ID).Updates(map[string]any{
		"generation": x.Generation, "rotated_at": toMicros(x.RotatedAt),
	}), "session")
}

// Sessions are a person's sessions that neither ended nor ran out, newest
// first.
func (s *Store) Sessions(ctx context.Context, personID string, now time.Time) ([]signin.Session, error) {
	q := s.reader(ctx).Where("person_id = ? AND ended_at = 0 AND expires_at > ?", personID, toMicros(now))
	return many(q.Order("started_at DESC, id DESC"), "session", sessionRow.session)
}

// EndSessions ends the live sessions that the filter picks, and says how many.
// An empty filter picks none.
func (s *Store) EndSessions(ctx context.Context, f signin.EndFilter, why string, now time.Time) (int, error) {
	if f.ID == "" && f.DeviceID == "" && f.PersonID == "" {
		return 0, nil
	}
	q := s.from(ctx).Model(&sessionRow{}).Where("ended_at = 0 AND id <> ?", f.Keep)
	for _, c := range []struct{ column, value string }{{"id", f.ID}, {"device_id", f.DeviceID}, {"person_id", f.PersonID}} {
		if c.value != "" {
			q = q.Where(c.column+" = ?", c.value)
		}
	}
	res := q.Updates(map[string]any{"ended_at": toMicros(now), "ended_why": why})
	return int(res.RowsAffected), mapError(res.Error, "session")
}

type bearerRow struct {
	Session   sessionRow `gorm:"embedded"`
	Name      string
	Language  string
	Active    bool
	RevokedAt micros
	Role      string // of one of the grants, "" where the person has none
	BranchID  string
}

// Bearer is a session with its person, their grants and the state of the
// phone: all that is checked at each request, by primary keys.
func (s *Store) Bearer(ctx context.Context, sessionID string) (signin.Bearer, error) {
	rows, err := read[bearerRow](ctx, s, "session", selectOf[sessionRow]("x")+", p.name, p.language, p.active, COALESCE(d.revoked_at, 0), COALESCE(g.role, ''), COALESCE(g.branch_id, '')"+
		" FROM sessions x JOIN people p ON p.id = x.person_id LEFT JOIN devices d ON d.id = x.device_id LEFT JOIN grants g ON g.person_id = p.id"+
		" WHERE x.id = ?", sessionID)
	if err == nil && len(rows) == 0 {
		err = domain.NotFound("session")
	}
	if err != nil {
		return signin.Bearer{}, err
	}
	r := rows[0]
	who := personRow{ID: r.Session.PersonID, Name: r.Name, Language: r.Language, Active: r.Active}.person()
	for _, x := range rows {
		if x.Role != "" {
			who.Grants = append(who.Grants, farm.Grant{Role: farm.Role(x.Role), BranchID: x.BranchID})
		}
	}
	slices.SortFunc(who.Grants, func(a, b farm.Grant) int {
		return cmp.Or(cmp.Compare(a.Role, b.Role), cmp.Compare(a.BranchID, b.BranchID))
	})
	return signin.Bearer{Session: r.Session.session(), Person: who, DeviceRevoked: r.RevokedAt != 0}, nil
}
