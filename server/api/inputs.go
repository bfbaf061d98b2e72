package api

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"strconv"
	"strings"

	"tendfold/domain"
	"tendfold/domain/calendar"
)

// Versioned is part of every change of something that has a version.
type Versioned struct {
	IfMatch string `header:"If-Match" maxLength:"40" doc:"The ETag that you read; without it 428, when it is stale 412."`
}

// version is the version that the caller saw.
func (v Versioned) version() (int, error) {
	text := strings.Trim(strings.TrimSpace(v.IfMatch), `"`)
	if text == "" {
		return 0, &domain.Error{Kind: domain.KindNoPrecondition, Code: "if-match-missing", Text: "Send If-Match with the ETag of what you are changing, so that nobody's change is lost."}
	}
	n, err := strconv.Atoi(text)
	if err != nil {
		return 0, domain.Stale()
	}
	return n, nil
}

// etag is the ETag of a version.
func etag(version int) string { return `"` + strconv.Itoa(version) + `"` }

// Once is part of every create: the same key with the same content is
// answered as the first time, for 120 days.
type Once struct {
	Key string `header:"Idempotency-Key" maxLength:"100" doc:"A key of your own for this create; sending it again changes nothing and answers the same."`
}

// once does a create once for its key. The key is kept in the transaction of
// the effect, so an answer that was lost can be asked for again and a create
// that failed can be tried again.
func once[I, O any](f Face, ctx context.Context, key, name string, in *I, do func(ctx context.Context) (*O, error)) (*O, error) {
	if key == "" {
		return do(ctx)
	}
	request, err := json.Marshal(in)
	if err != nil {
		return nil, err
	}
	sum := sha256.Sum256(append([]byte(name+"\n"), request...))
	var out *O
	kept, err := f.Keys.Once(ctx, actor(ctx), key, hex.EncodeToString(sum[:]), func(ctx context.Context) ([]byte, error) {
		if out, err = do(ctx); err != nil {
			return nil, err
		}
		return json.Marshal(out)
	})
	if err != nil || out != nil {
		return out, err
	}
	out = new(O)
	return out, json.Unmarshal(kept, out)
}

// day reads a civil date in an address; huma reads those in bodies.
func day(path, text string) (calendar.Date, error) {
	d, err := calendar.ParseDate(text)
	if err != nil {
		return 0, domain.Invalid("date-none", "This is not a date.", domain.Field{Path: path, Code: "date-none", Text: "Write it like 2026-03-12."})
	}
	return d, nil
}

// Listed is part of every list.
type Listed struct {
	Cursor string `query:"cursor" maxLength:"1000" doc:"The next of the page before; it belongs to the same filters."`
	Limit  int    `query:"limit" minimum:"0" maximum:"200" doc:"How many at most; 50 when left out."`
}
