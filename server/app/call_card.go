package app

import (
	"context"
	"strings"
	"time"

	"tendfold/checklists"
	"tendfold/domain"
	"tendfold/domain/calendar"
	"tendfold/domain/ticket"
	"tendfold/domain/triage"
)

// CardGiven is a triage card as it was walked on a call.
type CardGiven struct {
	Enterprise string
	Sign       string
	Version    int
	Language   string // in which it was said
	Answers    []triage.Given
	Why        string // why the ticket says something else than the card
	Text       string // as sent to the farm by text message, "" = not sent
}

// CallCard is what a card came to on a call, with the sentences as they were
// said: a later version of the card changes nothing here.
type CallCard struct {
	CallID     string            `json:"call_id"`
	FarmID     string            `json:"farm_id"`
	Enterprise string            `json:"enterprise"`
	Sign       string            `json:"sign"`
	Version    int               `json:"version" doc:"Of the card."`
	Language   string            `json:"language"`
	Answers    []triage.Given    `json:"answers"`
	Ending     string            `json:"ending" doc:"Empty when the call ended before the card did."`
	Suspects   []triage.Suspect  `json:"suspects"`
	Impact     ticket.Impact     `json:"impact"`
	TimeToLoss ticket.TimeToLoss `json:"time_to_loss"`
	Danger     bool              `json:"danger"`
	Go         triage.Going      `json:"go"`
	Sentences  []string          `json:"sentences" doc:"As they were said: what to do now, advice, cautions."`
	Why        string            `json:"why" doc:"Why the ticket says something else."`
	SentText   string            `json:"sent_text"`
	TellBy     time.Time         `json:"tell_by,omitzero" doc:"By when the veterinary service must be told."`
	ToldAt     time.Time         `json:"told_at,omitzero"`
	ToldBy     string            `json:"told_by"`
	ToldHow    string            `json:"told_how"`
}

// tellWithin is how soon suspicion of a notifiable disease goes to the
// veterinary service (product's cautions).
const tellWithin = 24 * time.Hour

// takeCard puts what a card came to beside its call. A card is about a farm,
// so it waits until the farm is known.
func (s *Calls) takeCard(ctx context.Context, c *Call, in CallNote, at time.Time) error {
	if in.Card == nil || c.FarmID == "" {
		return nil
	}
	done, err := s.walked(*in.Card)
	if err != nil {
		return err
	}
	if t := in.Ticket; t != nil && t.Outcome == "" && done.Why == "" && (t.Impact != done.Impact || t.TimeToLoss != done.TimeToLoss || t.Danger != done.Danger) {
		return domain.Invalid("triage-why", "You see this differently from the card. Say why in a few words.",
			domain.Field{Path: "card.why", Code: "required", Text: "Say why in a few words."})
	}
	done.CallID, done.FarmID = c.ID, c.FarmID
	if !done.TellBy.IsZero() {
		done.TellBy = at.Add(tellWithin)
	}
	return s.store.PutCallCard(ctx, done)
}

// walked follows the answers anew: what a desk sends is not taken on trust.
func (s *Calls) walked(in CardGiven) (CallCard, error) {
	p, ok := s.Packs.Pack(in.Enterprise)
	if !ok {
		return CallCard{}, domain.NotFound("pack")
	}
	card, ok := p.TriageCard(in.Sign)
	if !ok {
		return CallCard{}, domain.NotFound("triage-card")
	}
	if card.Version != in.Version {
		return CallCard{}, domain.Conflict("triage-card-changed", "This card has a new version. Open it again and answer from the start; your note is kept.")
	}
	out, err := card.Graph().Walk(in.Answers)
	if err != nil {
		return CallCard{}, err
	}
	done := CallCard{
		Enterprise: in.Enterprise, Sign: in.Sign, Version: in.Version, Language: in.Language, Answers: in.Answers,
		Ending: out.Ending, Suspects: out.Suspects, Impact: out.Impact, TimeToLoss: out.TimeToLoss, Danger: out.Danger,
		Go: triage.GoNot, Sentences: []string{}, Why: strings.TrimSpace(in.Why), SentText: strings.TrimSpace(in.Text),
	}
	if e, ok := card.Ending(out.Ending); ok {
		done.Go, done.Sentences = e.Go, sentences(p, e, in.Language)
		if e.Tell {
			done.TellBy = time.Unix(0, 1) // from when it is noted
		}
	}
	return done, nil
}

