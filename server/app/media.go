package app

import (
	"context"
	"fmt"
	"regexp"
	"slices"
	"time"

	"tendfold/domain"
	"tendfold/domain/farm"
	"tendfold/server/media"
)

// MediaState is how far a photo or a voice note is.
type MediaState string

// The states of a photo or a voice note.
const (
	MediaComing  MediaState = "coming"  // announced; its pieces are under way
	MediaKept    MediaState = "kept"    // whole, looked at, on the disk
	MediaRefused MediaState = "refused" // it cannot be kept, and why
)

// Medium is a photo or a voice note of an entry. The entry may come after it.
type Medium struct {
	ID          string        `json:"id"`
	FarmID      string        `json:"-"`
	EntryID     string        `json:"entry_id"`
	Kind        media.Kind    `json:"kind" enum:"photo,voice"`
	PersonID    string        `json:"-"`
	Size        int64         `json:"-"` // as sent, in bytes
	SHA256      string        `json:"-"` // of what is sent
	Taken       farm.Position `json:"taken,omitzero" doc:"Where it was taken, if the person agreed to say so."`
	AnnouncedAt time.Time     `json:"-"`
	State       MediaState    `json:"state" enum:"coming,kept,refused"`
	Why         string        `json:"why,omitempty" doc:"Code of a refusal."`
	KeptAt      time.Time     `json:"kept_at,omitzero"`
	Blob        string        `json:"-"`
	Thumb       string        `json:"-"`
	Type        string        `json:"type,omitempty" doc:"By content, not by name."`
	Bytes       int64         `json:"bytes,omitempty"`
	Width       int           `json:"width,omitempty"`
	Height      int           `json:"height,omitempty"`
}

// mediaStore is what Media needs of the database.
type mediaStore interface {
	Store
	Farm(ctx context.Context, sc Scope, id string) (FarmLine, error)
	Event(ctx context.Context, sc Scope, id string) (Event, error)
	AddMedia(ctx context.Context, m Medium) error
	Media(ctx context.Context, sc Scope, id string) (Medium, error)
	MediaOf(ctx context.Context, entryIDs []string) ([]Medium, error)
	MediaSince(ctx context.Context, personID string, since time.Time) (n int, bytes int64, err error)
	EndMedia(ctx context.Context, m Medium) error
	RaiseMark(ctx context.Context, eventID string) error
}

// Media takes photos and voice notes in pieces and gives them out again.
type Media struct {
	Core
	store mediaStore
	files *media.Keeper
	queue Queue
}

// NewMedia wires the use case.
func NewMedia(core Core, store mediaStore, files *media.Keeper, queue Queue) *Media {
	return &Media{Core: core, store: store, files: files, queue: queue}
}

// NewMedium announces a photo or a voice note.
type NewMedium struct {
	ID, FarmID, EntryID string
	Kind                media.Kind
	Size                int64
	SHA256              string
	Taken               farm.Position
}

// Upload is how far one is: from which byte to go on.
type Upload struct {
	Medium
	Received int64 `json:"received" doc:"Bytes that have come; go on from there."`
	MostPart int   `json:"most_part" doc:"Most bytes in one piece."`
}

// What one person may send in 24 hours: sixty days of photos at once, and
// room to spare (our choice). An entry carries a few.
const (
	mostMediaPerEntry = 8
	mostMediaPerDay   = 300
	mostBytesPerDay   = 120 << 20
)

var (
	mediaID = regexp.MustCompile(`^[0-9a-f]{8}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{12}$`)
	hexHash = regexp.MustCompile(`^[0-9a-f]{64}$`)
)

func (in NewMedium) check() error {
	var fields []domain.Field
	ask := func(ok bool, path, text string) {
		if !ok {
			fields = append(fields, domain.Field{Path: path, Code: "invalid", Text: text})
		}
	}
	most := media.MostBytes(in.Kind)
	ask(mediaID.MatchString(in.ID), "id", "A UUID in small letters, made by whoever sends.")
	ask(in.EntryID != "", "entry_id", "Say to which entry this belongs.")
	ask(most > 0, "kind", "Send photo or voice.")
	ask(in.Size > 0, "size", "Say how many bytes will come.")
	ask(hexHash.MatchString(in.SHA256), "sha256", "The SHA-256 of the bytes, in hexadecimal.")
	ask(in.Taken.Lat >= -90 && in.Taken.Lat <= 90 && in.Taken.Lng >= -180 && in.Taken.Lng <= 180, "taken", "A position lies within 90 and 180 degrees.")
	if fields != nil {
		return domain.Invalid("media-announced", "This cannot be announced as it is.", fields...)
	}
	if in.Size > most {
		return &domain.Error{Kind: domain.KindTooLarge, Code: "media-too-large", Text: fmt.Sprintf("At most %d MB.", most>>20)}
	}
	return nil
}

