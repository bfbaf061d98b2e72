package app

import (
	"context"
	"encoding/json"
	"fmt"
	"slices"
	"strings"
	"time"
	"unicode/utf8"

	"tendfold/checklists"
	"tendfold/domain"
	"tendfold/domain/calendar"
	"tendfold/domain/farm"
	"tendfold/domain/text"
	"tendfold/domain/ticket"
)

// TextState is what has become of a text message that came in.
type TextState string

// The states.
const (
	TextPlaced  TextState = "placed"  // it stands on a ticket, or was a command
	TextWaiting TextState = "waiting" // nobody knows whose it is: call back
	TextDealt   TextState = "dealt"   // somebody called back
)

// TextIn is a text message that came in.
type TextIn struct {
	ID         string    `json:"id"`
	GatewayID  string    `json:"-"`
	Phone      string    `json:"phone"`
	Body       string    `json:"body"`
	ReceivedAt time.Time `json:"received_at"`
	PersonID   string    `json:"person_id,omitempty"`
	FarmID     string    `json:"farm_id,omitempty"`
	TicketID   string    `json:"ticket_id,omitempty"`
	State      TextState `json:"state" enum:"placed,waiting,dealt"`
	DealtBy    string    `json:"dealt_by,omitempty"`
	DealtAt    time.Time `json:"dealt_at,omitzero"`
	Version    int       `json:"version"`
}

// PhoneFarm is a farm that a number stands for. Rank 0 is in charge there, 1
// works there, 2 owns it, 3 is the client's own number.
type PhoneFarm struct {
	FarmID   string
	PersonID string
	Rank     int
}

// textStore is what Texts needs of the database.
type textStore interface {
	Store
	Try(ctx context.Context, fn func(ctx context.Context) error) error
	AddText(ctx context.Context, t TextIn) (TextIn, bool, error)
	ChangeText(ctx context.Context, t TextIn) error
	Text(ctx context.Context, id string) (TextIn, error)
	WaitingTexts(ctx context.Context) ([]TextIn, error)
	TextsFrom(ctx context.Context, phone string, since time.Time) (int, error)
	AnswersTo(ctx context.Context, phone string, since time.Time) (int, error)
	PhoneFarms(ctx context.Context, phone string) ([]PhoneFarm, error)
	PeopleByPhone(ctx context.Context, phone string) ([]farm.Person, error)
	PeopleByIDs(ctx context.Context, ids []string) ([]farm.Person, error)
	Farm(ctx context.Context, sc Scope, id string) (FarmLine, error)
	FarmsByIDs(ctx context.Context, sc Scope, ids []string) ([]FarmLine, error)
	UnitsOf(ctx context.Context, farmIDs []string) ([]farm.Unit, error)
	TicketsOf(ctx context.Context, farmIDs []string, settledSince calendar.Date) ([]ticket.Ticket, error)
	Ticket(ctx context.Context, sc Scope, id string) (TicketLine, error)
	AppendEvents(ctx context.Context, es ...Event) ([]string, error)
	EventsSince(ctx context.Context, farmID string, since calendar.Date, kinds ...string) ([]Event, error)
	Branches(ctx context.Context) ([]farm.Branch, error)
	Firm(ctx context.Context) (farm.Firm, error)
	OptOut(ctx context.Context, phone string, at time.Time) error
	OptIn(ctx context.Context, phone string) error
}

// Texts takes text messages from any phone: the number finds the person and
// the farm, the words a sign or a count; what is not understood is a plain
// report, and what nobody knows is called back.
type Texts struct {
	Core
	store   textStore
	plans   *Plans
	tickets *Tickets
	entries *Entries
	reach   *Reach
	phone   PhoneReader
	queue   Queue
}

// NewTexts wires the use case.
func NewTexts(core Core, store textStore, plans *Plans, tickets *Tickets, entries *Entries, reach *Reach, phone PhoneReader, queue Queue) *Texts {
	return &Texts{Core: core, store: store, plans: plans, tickets: tickets, entries: entries, reach: reach, phone: phone, queue: queue}
}

// RawText is a text message as a gateway hands it over.
type RawText struct {
	ID   string // the gateway's own
	From string
	Body string
}

// Bounds of what a gateway may send, and of what one number gets answered
// (our choice): a loop between two machines ends, a family in trouble does not.
const (
	longestText  = 1600 // ten parts
	answersADay  = 12
	textsAnHour  = 60
	sameTrouble  = 72 * time.Hour
	longestTitle = 200
)

