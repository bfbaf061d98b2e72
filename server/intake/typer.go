package intake

import (
	"cmp"
	"regexp"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"tendfold/checklists"
	"tendfold/domain/calendar"
	"tendfold/domain/farm"
	"tendfold/domain/programme"
	"tendfold/server/app/register"
)

// typer types the cells of one row after the other. It keeps going after a
// problem, so that a person hears of all of them at once.
type typer struct {
	table   *Table
	reading register.Reading
	lexicon lexicon
	region  string                        // where no branch says
	phones  map[[2]string]phone           // by text and region: numbers repeat, and parsing is slow
	known   map[[2]string]register.Values // words of a pack for a column, by enterprise and column

	line     line // under way
	problems []register.Problem
}

func newTyper(t *Table, in register.Reading) *typer {
	return &typer{
		table: t, reading: in, lexicon: newLexicon(in.Packs), region: regions()[in.Zone],
		phones: map[[2]string]phone{}, known: map[[2]string]register.Values{},
	}
}

func (y *typer) row(l line) register.Row {
	y.line, y.problems = l, nil
	r := register.Row{Number: l.number}
	r.Client, r.Farm, r.Unit = y.name(register.ColClient), y.name(register.ColFarm), y.name(register.ColUnit)
	r.Town, r.Landmark, r.Branch = y.text(register.ColTown), y.text(register.ColLandmark), y.text(register.ColBranch)
	r.Position = y.position()
	pack := y.pack()
	if pack != nil {
		r.Enterprise = pack.Enterprise
		r.Purpose, r.Species = y.purpose(pack), y.word(pack, register.ColSpecies)
	}
	r.Build = y.build(pack)
	y.dates(&r)
	y.animals(&r)
	y.people(&r)
	r.Refused = y.refusedAny()
	return r
}

func (y *typer) dates(r *register.Row) {
	r.StartedOn, r.StockedOn = y.date(register.ColStarted), y.date(register.ColStocked)
	r.FirstHarvestOn, r.LastVisitOn = y.date(register.ColHarvest), y.date(register.ColLastVisit)
	r.TrainedOn = y.date(register.ColTrained)
}

func (y *typer) animals(r *register.Row) {
	r.StockedCount = y.whole(register.ColCount, false)
	text, measure := withMeasure(y.text(register.ColWeight))
	if measure != "" {
		if _, ok := grams.find(measure); !ok {
			text += " " + measure
		}
	}
	r.MeanWeightG = y.number(register.ColWeight, text, bound{positive: true, most: 100_000})
}

func (y *typer) people(r *register.Row) {
	region := cmp.Or(y.country(r.Branch), y.region)
	r.ClientPhone = y.phone(register.ColClientPhone, region)
	r.Caretaker = y.text(register.ColCaretaker)
	r.CaretakerPhone = y.phone(register.ColCaretakerPhone, region)
	if r.Caretaker == "" && r.CaretakerPhone.Text != "" {
		y.flag(register.ColCaretaker, register.CaretakerNameless, nil)
	}
	r.Language = oneOf(y, register.ColLanguage, languages, register.LanguageUnknown)
	r.Status = oneOf(y, register.ColStatus, statuses, register.StatusUnknown)
}

func (y *typer) country(branch string) string {
	if y.reading.Country == nil {
		return ""
	}
	return y.reading.Country(branch)
}

func (y *typer) flag(col register.Column, code register.Code, v register.Values) {
	y.problems = append(y.problems, register.Problem{Row: y.line.number, Column: col, Severity: register.Flag, Code: code, Values: v})
}

func (y *typer) refuse(col register.Column, code register.Code, v register.Values) {
	y.problems = append(y.problems, register.Problem{Row: y.line.number, Column: col, Severity: register.Refused, Code: code, Values: v})
}

func (y *typer) refusedAny() bool {
	for _, p := range y.problems {
		if p.Severity == register.Refused {
			return true
		}
	}
	return false
}

// noValue are cells in which a person says that there is nothing to say.
var noValue = map[string]bool{"-": true, "--": true, "–": true, "—": true, "?": true, "n/a": true, "N/A": true}

// sheetError is what spreadsheets show where a formula has failed.
var sheetError = regexp.MustCompile(`^#(N/A|REF!|VALUE!|VALEUR!|NAME\?|NOM\?|DIV/0!|NULL!|NUL!|NUM!|NOMBRE!|SPILL!)$`)

// cell is what the row says in a column, "" when it is blank. Where two
// columns mean the same the first that says something is taken.
func (y *typer) cell(col register.Column) (string, position) {
	var taken string
	var at position
	for _, p := range y.table.known[col] {
		if p.at >= len(y.line.cells) {
			continue
		}
		text := clean(y.line.cells[p.at])
		switch {
		case text == "" || text == taken:
		case taken == "":
			taken, at = text, p
		default:
			y.flag(col, register.TwoValues, register.Values{"kept": taken, "value": text})
		}
	}
	return taken, at
}

// clean is a cell without what does not matter: line breaks, doubled spaces,
// the apostrophe that an export puts before what a spreadsheet would reckon.
func clean(cell string) string {
	text := unescape(strings.Join(strings.FieldsFunc(cell, func(r rune) bool {
		return unicode.IsSpace(r) || unicode.IsControl(r) || r == '\uFEFF'
	}), " "))
	if noValue[text] {
		return ""
	}
	return text
}

// text is a cell of words. One that is too long, or shows an error of the
// spreadsheet, refuses the row.
func (y *typer) text(col register.Column) string {
	text, _ := y.cell(col)
	if sheetError.MatchString(text) {
		y.refuse(col, register.CellError, register.Values{"value": text})
		return ""
	}
	if n := utf8.RuneCountInString(text); n > maxNameLength {
		y.refuse(col, register.TextTooLong, register.Values{"length": strconv.Itoa(n), "most": strconv.Itoa(maxNameLength)})
		return ""
	}
	return text
}