// Announce says what will come. The same announcement again answers how far
// it is; so a phone that never saw an answer asks where to go on.
func (s *Media) Announce(ctx context.Context, who Actor, in NewMedium) (Upload, error) {
	if err := who.Need(append([]farm.Role{farm.Caretaker}, desk...)...); err != nil {
		return Upload{}, err
	}
	if err := in.check(); err != nil {
		return Upload{}, err
	}
	var m Medium
	err := s.store.InTx(ctx, func(ctx context.Context) (err error) {
		m, err = s.announced(ctx, who, in)
		return err
	})
	if err != nil {
		return Upload{}, err
	}
	return s.upload(m)
}

func (s *Media) announced(ctx context.Context, who Actor, in NewMedium) (Medium, error) {
	line, err := s.store.Farm(ctx, who.Scope(), in.FarmID)
	if err != nil {
		return Medium{}, err
	}
	m := Medium{
		ID: in.ID, FarmID: line.ID, EntryID: in.EntryID, Kind: in.Kind, PersonID: who.PersonID, Size: in.Size, SHA256: in.SHA256,
		Taken: in.Taken, AnnouncedAt: s.Now(), State: MediaComing,
	}
	switch old, err := s.store.Media(ctx, Everything, in.ID); {
	case err == nil && old.says(m):
		return old, nil
	case err == nil:
		return Medium{}, domain.Conflict("media-id-taken", "Another photo or voice note has this id already. Make a new id for a new one.")
	case domain.KindOf(err) != domain.KindNotFound:
		return Medium{}, err
	}
	if err := s.mayCome(ctx, who, m); err != nil {
		return Medium{}, err
	}
	if err := s.store.AddMedia(ctx, m); err != nil {
		return Medium{}, err
	}
	return m, s.record(ctx, who, m.AnnouncedAt, Change{Verb: "announce", Thing: "media", ThingID: m.ID, FarmID: m.FarmID, After: m})
}

// says compares what two announcements state.
func (m Medium) says(o Medium) bool {
	return m.ID == o.ID && m.FarmID == o.FarmID && m.EntryID == o.EntryID && m.Kind == o.Kind && m.PersonID == o.PersonID &&
		m.Size == o.Size && m.SHA256 == o.SHA256 && m.Taken == o.Taken
}

// mayCome refuses one for somebody else's entry, and more than there is room
// for.
func (s *Media) mayCome(ctx context.Context, who Actor, m Medium) error {
	entry, err := s.store.Event(ctx, Everything, m.EntryID)
	if err != nil && domain.KindOf(err) != domain.KindNotFound {
		return err
	}
	if err == nil && (entry.FarmID != m.FarmID || entry.PersonID != who.PersonID && !who.Staff()) {
		return domain.NotFound("entry")
	}
	same, err := s.store.MediaOf(ctx, []string{m.EntryID})
	if err != nil {
		return err
	}
	if len(same) >= mostMediaPerEntry {
		return domain.Conflict("media-many", fmt.Sprintf("An entry carries at most %d photos and voice notes. Make another entry for more.", mostMediaPerEntry))
	}
	n, bytes, err := s.store.MediaSince(ctx, who.PersonID, m.AnnouncedAt.Add(-24*time.Hour))
	if err == nil && (n >= mostMediaPerDay || bytes+m.Size > mostBytesPerDay) {
		return &domain.Error{Kind: domain.KindTooMany, Code: "media-day", Text: "That is much for one day. The rest can be sent tomorrow."}
	}
	return err
}

func (s *Media) upload(m Medium) (Upload, error) {
	out := Upload{Medium: m, Received: m.Size, MostPart: media.MostChunk}
	if m.State != MediaComing {
		return out, nil
	}
	var err error
	out.Received, err = s.files.Received(m.ID)
	return out, err
}

// mine is one that the actor announced.
func (s *Media) mine(ctx context.Context, who Actor, id string) (Medium, error) {
	m, err := s.store.Media(ctx, who.Scope(), id)
	if err == nil && m.PersonID != who.PersonID {
		return Medium{}, domain.NotFound("media")
	}
	return m, err
}

// Append takes a piece that follows what has come.
func (s *Media) Append(ctx context.Context, who Actor, id string, offset int64, piece []byte) (Upload, error) {
	m, err := s.mine(ctx, who, id)
	if err != nil {
		return Upload{}, err
	}
	if m.State != MediaComing {
		return s.upload(m)
	}
	if len(piece) > media.MostChunk {
		return Upload{}, &domain.Error{Kind: domain.KindTooLarge, Code: "media-part", Text: fmt.Sprintf("Send at most %d bytes in one piece.", media.MostChunk)}
	}
	if _, err := s.files.Append(m.ID, offset, m.Size, piece); err != nil {
		return Upload{}, err
	}
	return s.upload(m)
}

