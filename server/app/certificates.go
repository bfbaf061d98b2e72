package app

import (
	"context"
	"crypto/rand"
	"slices"
	"strings"
	"time"

	"tendfold/checklists"
	"tendfold/domain"
	"tendfold/domain/calendar"
	"tendfold/domain/farm"
)

// certificateStore is what Certificates needs of the database.
type certificateStore interface {
	Store
	dayStore
	Person(ctx context.Context, sc Scope, id string) (farm.Person, error)
	PeopleByIDs(ctx context.Context, ids []string) ([]farm.Person, error)
	PassesOf(ctx context.Context, personIDs []string) ([]Pass, error)
	AddCertificate(ctx context.Context, c Certificate) error
	Certificate(ctx context.Context, code string) (Certificate, error)
}

// Certificates give a person a paper of the modules held, with a code by
// which anybody can ask here whether it still is so.
type Certificates struct {
	Core
	store certificateStore
	days  *Days
}

// NewCertificates wires the use case.
func NewCertificates(core Core, store certificateStore, days *Days) *Certificates {
	return &Certificates{Core: core, store: store, days: days}
}

// Certificate is one that was issued. What it is worth is worked out anew
// each time it is asked for.
type Certificate struct {
	Code     string      `json:"code"`
	PersonID string      `json:"person_id"`
	Modules  []ModuleKey `json:"modules"`
	IssuedAt time.Time   `json:"issued_at"`
	ByID     string      `json:"by_id"`
}

// CertificateLine is a module on a certificate.
type CertificateLine struct {
	Name     string        `json:"name"`
	PassedOn calendar.Date `json:"passed_on,omitzero"`
	Until    calendar.Date `json:"until,omitzero" doc:"Last day of validity."`
	Valid    bool          `json:"valid"`
}

// CertificatePage is all that a stranger with the code learns.
type CertificatePage struct {
	Code     string            `json:"code"`
	Valid    bool              `json:"valid" doc:"Every module on it is valid today."`
	Name     string            `json:"name"`
	On       calendar.Date     `json:"on" doc:"The day of this answer."`
	IssuedOn calendar.Date     `json:"issued_on"`
	Modules  []CertificateLine `json:"modules"`
}

// Issue makes a certificate of the modules named that the person holds today,
// or of all of them.
func (s *Certificates) Issue(ctx context.Context, who Actor, personID string, modules []ModuleKey) (Certificate, error) {
	if err := who.Need(desk...); err != nil {
		return Certificate{}, err
	}
	if _, err := s.store.Person(ctx, who.Scope(), personID); err != nil {
		return Certificate{}, err
	}
	on, err := s.days.Today(ctx, who, "")
	if err != nil {
		return Certificate{}, err
	}
	held, err := s.held(ctx, personID, on)
	if err != nil {
		return Certificate{}, err
	}
	c := Certificate{Code: newCode(), PersonID: personID, Modules: held, IssuedAt: s.Now(), ByID: who.PersonID}
	if len(modules) > 0 {
		c.Modules = modules
	}
	if lacks := slices.ContainsFunc(c.Modules, func(k ModuleKey) bool { return !slices.Contains(held, k) }); lacks || len(c.Modules) == 0 {
		return Certificate{}, domain.Conflict("nothing-to-certify", "This person does not hold these modules today. Choose modules that are passed and still valid.")
	}
	return c, s.store.InTx(ctx, func(ctx context.Context) error {
		if err := s.store.AddCertificate(ctx, c); err != nil {
			return err
		}
		return s.record(ctx, who, c.IssuedAt, Change{Verb: "issue", Thing: "certificate", ThingID: c.Code, After: c})
	})
}

// held are the modules valid on the day, in the order of the packs.
func (s *Certificates) held(ctx context.Context, personID string, on calendar.Date) ([]ModuleKey, error) {
	passes, err := s.store.PassesOf(ctx, []string{personID})
	if err != nil {
		return nil, err
	}
	out := []ModuleKey{}
	for _, key := range modulesOf(s.Packs, s.Packs.Enterprises()) {
		if line := heldLine(passes, key, on); line.Valid {
			out = append(out, key)
		}
	}
	return out, nil
}

