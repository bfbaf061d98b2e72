package keys

import (
	"crypto/hmac"
	"crypto/sha256"
	"encoding/base64"
	"errors"
	"strconv"
	"strings"
	"time"
)

// A mark is a short text that only this server can have made:
// field.field.kid.mac. It is checked before anything is looked up, so a made
// up one costs no database read.

var errMark = errors.New("not one of ours, or its key is gone")

// maxMark bounds what is looked at; the longest of ours has 170 bytes.
const maxMark = 256

func mint(k *key, mac []byte, fields ...string) string {
	body := strings.Join(fields, ".") + "." + k.kid
	return body + "." + base64.RawURLEncoding.EncodeToString(sum(mac, body))
}

// read gives back the fields of a mark that was minted with that sub-key.
func (r *Ring) read(mark string, count int, sub func(*key) []byte) ([]string, error) {
	if len(mark) > maxMark {
		return nil, errMark
	}
	parts := strings.Split(mark, ".")
	if len(parts) != count+2 {
		return nil, errMark
	}
	k := r.byKID[parts[count]]
	if k == nil {
		return nil, errMark
	}
	mac, err := base64.RawURLEncoding.Strict().DecodeString(parts[count+1])
	if err != nil || !hmac.Equal(mac, sum(sub(k), strings.Join(parts[:count+1], "."))) {
		return nil, errMark
	}
	return parts[:count], nil
}

func sum(mac []byte, text string) []byte {
	h := hmac.New(sha256.New, mac)
	h.Write([]byte(text))
	return h.Sum(nil)
}

// Refresh is what a refresh token says: which session, and how many times it
// has been renewed. The token of a generation is always the same, so that a
// retry can be given the same answer without keeping any token anywhere.
type Refresh struct {
	SessionID  string // without dots
	Generation int64
}

// MintRefresh makes the refresh token.
func (r *Ring) MintRefresh(f Refresh) string {
	return mint(r.first, r.first.refresh, f.SessionID, strconv.FormatInt(f.Generation, 10))
}

// ReadRefresh checks a refresh token and says what it stands for. Whether
// that session still lives is for the caller to look up.
func (r *Ring) ReadRefresh(token string) (Refresh, error) {
	fields, err := r.read(token, 2, func(k *key) []byte { return k.refresh })
	if err != nil {
		return Refresh{}, err
	}
	generation, err := strconv.ParseInt(fields[1], 10, 64)
	return Refresh{SessionID: fields[0], Generation: generation}, err
}

// MintNonce makes a text for a phone to sign, good until the instant given.
// Nothing is stored until it is spent. random must be fresh, without dots.
func (r *Ring) MintNonce(random string, until time.Time) string {
	return mint(r.first, r.first.nonce, random, strconv.FormatInt(until.Unix(), 36))
}

// ReadNonce checks that a nonce is ours and says until when it is good. That
// it is used once is for the caller to see to.
func (r *Ring) ReadNonce(nonce string) (until time.Time, err error) {
	fields, err := r.read(nonce, 2, func(k *key) []byte { return k.nonce })
	if err != nil {
		return time.Time{}, err
	}
	seconds, err := strconv.ParseInt(fields[1], 36, 64)
	return time.Unix(seconds, 0).UTC(), err
}

// Browser is what the mark of a known browser says: this person has signed
// in here before, then.
type Browser struct {
	ID       string // random, names the browser in the counts of wrong tries
	PersonID string
	At       time.Time // to the second
}

// MintBrowser makes the mark of a known browser.
func (r *Ring) MintBrowser(b Browser) string {
	return mint(r.first, r.first.browser, b.ID, b.PersonID, strconv.FormatInt(b.At.Unix(), 36))
}

// ReadBrowser checks the mark of a known browser.
func (r *Ring) ReadBrowser(mark string) (Browser, error) {
	fields, err := r.read(mark, 3, func(k *key) []byte { return k.browser })
	if err != nil {
		return Browser{}, err
	}
	at, err := strconv.ParseInt(fields[2], 36, 64)
	return Browser{ID: fields[0], PersonID: fields[1], At: time.Unix(at, 0).UTC()}, err
}

// Stamp is a keyed hash for texts that are too short to be hashed bare:
// spoken codes, and what people type as their name. purpose keeps stamps of
// different things apart.
func (r *Ring) Stamp(purpose, text string) string { return stamp(r.first, purpose, text) }

// Stamped says whether a stored stamp is that text's, under any key held.
func (r *Ring) Stamped(stored, purpose, text string) bool {
	kid, _, _ := strings.Cut(stored, ".")
	k := r.byKID[kid]
	return k != nil && hmac.Equal([]byte(stored), []byte(stamp(k, purpose, text)))
}

func stamp(k *key, purpose, text string) string {
	return k.kid + "." + base64.RawURLEncoding.EncodeToString(sum(k.stamp, purpose+"\x00"+text))
}
