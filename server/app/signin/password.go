package signin

import (
	"context"
	"crypto/rand"
	"net/netip"
	"strings"
	"time"

	"tendfold/domain"
	"tendfold/domain/farm"
	"tendfold/server/app"
	"tendfold/server/app/signin/keys"
)

// SignIn is what a member of staff types, and where from.
type SignIn struct {
	Login    string // e-mail or phone
	Password string
	Code     string // of the code app, "" when not asked yet
	Network  string // see Network
	Browser  string // mark of a known browser, from its cookie
	Cookie   string // refresh token of the session that this one takes the place of
	Agent    string
}

// SignIn checks name, password and code, and starts a session. Whatever is
// wrong, and whether or not there is such a person, the answer and the work
// are the same; only who knows the password learns that a code is missing.
func (s *Service) SignIn(ctx context.Context, in SignIn) (Signed, error) {
	now := s.now()
	login := foldLogin(in.Login)
	pw, err := s.store.PasswordByLogin(ctx, login)
	if err != nil && domain.KindOf(err) != domain.KindNotFound {
		return Signed{}, err
	}
	doors, browser, err := s.doors(ctx, now, pw, login, in)
	if err == nil {
		err = s.charge(ctx, now, doors...)
	}
	if err != nil {
		s.refusedAtTheDoor(ctx, pw, in, err)
		return Signed{}, err
	}
	ok, upgrade, err := s.hash.Check(ctx, in.Password, pw.Hash)
	if err != nil {
		return Signed{}, err
	}
	if !ok {
		err := wrong()
		s.refusedAtTheDoor(ctx, pw, in, err)
		return Signed{}, err
	}
	rehashed := ""
	if upgrade {
		if rehashed, err = s.hash.Make(ctx, in.Password); err != nil {
			return Signed{}, err
		}
	}
	out, err := s.enter(ctx, now, pw, rehashed, in, doors)
	if domain.CodeOf(err) == codeNeededCode {
		if back := s.askForCode(ctx, now, doors); back != nil {
			return Signed{}, back
		}
		return Signed{}, err
	}
	if err != nil {
		s.refusedAtTheDoor(ctx, pw, in, err)
		return Signed{}, err
	}
	out.Browser = s.mark(browser, out.Person.ID, now)
	s.log.InfoContext(ctx, "signed in", "person", out.Person.ID, "session", out.SessionID, "network", in.Network)
	return out, nil
}

// askForCode takes back the try that was right as far as it went. It takes
// back one and never all: else whoever has the password could guess at the
// code for ever.
func (s *Service) askForCode(ctx context.Context, now time.Time, doors []door) error {
	return s.store.InTx(ctx, func(ctx context.Context) error {
		for _, d := range inOrder(doors) {
			if err := s.takeBack(ctx, now, d); err != nil {
				return err
			}
		}
		return nil
	})
}

// enter does in one transaction all that follows a right password.
func (s *Service) enter(ctx context.Context, now time.Time, checked Password, rehashed string, in SignIn, doors []door) (out Signed, err error) {
	err = s.store.InTx(ctx, func(ctx context.Context) error {
		pw, err := s.store.LockPassword(ctx, checked.PersonID)
		if err != nil {
			return err
		}
		p, err := s.store.Person(ctx, app.Everything, pw.PersonID)
		if err != nil {
			return err
		}
		if pw.Hash != checked.Hash || !p.Active {
			return wrong() // changed or disabled while we were hashing
		}
		if pw, err = s.secondFactor(pw, in.Code, now); err != nil {
			return err
		}
		if rehashed != "" {
			pw.Hash = rehashed
		}
		if err := s.store.PutPassword(ctx, pw); err != nil {
			return err
		}
		if err := s.forgive(ctx, now, append(doors, s.accountDoor(pw.Login))...); err != nil {
			return err
		}
		if err := s.leave(ctx, now, in.Cookie, p.ID); err != nil {
			return err
		}
		if out, err = s.begin(ctx, now, p, "", in.Agent); err != nil {
			return err
		}
		return s.record(ctx, now, p.ID, app.Change{Verb: "sign-in", Thing: "session", ThingID: out.SessionID, After: map[string]string{"network": in.Network}})
	})
	return out, err
}