// name is a text that the row cannot do without.
func (y *typer) name(col register.Column) string {
	before := len(y.problems)
	text := y.text(col)
	if text == "" && len(y.problems) == before {
		y.refuse(col, register.CellRequired, nil)
	}
	return text
}

func (y *typer) date(col register.Column) calendar.Date {
	text := y.text(col)
	if text == "" {
		return 0
	}
	on, code := parseDate(text, y.table.from1904)
	switch {
	case code != "":
		y.refuse(col, code, register.Values{"value": text})
		return 0
	case on < earliest:
		y.refuse(col, register.DateTooOld, register.Values{"value": on.String(), "first": earliest.String()})
	case on > y.reading.Today:
		y.refuse(col, register.DateFuture, register.Values{"value": on.String(), "today": y.reading.Today.String()})
	}
	return on
}

// bound says what a number may be.
type bound struct {
	positive bool // 0 is not a value either
	most     float64
}

func (y *typer) number(col register.Column, text string, b bound) float64 {
	if text == "" {
		return 0
	}
	v, ok := parseNumber(text, y.table.decimalComma)
	switch {
	case !ok:
		mark := "."
		if y.table.decimalComma {
			mark = ","
		}
		y.refuse(col, register.NumberNone, register.Values{"value": text, "mark": mark})
	case b.positive && v <= 0:
		y.refuse(col, register.NumberNotPositive, register.Values{"value": text})
	case v < 0:
		y.refuse(col, register.NumberNegative, register.Values{"value": text})
	case v > b.most:
		y.refuse(col, register.NumberTooLarge, register.Values{"value": text, "most": strconv.FormatFloat(b.most, 'f', -1, 64)})
	default:
		return v
	}
	return 0
}

// mostAnimals is more than any unit holds.
const mostAnimals = 10_000_000

func (y *typer) whole(col register.Column, positive bool) int {
	text := y.text(col)
	if text == "" {
		return 0
	}
	v := y.number(col, text, bound{positive, mostAnimals})
	if n, isNumber, isWhole := parseWhole(text, y.table.decimalComma); isNumber && (isWhole || v == 0) {
		return min(max(n, 0), int(v))
	}
	if v != 0 {
		y.refuse(col, register.NumberNotWhole, register.Values{"value": text})
	}
	return 0
}

func (y *typer) position() farm.Position {
	lat, latGiven := y.degrees(register.ColLatitude, 90, register.LatitudeOff)
	lng, lngGiven := y.degrees(register.ColLongitude, 180, register.LongitudeOff)
	switch {
	case latGiven != lngGiven:
		y.flag(register.ColLatitude, register.PositionHalf, nil)
	case latGiven && lat == 0 && lng == 0:
		y.flag(register.ColLatitude, register.PositionZero, nil)
	case latGiven:
		return farm.Position{Lat: lat, Lng: lng, Known: true}
	}
	return farm.Position{}
}

// compass are the letters that may follow degrees; those west and south, in
// both languages, turn the sign.
var compass = regexp.MustCompile(`^([^°NSEWO]+?)\s*°?\s*([NSEWO]?)$`)

func (y *typer) degrees(col register.Column, most float64, off register.Code) (v float64, given bool) {
	text := y.text(col)
	if text == "" {
		return 0, false
	}
	value, side := text, ""
	if m := compass.FindStringSubmatch(strings.ToUpper(text)); m != nil {
		value, side = m[1], m[2]
	}
	v, ok := parseNumber(value, y.table.decimalComma)
	if strings.ContainsAny(side, "SWO") {
		v = -v
	}
	switch {
	case !ok:
		y.refuse(col, register.NumberNone, register.Values{"value": text, "mark": "."})
	case v < -most || v > most:
		y.refuse(col, off, register.Values{"value": text})
	}
	return v, true
}

func (y *typer) pack() *checklists.Pack {
	text := y.name(register.ColEnterprise)
	if text == "" {
		return nil
	}
	if key, ok := y.lexicon.enterprises.find(text); ok {
		return y.lexicon.packs[key]
	}
	y.refuse(register.ColEnterprise, register.EnterpriseUnknown, register.Values{
		"value": text, "known": y.lexicon.names("en"), "known_fr": y.lexicon.names("fr"),
	})
	return nil
}

// purpose keeps a word that nobody knows: the plan says what it was taken for.
func (y *typer) purpose(p *checklists.Pack) programme.Purpose {
	text := y.text(register.ColPurpose)
	if known, ok := purposes.find(text); ok {
		return known
	}
	return programme.Purpose(text)
}

// oneOf is a value of a closed list; a word outside it is left out.
func oneOf[V ~string](y *typer, col register.Column, known vocabulary[V], code register.Code) V {
	text := y.text(col)
	if text == "" {
		return ""
	}
	v, ok := known.find(text)
	if !ok {
		y.flag(col, code, register.Values{"value": text})
	}
	return v
}

func (y *typer) phone(col register.Column, region string) register.Phone {
	text := y.text(col)
	if text == "" {
		return register.Phone{}
	}
	key := [2]string{text, region}
	p, known := y.phones[key]
	if !known {
		p = parsePhone(text, region)
		y.phones[key] = p
	}
	switch p.code {
	case register.PhoneInvalid:
		y.flag(col, p.code, register.Values{"value": text})
	case register.PhoneSeveral:
		y.flag(col, p.code, register.Values{"value": text, "kept": p.Text})
	}
	return p.Phone
}
