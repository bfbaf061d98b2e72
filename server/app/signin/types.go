package signin

import (
	"time"

	"tendfold/domain/farm"
)

// Password is how a member of staff signs in.
type Password struct {
	PersonID    string
	Login       string // e-mail or phone, folded
	Hash        string
	Short       bool   // under 15 characters: good with a second factor only
	TOTP        string // sealed secret of the code app, "" = none
	TOTPPending string // sealed secret that is shown but not proved yet
	TOTPStep    int64  // last time step whose code was used
	ChangedAt   time.Time
}

// Purpose is what an enrolment is for.
type Purpose string

// The purposes.
const (
	ForPhone    Purpose = "phone"    // enrol a phone
	ForPassword Purpose = "password" // choose a password; a code app stays
	ForReset    Purpose = "reset"    // choose a password and forget the code app
)

// Kind is how an enrolment is handed over.
type Kind string

// The kinds.
const (
	ByLink Kind = "link" // 128 bits in a URL fragment or QR code, 48 hours
	ByCode Kind = "code" // 8 characters read out, 10 minutes, 5 tries
)

// Way is a key to find an enrolment by.
type Way string

// The ways: a link is found by the hash of its secret, a code by its first
// three characters.
const (
	BySecret Way = "secret"
	ByHandle Way = "handle"
)

// Enrolment is a way in, for one person, once.
type Enrolment struct {
	ID        string
	PersonID  string
	Purpose   Purpose
	Kind      Kind
	Handle    string
	Secret    string // a hash
	MadeBy    string
	MadeAt    time.Time
	ExpiresAt time.Time
	Failures  int
	SpentAt   time.Time
	DeviceID  string // of the phone that spent it
}

// Device is an enrolled phone: a key, and the person whose it is. A phone
// that a family shares is one Device for each person.
type Device struct {
	ID         string    `json:"id"`
	PersonID   string    `json:"person_id"`
	Name       string    `json:"name"`
	PublicKey  string    `json:"-"` // JWK
	EnrolledAt time.Time `json:"enrolled_at"`
	SeenAt     time.Time `json:"seen_at"`
	Failures   int       `json:"failures"` // wrong PINs in a row, as the phone says
	RevokedAt  time.Time `json:"revoked_at,omitzero"`
}

// Session is one sign-in: a family of refresh tokens.
type Session struct {
	ID         string
	PersonID   string
	DeviceID   string // "" = a browser with a password
	Generation int64  // of the newest refresh token
	RotatedAt  time.Time
	StartedAt  time.Time
	ExpiresAt  time.Time
	EndedAt    time.Time
	EndedWhy   string
	Agent      string // the browser, as it calls itself
}

// EndFilter picks live sessions: of a person, of a device, or one; but not
// Keep.
type EndFilter struct {
	PersonID string
	DeviceID string
	ID       string
	Keep     string
}

// Bearer is all that a request needs to know of who sends it, read in one go.
type Bearer struct {
	Session       Session
	Person        farm.Person // id, name, language, active, grants
	DeviceRevoked bool
}

// Purge says what is old enough to be deleted.
type Purge struct {
	Now      time.Time // nonces and handles of codes that are over
	Tries    time.Time // counts that nobody touched since
	Sessions time.Time // sessions that ended or ran out before
	Ways     time.Time // enrolments that ran out before
}