// sentences are what an ending says aloud, in the order in which to say it.
func sentences(p *checklists.Pack, e checklists.TriageEnding, language string) []string {
	var out []string
	if e.Now != nil {
		out = append(out, e.Now.In(language))
	}
	out = append(out, e.Advice.In(language))
	for _, key := range e.Cautions {
		out = append(out, p.Cautions[key].In(language))
	}
	return out
}

// check bounds what a desk sends of a card.
func (g CardGiven) check() []domain.Field {
	var fields []domain.Field
	if g.Language != "en" && g.Language != "fr" {
		fields = append(fields, domain.Field{Path: "card.language", Code: "unknown", Text: "Choose en or fr."})
	}
	if len(g.Why) > callMost || len(g.Text) > callMost {
		fields = append(fields, domain.Field{Path: "card", Code: "too-long", Text: "At most 2,000 characters each."})
	}
	return fields
}

// Told notes that the veterinary service has been told, and how. It is noted
// once; what was noted stays.
func (s *Calls) Told(ctx context.Context, who Actor, callID, how string) (CallLine, error) {
	if err := who.Need(desk...); err != nil {
		return CallLine{}, err
	}
	how = strings.TrimSpace(how)
	if how == "" || len(how) > callMost {
		return CallLine{}, domain.Invalid("told-how", "Say whom you told and how, in at most 2,000 characters.",
			domain.Field{Path: "how", Code: "required", Text: "For example: district veterinary post, by phone, case noted."})
	}
	at := s.Now()
	err := s.store.InTx(ctx, func(ctx context.Context) error {
		c, err := s.store.Call(ctx, who.Scope(), who.PersonID, callID)
		if err != nil {
			return err
		}
		if err := s.store.CallCardTold(ctx, callID, who.PersonID, how, at); err != nil {
			return err
		}
		return s.record(ctx, who, at, Change{Verb: "tell", Thing: "call", ThingID: callID, FarmID: c.FarmID, After: map[string]string{"how": how}})
	})
	if err != nil {
		return CallLine{}, err
	}
	return s.line(ctx, who, callID)
}

// VetClock is a farm of which the veterinary service must be told.
type VetClock struct {
	CallID     string    `json:"call_id"`
	FarmID     string    `json:"farm_id"`
	Farm       string    `json:"farm"`
	BranchID   string    `json:"branch_id"`
	Enterprise string    `json:"enterprise"`
	Sign       string    `json:"sign"`
	TellBy     time.Time `json:"tell_by"`
}

// VetClocks are those that still run or have run out, the soonest first.
func (s *Calls) VetClocks(ctx context.Context, who Actor) ([]VetClock, error) {
	if err := who.Need(desk...); err != nil {
		return nil, err
	}
	return s.store.VetClocks(ctx, who.Scope(), callBackMost)
}

// CardReview is a veterinarian's word on one version of a card.
type CardReview struct {
	ID            string        `json:"id"`
	Enterprise    string        `json:"enterprise"`
	Sign          string        `json:"sign"`
	Version       int           `json:"version"`
	Reviewer      string        `json:"reviewer"`
	Qualification string        `json:"qualification"`
	SignedOn      calendar.Date `json:"signed_on"`
	Agrees        bool          `json:"agrees"`
	Note          string        `json:"note"`
	ByID          string        `json:"by_id"`
	At            time.Time     `json:"at"`
}
