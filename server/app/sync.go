package app

import (
	"bytes"
	"context"
	"encoding/json"
	"reflect"
	"time"

	"tendfold/domain"
)

// Sent is one entry of a page from a phone. Err says why it could not be
// read at all; then only its id is known, if that.
type Sent struct {
	Event
	Err error
}

// ReceiptState is what became of an entry that a phone sent.
type ReceiptState string

// The states of a receipt.
const (
	Kept       ReceiptState = "kept"        // it is on record now
	KeptBefore ReceiptState = "kept-before" // it was already: the phone never saw the answer
	Refused    ReceiptState = "refused"     // it cannot be kept as it is, and why
	Later      ReceiptState = "later"       // our fault; nothing changed, send it again
)

// Receipt answers one entry.
type Receipt struct {
	ID    string
	State ReceiptState
	Err   error
}

// Sync takes a page of entries that a phone kept while it had no network. A
// bad entry never holds up the others: each can be undone alone, and is
// answered by one receipt in the order of the page. An entry that is on record
// already is answered before it is judged: what has changed since, a closed
// farm or an ended cycle, does not take it back.
//
// The page is one transaction, so that two months of entries cost one wait for
// the disk and one sweep of the farm for each page. Where the database fails
// on one of them, nothing of the page is kept and its entries are taken again
// one by one, each in a transaction of its own.
//
// sentAt is the phone's clock at sending. When it is off by more than five
// minutes, every entry of the page is flagged; the days that they state stay
// as stated. Sync fails as a whole only when the database is busy or the
// phone has gone; whatever was kept by then is kept.
func (s *Entries) Sync(ctx context.Context, who Actor, sentAt time.Time, sent []Sent) ([]Receipt, error) {
	off := clockIsOff(sentAt, s.Now())
	for i := range sent {
		sent[i].ClockOff = off
	}
	if out, ok := s.together(ctx, who, sent); ok {
		return out, nil
	}
	out := make([]Receipt, len(sent))
	for i, e := range sent {
		r, err := s.take(ctx, who, e)
		if err != nil {
			return nil, err
		}
		out[i] = r
	}
	return out, nil
}

// together takes a page in one transaction; false when the database would not
// have all of it, and then it has none.
func (s *Entries) together(ctx context.Context, who Actor, sent []Sent) ([]Receipt, bool) {
	out := make([]Receipt, len(sent))
	err := s.store.InTx(ctx, func(ctx context.Context) error {
		p := newPage()
		ctx = context.WithValue(ctx, pageKey{}, p)
		if err := s.findKnown(ctx, p, sent); err != nil {
			return err
		}
		for i, e := range sent {
			r, err := s.take(ctx, who, e)
			if err == nil && r.State == Later {
				err = r.Err
			}
			if err != nil {
				return err
			}
			out[i] = r
		}
		return s.store.RecordAll(ctx, s.Now(), who.PersonID, s.NewID, p.audit)
	})
	return out, err == nil
}

// findKnown asks once which entries of the page are on record already.
func (s *Entries) findKnown(ctx context.Context, p *page, sent []Sent) error {
	ids := make([]string, len(sent))
	for i, e := range sent {
		ids[i] = e.ID
	}
	known, err := s.store.KnownEvents(ctx, ids)
	for _, id := range known {
		p.known[id] = true
	}
	return err
}

// page is what the entries of one transaction need but once.
type page struct {
	swept map[string]bool
	farms map[string]FarmLine // no entry changes the row of a farm
	known map[string]bool     // entries that are on record
	audit []Change            // written at the end of the page
}

type pageKey struct{}

func newPage() *page {
	return &page{swept: map[string]bool{}, farms: map[string]FarmLine{}, known: map[string]bool{}}
}

func pageOf(ctx context.Context) (*page, bool) {
	p, ok := ctx.Value(pageKey{}).(*page)
	return p, ok
}