// heldLine is the pass that lasts longest of those known on the day.
func heldLine(passes []Pass, key ModuleKey, on calendar.Date) CertificateLine {
	var l CertificateLine
	for _, p := range passes {
		if p.Enterprise == key.Enterprise && p.Module == key.Module && p.On <= on && p.Until > l.Until {
			l.PassedOn, l.Until = p.On, p.Until
		}
	}
	l.Valid = l.Until >= on && l.Until != 0
	return l
}

// Check says what a certificate is worth today. Whoever has the code may ask;
// codes cannot be guessed, and a wrong one is answered like none.
func (s *Certificates) Check(ctx context.Context, code, language string) (CertificatePage, error) {
	c, err := s.store.Certificate(ctx, plainCode(code))
	if err != nil {
		return CertificatePage{}, err
	}
	return s.page(ctx, c, language)
}

// Own is Check for the person's own paper and for staff of the person.
func (s *Certificates) Own(ctx context.Context, who Actor, code, language string) (CertificatePage, error) {
	c, err := s.store.Certificate(ctx, plainCode(code))
	if err != nil {
		return CertificatePage{}, err
	}
	if c.PersonID != who.PersonID {
		if _, err := s.store.Person(ctx, who.Scope(), c.PersonID); err != nil || who.Need(desk...) != nil {
			return CertificatePage{}, domain.NotFound("certificate")
		}
	}
	return s.page(ctx, c, language)
}

func (s *Certificates) page(ctx context.Context, c Certificate, language string) (CertificatePage, error) {
	out := CertificatePage{Code: spokenCode(c.Code), Valid: true, Modules: []CertificateLine{}}
	people, err := s.store.PeopleByIDs(ctx, []string{c.PersonID})
	if err != nil || len(people) == 0 {
		return out, cmpErr(err, domain.NotFound("certificate"))
	}
	if out.On, err = s.days.Today(ctx, Actor{}, ""); err != nil {
		return out, err
	}
	passes, err := s.store.PassesOf(ctx, []string{c.PersonID})
	if err != nil {
		return out, err
	}
	out.Name, out.IssuedOn = people[0].Name, calendar.FromTime(c.IssuedAt)
	for _, key := range c.Modules {
		line := heldLine(passes, key, out.On)
		line.Name = nameIn(s.Packs, key, language)
		out.Modules, out.Valid = append(out.Modules, line), out.Valid && line.Valid
	}
	return out, nil
}

// cmpErr is the first error that is one.
func cmpErr(err, other error) error {
	if err != nil {
		return err
	}
	return other
}

func nameIn(packs *checklists.Set, key ModuleKey, language string) string {
	if p, ok := packs.Pack(key.Enterprise); ok {
		if m, ok := p.Module(key.Module); ok {
			return m.Name.In(language)
		}
	}
	return key.Module
}

// The letters of a code leave out I, L, O and U (base 32 of Crockford).
const (
	codeLetters = "0123456789ABCDEFGHJKMNPQRSTVWXYZ"
	codeLength  = 16 // 80 bits: nobody guesses one at two tries a second
	codeGroup   = 4
)

func newCode() string {
	raw := make([]byte, codeLength)
	_, _ = rand.Read(raw) // never fails (crypto/rand)
	for i, b := range raw {
		raw[i] = codeLetters[int(b)%len(codeLetters)]
	}
	return string(raw)
}

// plainCode reads a code as people type it: small letters, spaces and hyphens
// do not count, and look-alikes are taken for what they look like.
func plainCode(typed string) string {
	return strings.NewReplacer("-", "", " ", "", "O", "0", "I", "1", "L", "1").Replace(strings.ToUpper(typed))
}

// spokenCode is a code in groups of four.
func spokenCode(code string) string {
	var groups []string
	for rest := code; rest != ""; {
		n := min(codeGroup, len(rest))
		groups, rest = append(groups, rest[:n]), rest[n:]
	}
	return strings.Join(groups, "-")
}