// Receive takes one text message. The same one again changes nothing and is
// answered as before.
func (s *Texts) Receive(ctx context.Context, in RawText) (TextIn, error) {
	if in.ID == "" || len(in.ID) > 200 || strings.TrimSpace(in.From) == "" || len(in.From) > 40 || len(in.Body) > longestText*4 || !utf8.ValidString(in.Body) {
		return TextIn{}, domain.Invalid("text-refused", "This is no text message.",
			domain.Field{Path: "id", Code: "required", Text: "Give the gateway's own id, the number, and at most 1,600 letters in UTF-8."})
	}
	var out TextIn
	err := s.store.InTx(ctx, func(ctx context.Context) error {
		t := TextIn{
			ID: s.NewID(), GatewayID: in.ID, Phone: s.number(ctx, in.From), Body: clean(in.Body), ReceivedAt: s.Now(), State: TextWaiting, Version: 1,
		}
		kept, added, err := s.store.AddText(ctx, t)
		if out = kept; err != nil || !added {
			return err
		}
		if err := s.place(ctx, &t); err != nil {
			return err
		}
		if err := s.store.ChangeText(ctx, t); err != nil {
			return err
		}
		t.Version++
		out = t
		return s.record(ctx, System, t.ReceivedAt, Change{Verb: "receive", Thing: "text", ThingID: t.ID, FarmID: t.FarmID, After: t.State})
	})
	return out, err
}

// clean leaves out what no database holds.
func clean(s string) string { return strings.TrimSpace(strings.ReplaceAll(s, "\x00", "")) }

// number is the number as the register writes it. One that no numbering plan
// has keeps its figures.
func (s *Texts) number(ctx context.Context, from string) string {
	from = strings.TrimSpace(from)
	if n, flagged := s.phone(from, ""); !flagged {
		return n
	}
	branches, _ := s.store.Branches(ctx) // without them the number stays as it came
	for _, b := range branches {
		if n, flagged := s.phone(from, b.Country); !flagged {
			return n
		}
	}
	digits := strings.Map(func(r rune) rune {
		if r >= '0' && r <= '9' {
			return r
		}
		return -1
	}, from)
	if len(digits) < 6 {
		return from // a short code, or a name
	}
	return "+" + digits
}

// placing is a text message on its way to its place.
type placing struct {
	*TextIn
	who   farm.Person
	farms []FarmLine // those that the number stands for, the likeliest first
	msg   text.Message
	sign  checklists.Sign
	pack  *checklists.Pack
	words reachWords
	firm  string
	quiet bool // this number has been answered often enough today
}

func (s *Texts) place(ctx context.Context, t *TextIn) error {
	p := &placing{TextIn: t}
	if err := s.know(ctx, p); err != nil {
		return err
	}
	switch {
	case p.msg.Command == text.Stop:
		t.State = TextPlaced
		if err := s.store.OptOut(ctx, t.Phone, t.ReceivedAt); err != nil {
			return err
		}
		return s.answer(ctx, p, fmt.Sprintf(p.words.stopped, p.firm), false)
	case p.msg.Command == text.Start:
		t.State = TextPlaced
		if err := s.store.OptIn(ctx, t.Phone); err != nil {
			return err
		}
		return s.answer(ctx, p, fmt.Sprintf(p.words.started, p.firm), false)
	case len(p.farms) == 0:
		return s.unknown(ctx, p)
	}
	f, sure := p.theFarm()
	if !sure && !p.sign.Danger { // a danger goes to the likeliest farm at once
		return s.askWhich(ctx, p)
	}
	return s.report(ctx, p, f)
}

// know finds out who writes, about which farms, and what is said.
func (s *Texts) know(ctx context.Context, p *placing) error {
	firm, err := s.store.Firm(ctx)
	if err != nil {
		return err
	}
	p.firm, p.words = firm.Name, wordsOf(firm.Language)
	if p.firm == "" {
		p.firm = "Tendfold"
	}
	if err := s.knowFarms(ctx, p); err != nil {
		return err
	}
	if p.who.Language != "" {
		p.words = wordsOf(p.who.Language)
	}
	packs, err := s.packsOn(ctx, p.farms)
	if err != nil {
		return err
	}
	p.read(packs)
	answers, err := s.store.AnswersTo(ctx, p.Phone, p.ReceivedAt.Add(-24*time.Hour))
	p.quiet = answers >= answersADay
	return err
}

