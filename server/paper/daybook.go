package paper

import (
	"bytes"
	"fmt"
	"strconv"
	"strings"
	"time"

	"tendfold/checklists"
	"tendfold/server/app"

	"codeberg.org/go-pdf/fpdf"
)

// Daybook is the page of a unit's daybook that is filled in by hand: a row a
// field, a column a day, as the desk types it in.
type Daybook struct{ app.DaybookSheet }

type daybookWords struct {
	title, period, blank, allWell, note, written, sign, typed, on, people, call string
	weekdays                                                                    []string
}

var daybookText = map[string]daybookWords{
	"en": {
		title: "Daybook", period: "%s to %s", allWell: "All well, nothing died (tick)", note: "Note", written: "Written by", sign: "Signature or mark",
		blank: "Fill it in each evening. Leave empty what you did not look at: an empty box is not a zero. All is well and nothing died: tick the first line.",
		typed: "Typed in at the firm by", on: "On",
		people:   "A person in danger: keep away from water and fallen wires, touch nobody who is still in contact, call the emergency number, then us.",
		call:     "Trouble with the animals: call us the same day.",
		weekdays: strings.Fields("Mon Tue Wed Thu Fri Sat Sun"),
	},
	"fr": {
		title: "Cahier d’élevage", period: "du %s au %s", allWell: "Tout va bien, aucune mort (cocher)", note: "Note", written: "Rempli par", sign: "Signature ou marque",
		blank: "À remplir chaque soir. Laissez vide ce que vous n’avez pas regardé : une case vide n’est pas un zéro. Tout va bien et rien n’est mort : cochez la première ligne.",
		typed: "Saisi au cabinet par", on: "Le",
		people:   "Une personne en danger : restez loin de l’eau et des fils tombés, ne touchez pas qui est encore en contact, appelez les secours, puis nous.",
		call:     "Un problème avec les animaux : appelez-nous le jour même.",
		weekdays: strings.Fields("lun. mar. mer. jeu. ven. sam. dim."),
	},
}

// measures as a paper writes them; the others are written as they are named.
var measures = map[checklists.Measure]string{
	checklists.Percent: "%", checklists.PH: "pH", checklists.Celsius: "°C", checklists.SquareMetres: "m²", checklists.KgPerM2: "kg/m²",
	checklists.Milliamperes: "mA",
}

// Sizes of the page in millimetres: A4 by ISO 216, lying. A box is as high as
// a hand writes, and a row of words a little higher.
const (
	sheetWidth, sheetHeight = 297., 210.
	sheetMargin             = 9.
	labelWidth              = 69.
	dayWidth                = (sheetWidth - 2*sheetMargin - labelWidth) / app.PageDays
	boxHeight               = 7.2
	wordsHeight             = 10.
	labelLine, smallLine    = 3.6, 2.5
	footHeight              = 27.
)

// PDF is the page, or two where an enterprise asks for more than one holds.
func (d Daybook) PDF() ([]byte, error) {
	words, ok := daybookText[d.Language]
	if !ok {
		d.Language, words = "en", daybookText["en"]
	}
	p := daybookSheet{sheet{fpdf.NewCustom(&fpdf.InitType{OrientationStr: "L", UnitStr: "mm", Size: fpdf.SizeType{Wd: sheetHeight, Ht: sheetWidth}}), nil}, d, words}
	p.say = p.UnicodeTranslatorFromDescriptor("")
	p.SetLang(d.Language)
	p.SetTitle(words.title+", "+d.Farm+", "+d.Unit, true)
	p.SetAuthor(d.Firm, true)
	p.SetCreationDate(d.From.In(time.UTC))
	p.SetModificationDate(d.From.In(time.UTC))
	p.SetCatalogSort(true)
	p.SetMargins(sheetMargin, sheetMargin, sheetMargin)
	p.SetAutoPageBreak(false, 0)
	p.begin()
	p.row(words.allWell, "", boxHeight)
	for _, g := range d.Groups {
		for _, f := range g.Fields {
			p.field(f)
		}
	}
	p.row(words.note, "", wordsHeight)
	p.end()
	var out bytes.Buffer
	err := p.Output(&out)
	return out.Bytes(), err
}

// daybookSheet is a page of the daybook under the pen.
type daybookSheet struct {
	sheet
	of    Daybook
	words daybookWords
}