// leave ends the session that the browser was in, if it was this person's, so
// that no token of before outlives a new sign-in.
func (s *Service) leave(ctx context.Context, now time.Time, cookie, personID string) error {
	token, err := s.keys.ReadRefresh(cookie)
	if err != nil {
		return nil // there was none
	}
	_, err = s.store.EndSessions(ctx, EndFilter{ID: token.SessionID, PersonID: personID}, "signed in again", now)
	return err
}

// doors are the counts that this try goes by. A browser in which this person
// has signed in since the password was last changed has a count of its own,
// so that what strangers do never closes it.
func (s *Service) doors(ctx context.Context, now time.Time, pw Password, login string, in SignIn) ([]door, string, error) {
	b, err := s.keys.ReadBrowser(in.Browser)
	if err == nil && pw.PersonID != "" && b.PersonID == pw.PersonID && !b.At.Before(pw.ChangedAt.Truncate(time.Second)) {
		d := door{scope: "browser " + b.ID, limit: atBrowser}
		tries, err := s.tries(ctx, d.scope, now)
		if err != nil || tries.Failures < browserTries {
			return []door{d}, b.ID, err
		}
	}
	account := s.accountDoor(login)
	return []door{
		account,
		{scope: account.scope + "@" + in.Network, limit: atDoor},
		{scope: "network " + in.Network, limit: atNetwork, shared: true},
	}, "", nil
}

func (s *Service) tries(ctx context.Context, scope string, now time.Time) (t Tries, err error) {
	err = s.store.InTx(ctx, func(ctx context.Context) error {
		t, err = s.store.LockTries(ctx, scope, now)
		return err
	})
	return t, err
}

func (s *Service) accountDoor(login string) door {
	return door{scope: "account " + s.keys.Stamp("login", login), limit: atAccount}
}

// mark is the new mark of a browser: it keeps its name, for its own count.
func (s *Service) mark(browserID, personID string, now time.Time) string {
	if browserID == "" {
		browserID = rand.Text()
	}
	return s.keys.MintBrowser(keys.Browser{ID: browserID, PersonID: personID, At: now})
}

// refusedAtTheDoor logs a refusal without what was typed: people type their
// password into the name's field.
func (s *Service) refusedAtTheDoor(ctx context.Context, pw Password, in SignIn, err error) {
	s.log.WarnContext(ctx, "sign-in refused", "why", domain.CodeOf(err), "person", pw.PersonID, "network", in.Network)
}

func wrong() error {
	return &domain.Error{Kind: domain.KindUnauthenticated, Code: "sign-in-wrong", Text: "Name, password or code is wrong. Check them and try again."}
}

const codeNeededCode = "code-needed"

func codeNeeded() error {
	return &domain.Error{Kind: domain.KindUnauthenticated, Code: codeNeededCode, Text: "Type the six digits that your code app shows now."}
}

// foldLogin brings what is typed as a name to one form: an e-mail in small
// letters, a phone as + and digits.
func foldLogin(typed string) string {
	text := strings.ToLower(strings.TrimSpace(typed))
	if strings.Contains(text, "@") {
		return text
	}
	digits := strings.Map(func(r rune) rune {
		if strings.ContainsRune(" -.()/\u00a0\u202f", r) {
			return -1
		}
		return r
	}, text)
	if rest, ok := strings.CutPrefix(digits, "00"); ok {
		return "+" + rest
	}
	return digits
}

// loginOf is the name under which a person signs in: e-mail, else phone.
func loginOf(p farm.Person) string {
	if p.Email != "" {
		return foldLogin(p.Email)
	}
	return foldLogin(p.Phone)
}

// Network is the side from which tries are counted: an IPv4 address, or the
// /64 of an IPv6 one, of which one customer has them all.
func Network(addr netip.Addr) string {
	addr = addr.Unmap().WithZone("")
	if !addr.Is6() {
		return addr.String()
	}
	p, err := addr.Prefix(64)
	if err != nil {
		return addr.String()
	}
	return p.String()
}