func (s *Texts) knowFarms(ctx context.Context, p *placing) error {
	links, err := s.store.PhoneFarms(ctx, p.Phone)
	if err != nil {
		return err
	}
	var ids []string
	for _, l := range links {
		if !slices.Contains(ids, l.FarmID) {
			ids = append(ids, l.FarmID)
		}
		if p.PersonID == "" {
			p.PersonID = l.PersonID
		}
	}
	farms, err := s.store.FarmsByIDs(ctx, Everything, ids)
	if err != nil {
		return err
	}
	for _, id := range ids {
		if i := slices.IndexFunc(farms, func(f FarmLine) bool { return f.ID == id }); i >= 0 {
			p.farms = append(p.farms, farms[i])
		}
	}
	people, err := s.store.PeopleByPhone(ctx, p.Phone)
	if p.PersonID != "" {
		people, err = s.store.PeopleByIDs(ctx, []string{p.PersonID})
	}
	if err == nil && len(people) > 0 {
		p.who, p.PersonID = people[0], people[0].ID
	}
	return err
}

// packsOn are the packs of what lives on the farms; of a number that nobody
// knows all packs, so that a danger is heard all the same.
func (s *Texts) packsOn(ctx context.Context, farms []FarmLine) ([]*checklists.Pack, error) {
	ids := make([]string, len(farms))
	for i, f := range farms {
		ids[i] = f.ID
	}
	units, err := s.store.UnitsOf(ctx, ids)
	if err != nil {
		return nil, err
	}
	var names []string
	for _, u := range units {
		names = append(names, u.Enterprise)
	}
	names = append(names, s.Packs.Enterprises()...) // the farm's own win
	var out []*checklists.Pack
	for _, name := range names {
		if p, ok := s.Packs.Pack(name); ok && !slices.Contains(out, p) {
			out = append(out, p)
		}
	}
	return out, nil
}

// read understands the words. Of several signs the most urgent counts, of
// several packs the farm's own.
func (p *placing) read(packs []*checklists.Pack) {
	for _, pack := range packs {
		m := text.NewGrammar(pack.Texts...).Read(p.Body)
		if p.pack == nil {
			p.msg, p.pack = m, pack
		}
		for _, key := range m.Signs {
			sign, ok := pack.Sign(key)
			if ok && (p.sign.Key == "" || signAbove(sign, p.sign)) && (p.pack == pack || p.sign.Key == "" || sign.Danger) {
				p.sign, p.pack = sign, pack
			}
		}
	}
}

func signAbove(a, b checklists.Sign) bool {
	return urgencyOf(a).Above(urgencyOf(b))
}

func urgencyOf(s checklists.Sign) ticket.Urgency {
	if s.Danger {
		return ticket.PersonInDanger
	}
	return ticket.UrgencyOf(s.Impact, s.TimeToLoss)
}

// theFarm is the farm that is meant: the only one, or the one that is named.
func (p *placing) theFarm() (FarmLine, bool) {
	if len(p.farms) == 1 {
		return p.farms[0], true
	}
	body := " " + strings.Join(text.Words(p.Body), " ") + " "
	var named []FarmLine
	for _, f := range p.farms {
		if name := strings.Join(text.Words(f.Name), " "); name != "" && strings.Contains(body, " "+name+" ") {
			named = append(named, f)
		}
	}
	if len(named) == 1 {
		return named[0], true
	}
	return p.farms[0], false
}

// unknown leaves the message for somebody to call back; a danger is told to
// everybody who advises.
func (s *Texts) unknown(ctx context.Context, p *placing) error {
	body := fmt.Sprintf(p.words.unknown, p.firm)
	if p.sign.Danger {
		if err := s.reach.dangerUnknown(ctx, p.Phone, p.Body); err != nil {
			return err
		}
		body = p.firm + ": " + p.firstSteps()
	}
	return s.answer(ctx, p, body, p.sign.Danger)
}

func (s *Texts) askWhich(ctx context.Context, p *placing) error {
	names := make([]string, 0, 5)
	for _, f := range p.farms[:min(5, len(p.farms))] {
		names = append(names, f.Name)
	}
	return s.answer(ctx, p, fmt.Sprintf(p.words.which, p.firm, strings.Join(names, ", ")), false)
}

// firstSteps are what the caretaker's own card of the sign says, with its
// caution.
func (p *placing) firstSteps() string {
	language := p.who.Language
	out := p.sign.FirstWords.In(language)
	if c, ok := p.pack.Cautions[p.sign.Caution]; ok && p.sign.Danger {
		out += " " + c.In(language)
	}
	return out
}