// Finish takes what has come as whole. It may be repeated: what became of it
// is said again.
func (s *Media) Finish(ctx context.Context, who Actor, id string) (Upload, error) {
	m, err := s.mine(ctx, who, id)
	if err != nil {
		return Upload{}, err
	}
	if m.State == MediaComing {
		if m, err = s.finish(ctx, who, m); err != nil {
			return Upload{}, err
		}
	}
	return s.upload(m)
}

// finish unpacks outside the transaction: that takes time, and files are not
// undone with it. What a crash leaves between the two is filed again under
// the same name.
func (s *Media) finish(ctx context.Context, who Actor, m Medium) (Medium, error) {
	made, err := s.files.Finish(ctx, m.ID, media.Want{Kind: m.Kind, Size: m.Size, SHA256: m.SHA256})
	m.KeptAt = s.Now()
	switch {
	case err == nil:
		m.State, m.Blob, m.Thumb, m.Type = MediaKept, made.Blob, made.Thumb, made.Type
		m.Bytes, m.Width, m.Height = made.Size, made.Width, made.Height
	case domain.KindOf(err) == domain.KindInvalid:
		m.State, m.Why = MediaRefused, domain.CodeOf(err)
	default:
		return m, err
	}
	err = s.store.InTx(ctx, func(ctx context.Context) error { return s.end(ctx, who, m) })
	if domain.CodeOf(err) == "media-ended" { // another tab was faster
		if m, err = s.store.Media(ctx, Everything, m.ID); err != nil {
			return m, err
		}
	}
	if err != nil {
		return m, err
	}
	return m, s.files.Forget(m.ID)
}

// end writes what became of it. The farm's row comes first, as with every
// change of a farm, so that its entry, should it come at this very moment,
// is judged before or after and never past it.
func (s *Media) end(ctx context.Context, who Actor, m Medium) error {
	if err := s.queue.SweepFarm(ctx, m.FarmID); err != nil {
		return err
	}
	if err := s.store.EndMedia(ctx, m); err != nil {
		return err
	}
	if err := s.raise(ctx, m); err != nil {
		return err
	}
	return s.record(ctx, who, m.KeptAt, Change{Verb: string(m.State), Thing: "media", ThingID: m.ID, FarmID: m.FarmID, After: m})
}

// raise makes the mark of an item the better for a photo that came after it.
func (s *Media) raise(ctx context.Context, m Medium) error {
	if m.State != MediaKept || m.Kind != media.Photo {
		return nil
	}
	entry, err := s.store.Event(ctx, Everything, m.EntryID)
	if domain.KindOf(err) == domain.KindNotFound {
		return nil // it will find the photo
	}
	if err != nil || entry.Kind != EntryItem || !m.provesFor(entry) {
		return err
	}
	return s.store.RaiseMark(ctx, entry.ID)
}

// provesFor says whether this is evidence for an entry: kept, of the same
// farm and person, and named by it.
func (m Medium) provesFor(e Event) bool {
	return m.State == MediaKept && m.Kind == media.Photo && m.EntryID == e.ID && m.FarmID == e.FarmID &&
		m.PersonID == e.PersonID && slices.Contains(attachedOf(e.Data), m.ID)
}

// File is the bytes of a photo or a voice note.
type File struct {
	Type    string
	Tag     string // changes with the content
	Name    string
	Content []byte
}

// Read is what is kept of one, or of a photo its small picture. Who may read
// it may read its entry: the firm's people of the branch, and whoever sent it.
func (s *Media) Read(ctx context.Context, who Actor, id string, small bool) (File, error) {
	if err := who.Need(append([]farm.Role{farm.Caretaker}, desk...)...); err != nil {
		return File{}, err
	}
	m, err := s.store.Media(ctx, who.Scope(), id)
	if err != nil {
		return File{}, err
	}
	blob := m.Blob
	if small {
		blob = m.Thumb
	}
	if blob == "" || !who.Staff() && m.PersonID != who.PersonID {
		return File{}, domain.NotFound("media")
	}
	content, err := s.files.Read(blob)
	return File{Type: m.Type, Tag: blob, Name: string(m.Kind) + "-" + m.ID[len(m.ID)-12:], Content: content}, err
}

// partLife is for how long pieces wait for the rest.
const partLife = 90 * 24 * time.Hour

// Tidy throws away what never became whole.
func (s *Media) Tidy(context.Context) error { return s.files.Tidy(s.Now().Add(-partLife)) }