// recordEntry writes the audit of an entry, or keeps it for the page's end.
func (s *Entries) recordEntry(ctx context.Context, e *entry) error {
	c := Change{Verb: "add", Thing: "entry", ThingID: e.ID, FarmID: e.FarmID, After: e.Event}
	if p, ok := pageOf(ctx); ok {
		p.audit = append(p.audit, c)
		p.known[e.ID] = true
		return nil
	}
	return s.record(ctx, e.who, e.at, c)
}

// sweepOnce counts the farm's change and queues its sweep, once a page. undo
// says that what was done since is undone, the queueing with it.
func (s *Entries) sweepOnce(ctx context.Context, farmID string) (undo func(), err error) {
	p, ok := pageOf(ctx)
	if ok && p.swept[farmID] {
		return func() {}, nil
	}
	if err := s.queue.SweepFarm(ctx, farmID); err != nil || !ok {
		return func() {}, err
	}
	p.swept[farmID] = true
	return func() { delete(p.swept, farmID) }, nil
}

// farmOf is the farm that an entry names, looked up once a page.
func (s *Entries) farmOf(ctx context.Context, who Actor, id string) (FarmLine, error) {
	p, ok := pageOf(ctx)
	if ok {
		if f, known := p.farms[id]; known {
			return f, nil
		}
	}
	f, err := s.store.Farm(ctx, who.Scope(), id)
	if ok && err == nil {
		p.farms[id] = f
	}
	return f, err
}

// clockIsOff says whether a clock that was read just now was wrong, either
// way. A phone that does not tell its clock is not accused.
func clockIsOff(told, now time.Time) bool {
	return !told.IsZero() && told.Sub(now).Abs() > clockError
}

// take is one entry's receipt; its error is one that ends the page.
func (s *Entries) take(ctx context.Context, who Actor, e Sent) (Receipt, error) {
	if domain.KindOf(e.Err) == domain.KindInternal && e.Err != nil {
		return Receipt{e.ID, Later, e.Err}, nil
	}
	if e.Err != nil {
		return Receipt{e.ID, Refused, e.Err}, nil
	}
	if p, ok := pageOf(ctx); !ok || p.known[e.ID] {
		if before, err := s.keptBefore(ctx, who, e.Event); before || err != nil {
			return Receipt{ID: e.ID, State: KeptBefore}, err
		}
	}
	_, err := s.Add(ctx, who, e.Event)
	switch {
	case err == nil:
		return Receipt{ID: e.ID, State: Kept}, nil
	case ctx.Err() != nil, domain.KindOf(err) == domain.KindBusy:
		return Receipt{}, err
	case domain.KindOf(err) == domain.KindInternal:
		return Receipt{e.ID, Later, err}, nil
	}
	// Another tab may have brought the same entry in between.
	if before, lost := s.keptBefore(ctx, who, e.Event); before || lost != nil {
		return Receipt{ID: e.ID, State: KeptBefore}, lost
	}
	return Receipt{e.ID, Refused, err}, nil
}

// keptBefore says whether this very entry of this person is on record.
func (s *Entries) keptBefore(ctx context.Context, who Actor, e Event) (bool, error) {
	old, err := s.store.Event(ctx, Everything, e.ID)
	if domain.KindOf(err) == domain.KindNotFound {
		return false, nil
	}
	return err == nil && old.PersonID == who.PersonID && old.says(e), err
}

// says compares what two entries state. Which unit a cycle is in was filled
// in by the server; through which phone an entry came is not content.
func (e Event) says(o Event) bool {
	return e.ID == o.ID && e.Kind == o.Kind && e.FarmID == o.FarmID && e.CycleID == o.CycleID && e.On == o.On &&
		(e.UnitID == o.UnitID || o.CycleID != "") && e.Replaces == o.Replaces && sameData(e.Data, o.Data)
}

// sameData compares what was said, not how it was written down.
func sameData(a, b json.RawMessage) bool {
	var x, y map[string]any
	if len(a) > 0 && json.Unmarshal(a, &x) != nil || len(b) > 0 && json.Unmarshal(b, &y) != nil {
		return bytes.Equal(a, b)
	}
	return len(x) == 0 && len(y) == 0 || reflect.DeepEqual(x, y)
}