// report puts the message on the farm's record: onto an open ticket about the
// same, else on a new one.
func (s *Texts) report(ctx context.Context, p *placing, f FarmLine) error {
	if err := s.queue.SweepFarm(ctx, f.ID); err != nil {
		return err
	}
	terms, err := s.plans.Terms(ctx, f.BranchID)
	if err != nil {
		return err
	}
	p.FarmID, p.State = f.ID, TextPlaced
	today := terms.Calendar.Day(p.ReceivedAt)
	if err := s.count(ctx, p, f, today); err != nil {
		return err
	}
	if open, ok, err := s.sameTicket(ctx, p, today); err != nil {
		return err
	} else if ok {
		return s.addTo(ctx, p, open)
	}
	if p.sign.Key == "" && len(p.msg.Counts) > 0 {
		return s.thanks(ctx, p, f, today) // "0 dead", "40 eggs": news, and no trouble
	}
	return s.open(ctx, p, f, terms, today)
}

// count puts what was counted into the daybook of the day, unless somebody has
// written of the day already: the fuller entry stands.
func (s *Texts) count(ctx context.Context, p *placing, f FarmLine, today calendar.Date) error {
	if len(p.msg.Counts) == 0 || !p.who.Has(farm.Caretaker) {
		return nil
	}
	days, err := s.store.EventsSince(ctx, f.ID, today, EntryDay)
	if err != nil || len(days) > 0 {
		return err
	}
	values := map[string]any{}
	for _, c := range p.msg.Counts {
		if _, ok := fieldOf([]*checklists.Pack{p.pack}, c.Field); ok {
			values[c.Field] = float64(c.N)
		}
	}
	data, err := json.Marshal(DayEntry{Values: values, Note: clip(p.Body, longestTitle)})
	if err != nil || len(values) == 0 {
		return err
	}
	who := Actor{PersonID: p.who.ID, Name: p.who.Name, Language: p.who.Language, Grants: p.who.Grants}
	_, err = s.entries.AddNow(ctx, who, Event{ID: "text-day-" + p.ID, FarmID: f.ID, Kind: EntryDay, On: today, Data: data})
	if domain.KindOf(err) == domain.KindInvalid || domain.KindOf(err) == domain.KindNotFound {
		return nil // more dead than were put in: the ticket says it, a person asks
	}
	return err
}

// thanks notes a report of nothing wrong.
func (s *Texts) thanks(ctx context.Context, p *placing, f FarmLine, today calendar.Date) error {
	return s.append(ctx, p, f, EntryNote, NoteEntry{Note: p.Body}, today)
}

func (s *Texts) append(ctx context.Context, p *placing, f FarmLine, kind string, data any, today calendar.Date) error {
	raw, err := json.Marshal(data)
	if err != nil {
		return err
	}
	_, err = s.store.AppendEvents(ctx, Event{
		ID: "text-" + p.ID, FarmID: f.ID, Kind: kind, On: today, PersonID: p.PersonID, RecordedAt: p.ReceivedAt, Evidence: true, Data: raw,
	})
	return err
}

// sameTicket is the farm's open report of the last 72 hours about the same
// sign; words without a sign belong to the latest.
func (s *Texts) sameTicket(ctx context.Context, p *placing, today calendar.Date) (TicketLine, bool, error) {
	list, err := s.store.TicketsOf(ctx, []string{p.FarmID}, today.Add(1))
	if err != nil {
		return TicketLine{}, false, err
	}
	var best ticket.Ticket
	for _, t := range list {
		same := t.Origin == ticket.FromCaretaker && t.Open() && p.ReceivedAt.Sub(t.OpenedAt) < sameTrouble && (p.sign.Key == "" && len(p.msg.Counts) == 0 || p.sign.Key == t.Subject && p.sign.Key != "")
		if same && !t.OpenedAt.Before(best.OpenedAt) {
			best = t
		}
	}
	if best.ID == "" {
		return TicketLine{}, false, nil
	}
	line, err := s.store.Ticket(ctx, Everything, best.ID)
	return line, err == nil, err
}

// addTo says it on a ticket that is there.
func (s *Texts) addTo(ctx context.Context, p *placing, line TicketLine) error {
	p.TicketID = line.ID
	who := Actor{PersonID: p.PersonID, Language: p.who.Language, Grants: p.who.Grants}
	if err := s.tickets.say(ctx, who, line, p.Body, false, p.ReceivedAt); err != nil {
		return err
	}
	body := fmt.Sprintf(p.words.onto, p.firm, line.Number)
	if p.sign.Danger {
		body += " " + p.firstSteps()
	}
	return s.answer(ctx, p, body, p.sign.Danger)
}