// begin starts a page: whose it is, which days, how it is filled in.
func (p daybookSheet) begin() {
	p.AddPage()
	period := fmt.Sprintf(p.words.period, day(p.of.From, p.of.Language), day(p.of.To, p.of.Language))
	p.SetFont("Helvetica", "B", 13)
	p.CellFormat(0, 6, p.say(strings.Join([]string{p.words.title, p.of.Farm, p.of.Unit}, ", ")), "", 1, "L", false, 0, "")
	p.SetFont("Helvetica", "", 9)
	p.CellFormat(0, 4.5, p.say(strings.Join(filled(p.of.Firm, p.of.Town, period), " · ")), "", 1, "L", false, 0, "")
	p.SetFont("Helvetica", "", 8)
	p.MultiCell(0, 3.6, p.say(p.words.blank), "", "L", false)
	p.Ln(1)
	p.days()
}

// days are the heads of the columns.
func (p daybookSheet) days() {
	y := p.GetY()
	p.CellFormat(labelWidth, 7.5, "", "1", 0, "L", false, 0, "")
	for i := range app.PageDays {
		on := p.of.From.Add(i)
		x := sheetMargin + labelWidth + float64(i)*dayWidth
		p.Rect(x, y, dayWidth, 7.5, "D")
		p.SetXY(x, y+0.4)
		p.SetFont("Helvetica", "", 7)
		p.CellFormat(dayWidth, 3.2, p.say(p.words.weekdays[(int(on.Weekday())+6)%7]), "", 2, "C", false, 0, "")
		p.SetFont("Helvetica", "B", 8)
		p.CellFormat(dayWidth, 3.5, p.say(dayAndMonth(on, p.of.Language)), "", 0, "C", false, 0, "")
	}
	p.SetXY(sheetMargin, y+7.5)
}

// field is the row of a field of the pack. The answers of a choice are
// numbered, so that a small box holds one.
func (p daybookSheet) field(f app.BookField) {
	name := f.Name
	if m := measureOf(f); m != "" && m != name {
		name += " (" + m + ")"
	}
	height, small := boxHeight, make([]string, len(f.Choices))
	for i, o := range f.Choices {
		small[i] = strconv.Itoa(i+1) + unbroken + o.Name
	}
	if f.Kind == checklists.TextField {
		height = wordsHeight
	}
	p.row(name, strings.Join(small, "   "), height)
}

// unbroken keeps a number on the line of its answer.
const unbroken = "\u00a0"

func measureOf(f app.BookField) string {
	if m, ok := measures[f.Measure]; ok {
		return m
	}
	return string(f.Measure)
}

// row is a label and its fourteen boxes; it goes to the next page where this
// one is full.
func (p daybookSheet) row(label, small string, height float64) {
	p.SetFont("Helvetica", "", 6.5)
	var lines [][]byte
	if small != "" {
		lines = p.SplitLines([]byte(p.say(small)), labelWidth-2)
	}
	height = max(height, labelLine+0.8+smallLine*float64(len(lines)))
	if p.GetY()+height > sheetHeight-sheetMargin-footHeight {
		p.end()
		p.begin()
	}
	y := p.GetY()
	p.Rect(sheetMargin, y, labelWidth, height, "D")
	p.SetXY(sheetMargin, y+0.5)
	p.SetFont("Helvetica", "", 8.5)
	p.CellFormat(labelWidth, labelLine, p.say(label), "", 2, "L", false, 0, "")
	p.SetFont("Helvetica", "", 6.5)
	for _, l := range lines {
		p.CellFormat(labelWidth, smallLine, string(l), "", 2, "L", false, 0, "")
	}
	for i := range app.PageDays {
		p.Rect(sheetMargin+labelWidth+float64(i)*dayWidth, y, dayWidth, height, "D")
	}
	p.SetXY(sheetMargin, y+height)
}

// end is the foot of a page: what to do in danger, whom to call, and who
// signs.
func (p daybookSheet) end() {
	p.SetXY(sheetMargin, sheetHeight-sheetMargin-footHeight+2)
	p.SetFont("Helvetica", "B", 8)
	p.MultiCell(0, 3.8, p.say(p.words.people), "", "L", false)
	p.SetFont("Helvetica", "", 8)
	var call strings.Builder
	call.WriteString(p.words.call)
	for _, a := range p.of.Advisors {
		call.WriteString(" " + a.Name + " " + a.Phone + ".")
	}
	p.MultiCell(0, 3.8, p.say(call.String()), "", "L", false)
	p.SetY(sheetHeight - sheetMargin - 9)
	width := (sheetWidth - 2*sheetMargin) / 4
	for i, label := range []string{p.words.written, p.words.sign, p.words.typed, p.words.on} {
		x := sheetMargin + float64(i)*width
		p.Line(x, sheetHeight-sheetMargin-4, x+width-4, sheetHeight-sheetMargin-4)
		p.Text(x, sheetHeight-sheetMargin-0.5, p.say(label))
	}
}

// filled are those of the texts that say something.
func filled(texts ...string) []string {
	var out []string
	for _, t := range texts {
		if t != "" {
			out = append(out, t)
		}
	}
	return out
}