func (s *Texts) open(ctx context.Context, p *placing, f FarmLine, terms ticket.Terms, today calendar.Date) error {
	if err := s.append(ctx, p, f, EntryTrouble, TroubleEntry{Sign: p.sign.Key, Note: p.Body}, today); err != nil {
		return err
	}
	o := ticket.Opening{
		ID: s.NewID(), Key: ticket.Key{FarmID: f.ID, Subject: p.sign.Key}, Origin: ticket.FromCaretaker, Title: clip(p.Body, longestTitle),
		Impact: ticket.Middle, TimeToLoss: ticket.Week, EntryID: "text-" + p.ID,
	}
	if o.Title == "" {
		o.Title = "-"
	}
	if p.sign.Key != "" {
		o.Impact, o.TimeToLoss, o.Danger = p.sign.Impact, p.sign.TimeToLoss, p.sign.Danger
		o.Reasons = []domain.Reason{{Code: "sign", Values: map[string]any{"sign": p.sign.Key, "enterprise": p.pack.Enterprise}}}
	}
	p.TicketID = o.ID
	who := Actor{PersonID: p.PersonID, Language: p.who.Language, Grants: p.who.Grants}
	if err := s.tickets.open(ctx, who, f, o, p.ReceivedAt); err != nil {
		return err
	}
	t, err := s.store.Ticket(ctx, Everything, o.ID)
	if err != nil {
		return err
	}
	if len(p.Body) > longestTitle {
		if err := s.tickets.say(ctx, who, t, p.Body, false, p.ReceivedAt); err != nil {
			return err
		}
	}
	return s.answer(ctx, p, p.received(t, terms), p.sign.Danger)
}

// received is the answer to a report.
func (p *placing) received(t TicketLine, terms ticket.Terms) string {
	if p.sign.Danger {
		return fmt.Sprintf(p.words.gotDanger, p.firm, t.Number) + " " + p.firstSteps()
	}
	out := fmt.Sprintf(p.words.got, p.firm, t.Number, p.words.by(t.FirstWordBy, p.ReceivedAt, terms.Calendar.Zone()))
	if p.sign.TimeToLoss == ticket.Hours {
		out += " " + p.firstSteps()
	}
	return out
}

// answer sends a text back, unless the number has had many today; a danger is
// answered always.
func (s *Texts) answer(ctx context.Context, p *placing, body string, urgent bool) error {
	if p.quiet && !urgent {
		return nil
	}
	language := p.who.Language
	if language == "" && p.words == reachFR {
		language = "fr"
	}
	_, err := s.reach.Enqueue(ctx, Message{
		TicketID: p.TicketID, FarmID: p.FarmID, PersonID: p.PersonID, Channel: ByText, Address: p.Phone, Language: language,
		Body: body, Urgent: urgent, Answer: true,
	})
	return err
}

// clip is the beginning of a text, at a letter.
func clip(s string, most int) string {
	if len(s) <= most {
		return s
	}
	for most > 0 && !utf8.RuneStart(s[most]) {
		most--
	}
	return s[:most]
}

// Waiting are the text messages that somebody must call back about: from
// numbers that nobody knows, or about which farm nobody is sure. Whoever
// advises sees them all, because they belong to no branch yet.
func (s *Texts) Waiting(ctx context.Context, who Actor) ([]TextIn, error) {
	if err := who.Need(desk...); err != nil {
		return nil, err
	}
	list, err := s.store.WaitingTexts(ctx)
	return orEmpty(list), err
}

// Dealt says that somebody called back: about which farm it was, and which
// ticket it led to, if any.
func (s *Texts) Dealt(ctx context.Context, who Actor, id string, version int, farmID, ticketID string) (TextIn, error) {
	if err := who.Need(desk...); err != nil {
		return TextIn{}, err
	}
	var out TextIn
	err := s.store.InTx(ctx, func(ctx context.Context) error {
		t, err := s.store.Text(ctx, id)
		switch {
		case err != nil:
			return err
		case t.State == TextPlaced: // it stands on a farm's record, and its words are seen there
			return domain.NotFound("text")
		case t.Version != version:
			return domain.Stale()
		case t.State == TextDealt:
			return domain.Conflict("text-dealt", "Somebody has called back already.")
		}
		if farmID != "" {
			if _, err := s.store.Farm(ctx, who.Scope(), farmID); err != nil {
				return err
			}
		}
		if ticketID != "" {
			line, err := s.store.Ticket(ctx, who.Scope(), ticketID)
			if err != nil {
				return err
			}
			farmID = line.FarmID
		}
		was := t
		t.State, t.FarmID, t.TicketID, t.DealtBy, t.DealtAt = TextDealt, farmID, ticketID, who.PersonID, s.Now()
		if err := s.store.ChangeText(ctx, t); err != nil {
			return err
		}
		t.Version++
		out = t
		return s.record(ctx, who, s.Now(), Change{Verb: "deal", Thing: "text", ThingID: id, FarmID: farmID, Before: was.State, After: t.State})
	})
	return out, err
}
